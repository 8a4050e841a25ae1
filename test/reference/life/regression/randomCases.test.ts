/** Two hundred small regressions of random lives against R survreg (randomCases.R), which draws the same lives. */
import { describe, expect, it } from 'vitest';
import { fitRegression } from '../../../../lib/life/estimate/regression/fitRegression.js';
import type { Covariates, RegressionOptions } from '../../../../lib/life/estimate/regression/types.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import type { LifeSample } from '../../../../lib/life/sampleTypes.js';
import reference from './randomCases.json' with { type: 'json' };

const KINDS = ['weibull', 'exponential', 'lognormal', 'loglogistic'] as const;
/** In standard errors: R stops where the log-likelihood changes by less than 1e-13 of itself, and ten digits are kept. */
const TOLERANCE = 2e-5;

interface Drawn {
  sample: LifeSample;
  covariates: Covariates;
  kind: RegressionOptions['kind'];
  unit: number;
  size: number;
}

/** The lives of case k, line by line as in randomCases.R. */
function drawn(k: number): Drawn {
  let state = 1000 + k;
  const draw = (): number => {
    state = (16_807 * state) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  for (let i = 0; i < 10; i++) draw();
  const rows = 30 + Math.floor(40 * draw());
  const levels = 2 + (k % 6);
  const unit = 10 ** ((k % 22) - 9);
  const size = 10 ** (((7 * k) % 22) - 9);
  const shape = Math.exp(2 * draw() - 0.5);
  const [lower, upper, x, count, f]: [number[], number[], number[], number[], string[]] = [
    [],
    [],
    [],
    [],
    [],
  ];
  for (let i = 0; i < rows; i++) {
    const load = 2 * draw() - 1;
    const level = i % levels;
    const life = 1000 * Math.exp(0.5 * load + 0.2 * level) * (-Math.log(draw())) ** (1 / shape);
    let how = Math.floor(5 * draw());
    if (k % 3 === 0) how %= 3;
    lower.push(([1, 1, 0.7, 0, 0.8][how] as number) * life * unit);
    upper.push(([1, 1, Infinity, 1.4, 1.3][how] as number) * life * unit);
    x.push(load * size);
    f.push(`level ${level}`);
    count.push(1 + Math.floor(3 * draw()));
  }
  const kind = KINDS[k % 4] as RegressionOptions['kind'];
  return { sample: lifeSample({ lower, upper, count }), covariates: { x, f }, kind, unit, size };
}

describe('random lives in units from 1e-9 to 1e12', () => {
  const values = reference as readonly (readonly number[] | null)[];

  it('are settled by R in every case', () => {
    expect(values.filter((value) => value !== null).length).toBe(200);
  });

  it.each([0, 1, 2, 3])('coefficients and standard errors of every fourth case from %s on', (from) => {
    for (let k = 1 + from; k <= values.length; k += 4) {
      const want = values[k - 1] as readonly number[];
      const { sample, covariates, kind, unit, size } = drawn(k);
      const fit = fitRegression(sample, covariates, { kind, failuresPerCoefficient: 0, covariance: 'plain' });
      const { intercept, x, ...rest } = fit.coefficients;
      const got = [(intercept as number) - Math.log(unit), (x as number) * size, ...Object.values(rest)];
      const { x: xError, intercept: first, ...others } = fit.standardErrors;
      const errors = [first as number, (xError as number) * size, ...Object.values(others)];
      expect(want.length).toBe(2 * got.length);
      got.forEach((value, j) => {
        const error = want[got.length + j] as number;
        expect(Math.abs(value - (want[j] as number)) / error, `case ${k}, place ${j}`).toBeLessThan(
          TOLERANCE,
        );
        expect(Math.abs((errors[j] as number) / error - 1), `case ${k}, error ${j}`).toBeLessThan(TOLERANCE);
      });
    }
  });
});
