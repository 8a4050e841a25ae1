/** Generalised gamma lives against scipy, and in 60 digits where q is small (generalisedGamma.py). */
import { expect, it } from 'vitest';
import { cumulativeHazard } from '../../../../lib/life/distribution/index.js';
import { expectLaw } from '../lawCases.js';
import { apart } from '../samples.js';
import data from './generalisedGamma.json' with { type: 'json' };

it.each(data.cases)('$model', (one) => {
  expectLaw(one, 1e-11);
});

it.each(data.small)('q $q at w $w, both tails', ({ q, w, logSurvival, logFailed }) => {
  const model = { kind: 'generalisedGamma', mu: 0, sigma: 1, q } as const;
  const hazard = cumulativeHazard(model, Math.exp(w));
  if (logSurvival !== null) expect(apart(hazard, -logSurvival)).toBeLessThan(1e-11);
  if (logFailed !== null) expect(apart(-Math.expm1(-hazard), Math.exp(logFailed))).toBeLessThan(1e-11);
});
