/** Smallest extreme value lives against scipy (smallestValue.py). */
import { it } from 'vitest';
import { expectLaw } from '../lawCases.js';
import cases from './smallestValue.json' with { type: 'json' };

it.each(cases)('$model', (data) => {
  expectLaw(data, 1e-11);
});
