/** Delayed Weibull lives against scipy (failureFree.py). */
import { it } from 'vitest';
import { expectLaw } from '../lawCases.js';
import cases from './failureFree.json' with { type: 'json' };

it.each(cases)('$model', (data) => {
  expectLaw(data, 1e-11);
});
