/** Gamma lives against scipy (gamma.py). */
import { it } from 'vitest';
import { expectLaw } from '../lawCases.js';
import cases from './gamma.json' with { type: 'json' };

it.each(cases)('$model', (data) => {
  expectLaw(data, 1e-11);
});
