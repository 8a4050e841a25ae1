/** More rows than are sorted: merged by hash, or left as they are, and searched from the best place of some of them. */
import { describe, expect, it } from 'vitest';
import { fitRegression } from '../../../lib/life/estimate/regression/fitRegression.js';
import type { RegressionFit } from '../../../lib/life/estimate/regression/types.js';
import { lifeSample } from '../../../lib/life/sample.js';
import { randomStream } from '../../../lib/numeric/random.js';

const ROWS = 24_000;
const LINES = ['a', 'b', 'c', 'd', 'e', 'f'];

function lives(round: (age: number) => number): {
  age: number[];
  upper: number[];
  line: string[];
  load: number[];
} {
  const random = randomStream(31, 'many rows');
  const line = Array.from({ length: ROWS }, () => LINES[random.below(6)] as string);
  const load = line.map(() => random.below(3));
  const life = load.map((x) => round(300 * Math.exp(0.2 * x) * (-Math.log(random.uniform())) ** 0.5));
  const age = life.map((days) => Math.min(days, 350));
  return { age, upper: life.map((days) => (days <= 350 ? days : Infinity)), line, load };
}

describe('24 000 lives', () => {
  it('in whole days are those of their distinct rows with counts', () => {
    const { age, upper, line, load } = lives((x) => Math.ceil(x / 10) * 10);
    const all = fitRegression(lifeSample({ lower: age, upper }), { line, load }, { kind: 'weibull' });
    const places = new Map<string, number>();
    const count: number[] = [];
    const first: number[] = [];
    age.forEach((_, i) => {
      const key = [age[i], upper[i], line[i], load[i]].join('/');
      const k = places.get(key) ?? count.length;
      places.set(key, k);
      if (count[k] === undefined) first.push(i);
      count[k] = (count[k] ?? 0) + 1;
    });
    const pick = <T>(column: T[]): T[] => first.map((i) => column[i] as T);
    const few = fitRegression(
      lifeSample({ lower: pick(age), upper: pick(upper), count }),
      { line: pick(line), load: pick(load) },
      { kind: 'weibull', covariance: 'plain' },
    );
    expect(first.length).toBeLessThan(2000);
    for (const [name, value] of Object.entries(few.coefficients)) {
      const error = few.standardErrors[name] as number;
      expect(Math.abs((all.coefficients[name] as number) - value)).toBeLessThan(1e-6 * error);
      expect((all.standardErrors[name] as number) / error).toBeCloseTo(1, 7);
    }
  });

  it('of distinct ages give the same as columns of zeros and ones', () => {
    const { age, upper, line, load } = lives((x) => x);
    const sample = lifeSample({ lower: age, upper });
    const byFactor = fitRegression(sample, { line, load }, { kind: 'weibull' });
    const zeroOne = LINES.slice(1).map((name) => [`is ${name}`, line.map((x) => (x === name ? 1 : 0))]);
    const byColumn = fitRegression(sample, { ...Object.fromEntries(zeroOne), load }, { kind: 'weibull' });
    const want = Object.values(byColumn.coefficients);
    const errors = Object.values(byColumn.standardErrors);
    Object.values(byFactor.coefficients).forEach((value, j) => {
      expect(Math.abs(value - (want[j] as number))).toBeLessThan(1e-6 * (errors[j] as number));
    });
    expect(byFactor.logLikelihood).toBeCloseTo(byColumn.logLikelihood, 5);
  });

  it('with a column that is far off in one row, or the same in the rows that are looked at first, are fitted all the same', () => {
    const { age, upper, line } = lives((x) => x);
    const sample = lifeSample({ lower: age, upper });
    const random = randomStream(32, 'rare');
    const plain = line.map(() => random.uniform());
    const farOff = plain.map((x, i) => (i === 12_345 ? 400 : x));
    // Every row whose place has a divisor in common with any step from the first row on is 0.
    const rare = plain.map((x, i) => (i % 2 === 1 && i % 3 !== 0 && i % 5 !== 0 && x < 0.5 ? 1 : 0));
    for (const column of [farOff, rare]) {
      const fit = fitRegression(sample, { line, column }, { kind: 'weibull' });
      // The same rows from the last to the first: others are looked at.
      const turned = lifeSample({ lower: [...age].reverse(), upper: [...upper].reverse() });
      const columns = { line: [...line].reverse(), column: [...column].reverse() };
      const again = fitRegression(turned, columns, { kind: 'weibull' });
      expectSame(fit, again);
    }
  });

  it('whose lines come in turn, so that the rows looked at first have some of them only, have the coefficients of any order', () => {
    const { age, upper } = lives((x) => x);
    const line = age.map((_, i) => LINES[i % 6] as string);
    const load = age.map((_, i) => (i * 7919) % 1000);
    const order = randomStream(33, 'order');
    const keys = age.map(() => order.uniform());
    const places = age.map((_, i) => i).sort((i, j) => (keys[i] as number) - (keys[j] as number));
    const pick = <T>(column: T[]): T[] => places.map((i) => column[i] as T);
    const inTurn = fitRegression(lifeSample({ lower: age, upper }), { line, load }, { kind: 'weibull' });
    const mixed = fitRegression(
      lifeSample({ lower: pick(age), upper: pick(upper) }),
      { line: pick(line), load: pick(load) },
      { kind: 'weibull' },
    );
    expectSame(inTurn, mixed);
  });

  it('refuse a column that follows from others, also where the first rows do not tell', () => {
    const { age, upper, line, load } = lives((x) => x);
    const sum = load.map((x, i) => 3 * x + (line[i] === 'b' ? 2 : 0));
    const run = (): unknown =>
      fitRegression(lifeSample({ lower: age, upper }), { line, load, sum }, { kind: 'weibull' });
    expect(run).toThrow(/column sum follows from/);
  });

  it('whose last text is missing are refused by row, and a name that comes last has its place in the order of names', () => {
    const { age, upper, line, load } = lives((x) => x);
    const sample = lifeSample({ lower: age, upper });
    const missing = [...line.slice(0, -1), ''];
    expect(() => fitRegression(sample, { line: missing, load }, { kind: 'weibull' })).toThrow(/row 24000/);
    const late = line.map((name, i) => (i > ROWS - 500 ? 'aa' : name));
    const fit = fitRegression(sample, { line: late, load }, { kind: 'weibull' });
    expect(Object.keys(fit.coefficients).slice(0, 3)).toEqual(['intercept', 'line=aa', 'line=b']);
    const named = fitRegression(
      sample,
      { line: late.map((name) => `${name}!`), load },
      { kind: 'weibull', reference: { line: 'f!' } },
    );
    const apart = (named.coefficients['line=aa!'] as number) - (named.coefficients['line=a!'] as number);
    expect(apart).toBeCloseTo(fit.coefficients['line=aa'] as number, 8);
  });

  it('watched from an age on have the likelihood of fewer rows with counts', () => {
    const { age, upper, line, load } = lives((x) => x);
    const entry = age.map((x, i) => (i % 3 === 0 ? x / 2 : 0));
    const once = fitRegression(lifeSample({ lower: age, upper, entry }), { line, load }, { kind: 'weibull' });
    const some = <T>(column: T[]): T[] => column.filter((_, i) => i < ROWS / 2);
    const few = lifeSample({ lower: some(age), upper: some(upper), entry: some(entry) });
    const doubled = lifeSample({
      lower: [...few.lower, ...few.lower],
      upper: [...few.upper, ...few.upper],
      entry: [...few.entry, ...few.entry],
    });
    const twice = { line: [...some(line), ...some(line)], load: [...some(load), ...some(load)] };
    const many = fitRegression(doubled, twice, { kind: 'weibull' });
    const counted = fitRegression(
      { ...few, count: few.count.map((n) => 2 * n) },
      { line: some(line), load: some(load) },
      { kind: 'weibull', covariance: 'plain' },
    );
    expectSame(many, counted);
    expect(once.coefficients.intercept).not.toBeCloseTo(many.coefficients.intercept as number, 6);
  });
});

/** Many rows stop where a step is 1e-5 of sigma long: the coefficients have its square, the errors five digits. */
function expectSame(fit: RegressionFit, again: RegressionFit): void {
  for (const [name, value] of Object.entries(fit.coefficients)) {
    const error = fit.standardErrors[name] as number;
    expect(Math.abs((again.coefficients[name] as number) - value)).toBeLessThan(1e-6 * error);
    expect(Math.abs((again.standardErrors[name] as number) / error - 1)).toBeLessThan(2e-5);
  }
  expect(Math.abs(again.logLikelihood - fit.logLikelihood)).toBeLessThan(1e-6);
}
