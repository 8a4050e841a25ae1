/** Laws by failure mode, their incidence and the likelihood of wide intervals against R (modes.R). */
import { describe, expect, it } from 'vitest';
import { cumulativeIncidence } from '../../../../lib/life/empirical/cumulativeIncidence.js';
import { fitModes } from '../../../../lib/life/modes/fitModes.js';
import { incidenceOfModes, survivalOfModes } from '../../../../lib/life/modes/modeLaws.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import cases from './modes.json' with { type: 'json' };

const NAMES = ['early', 'leak', 'tear'];
const named = (numbers: readonly number[]): (string | null)[] =>
  numbers.map((k) => (k === 0 ? null : (NAMES[k - 1] as string)));
const near = (got: number, want: number, relative: number): void =>
  expect(Math.abs(got / want - 1)).toBeLessThan(relative);

describe('exact ages', () => {
  const { exit, mode, ages, fits, survival, incidence, withoutLaw } = cases.exact;
  const sample = lifeSample({ lower: exit, upper: exit.map((t, i) => (mode[i] === 0 ? Infinity : t)) });
  const fit = fitModes(sample, named(mode), { kinds: { tear: 'lognormal' } });

  // survreg stops at 1e-13 of the log-likelihood, which leaves seven digits of the parameters.
  it('law, covariance and likelihood of each mode as survreg', () => {
    fits.forEach((want, m) => {
      const { mode: name, fit: got } = fit.modes[m] as (typeof fit.modes)[number];
      expect(name).toBe(NAMES[m]);
      const parameter = (each: string): number =>
        got.parameters.find((one) => one.name === each)?.estimate as number;
      const lognormal = name === 'tear';
      near(parameter(lognormal ? 'mu' : 'logScale'), want.mu, 1e-7);
      near(lognormal ? parameter('logSigma') : -parameter('logShape'), want.logSigma, 1e-6);
      near(got.logLikelihood, want.logLikelihood, 1e-12);
      const [variance, , , spread] = want.covariance as [number, number, number, number];
      near(got.covariance[lognormal ? 0 : 3] as number, variance, 1e-5);
      near(got.covariance[lognormal ? 3 : 0] as number, spread, 1e-5);
    });
    near(
      fit.logLikelihood,
      fits.reduce((total, one) => total + one.logLikelihood, 0),
      1e-12,
    );
    expect(fit.together).toBe(false);
  });

  it('survival of all modes, and incidence of each by integrate', () => {
    const got = incidenceOfModes(fit.laws, ages);
    ages.forEach((age, i) => {
      near(survivalOfModes(fit.laws, age), survival[i] as number, 1e-6);
      incidence.forEach((column, m) => {
        near(got[m]?.[i] as number, column[i] as number, 1e-6);
      });
    });
  });

  it('numbers for the estimate without laws, which is that of survfit', () => {
    const curves = cumulativeIncidence(sample, fit.number);
    curves.modes.forEach(({ age, incidence: got }, m) => {
      ages.forEach((at, i) => {
        const k = age.filter((one) => one <= at).length - 1;
        expect(k < 0 ? 0 : got[k]).toBeCloseTo(withoutLaw[m]?.[i] as number, 12);
      });
    });
  });
});

describe('wide intervals', () => {
  const { lower, upper, entry, count, mode, parameters, standardErrors, logLikelihood } = cases.wide;
  const sample = lifeSample({ lower, upper: upper.map((t) => t ?? Infinity), entry, count });
  const fit = fitModes(sample, named(mode));

  // Both sides end with Newton steps by differences: eight digits.
  it('all modes together as by optim, with its standard errors', () => {
    expect(fit.together).toBe(true);
    const got = fit.modes.flatMap(({ fit: one }) => one.parameters);
    got.forEach(({ estimate, standardError }, i) => {
      expect(Math.abs(estimate - (parameters[i] as number))).toBeLessThan(1e-7);
      near(standardError, standardErrors[i] as number, 1e-6);
    });
    near(fit.logLikelihood, logLikelihood, 1e-10);
  });

  it('differs from each mode alone with the others at mid-interval by more than that', () => {
    const alone = fitModes(
      lifeSample({
        lower: lower.map((a, i) =>
          (upper[i] ?? 0) > 0 && mode[i] === 2 ? middle(a, upper[i] as number, entry[i] as number) : a,
        ),
        upper: upper.map((t, i) => (mode[i] === 2 ? Infinity : (t ?? Infinity))),
        entry,
        count,
      }),
      named(mode.map((k) => (k === 2 ? 0 : k))),
    );
    const shape = alone.modes[0]?.fit.parameters[0]?.estimate as number;
    expect(Math.abs(shape - (parameters[0] as number))).toBeGreaterThan(1e-3);
  });
});

function middle(lower: number, upper: number, entry: number): number {
  const from = Math.max(lower, entry);
  return from + (upper - from) / 2;
}
