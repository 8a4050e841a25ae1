import { describe, expect, it } from 'vitest';
import { meanLife } from '../../lib/life/distribution/functions.js';
import { lifeBounds } from '../../lib/life/estimate/bounds/bounds.js';
import { type Coordinates, type Space, spaceOf } from '../../lib/life/estimate/coordinates.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import type { FitOptions, LifeFit } from '../../lib/life/estimate/fitTypes.js';
import { lifeSample } from '../../lib/life/sample.js';
import { randomStream } from '../../lib/numeric/random.js';

interface Case {
  share: number;
  shape: number;
  early: number;
  lives: number;
}

const CASES: [string, Case][] = [
  ['many lives, few faults', { share: 0.03, shape: 2.5, early: 0.8, lives: 200 }],
  ['nearly constant rate', { share: 0.1, shape: 1.3, early: 0.7, lives: 60 }],
  ['few lives, many faults', { share: 0.2, shape: 4, early: 1.5, lives: 30 }],
  ['steep wear-out', { share: 0.1, shape: 30, early: 0.5, lives: 40 }],
];

/** Wear-out of scale 800, early leaks of scale 15, looked at up to age 900, all in a unit. */
function fitOf(
  { share, shape, early, lives }: Case,
  known: boolean,
  unit = 1,
  more: Partial<FitOptions> = {},
): LifeFit {
  const random = randomStream(31, `test/mean bounds/${share}/${shape}`);
  const ages = Array.from({ length: lives }, () => {
    const faulty = random.uniform() < share;
    const first = faulty ? 15 * (-Math.log(random.uniform())) ** (1 / early) : Infinity;
    return Math.min(first, 800 * (-Math.log(random.uniform())) ** (1 / shape));
  });
  const sample = lifeSample({
    lower: ages.map((age) => unit * Math.min(age, 900)),
    upper: ages.map((age) => (age > 900 ? Infinity : unit * age)),
  });
  const law = { shape: early, scale: 15 * unit };
  return fitLife(sample, { kind: 'weibull', fault: known ? { ...law, share } : law, ...more });
}

/** Half the 90 % quantile of chi-square with one degree of freedom. */
const DROP = 2.705543454095404 / 2;

/** Slow: the location on one side of the best at which the target has come down to a level; NaN where it never is so high. */
function locationAt(space: Space, b: number, level: number, side: 1 | -1): number {
  const target = (e: number): number => space.target({ ...space.at, b, e });
  let [best, last] = [space.at.e - 1, space.at.e + 1];
  for (let turn = 0; turn < 40; turn++) {
    const [x, y] = [best + 0.382 * (last - best), last - 0.382 * (last - best)];
    if (target(x) > target(y)) last = y;
    else best = x;
  }
  if (target(best) < level) return Number.NaN;
  let [inside, outside] = [best, best + 2 * side];
  for (let turn = 0; turn < 48; turn++) {
    const middle = 0.5 * (inside + outside);
    if (target(middle) > level) inside = middle;
    else outside = middle;
  }
  return inside;
}

/** Slow: the furthest mean on the contour, over shapes by a narrowing net. */
function furthest(fit: LifeFit, side: 1 | -1): number {
  const space = spaceOf(fit);
  const level = space.target(space.at) - DROP;
  const meanAt = (b: number): number => {
    const e = locationAt(space, b, level, side);
    return Number.isNaN(e) ? Number.NaN : meanLife(space.model({ ...space.at, b, e }));
  };
  let [centre, reach, best] = [space.at.b, 1.5, Number.NaN];
  for (let turn = 0; turn < 9; turn++) {
    for (const place of Array.from({ length: 13 }, (_, k) => centre + reach * (k / 6 - 1))) {
      const mean = meanAt(place);
      if (!(side * (mean - best) <= 0) && !Number.isNaN(mean)) [best, centre] = [mean, place];
    }
    reach /= 3;
  }
  return best;
}

describe('likelihood bounds of a mean beside fitting faults', () => {
  it.each(CASES)('%s: as a slow walk along the contour finds them', (_, each) => {
    const fit = fitOf(each, true);
    const { low, high } = lifeBounds(fit, { of: 'mean', method: 'likelihood' });
    // Both ends are flat in the shape; the mean itself is good to 1e-11.
    expect(Math.abs(low / furthest(fit, -1) - 1)).toBeLessThan(1e-8);
    expect(Math.abs(high / furthest(fit, 1) - 1)).toBeLessThan(1e-8);
  });

  it.each(CASES)('%s: no law as likely has a mean beyond them, an estimated share included', (_, each) => {
    const fit = fitOf(each, false);
    const { low, high } = lifeBounds(fit, { of: 'mean', method: 'likelihood' });
    const space = spaceOf(fit);
    const level = space.target(space.at) - DROP;
    const random = randomStream(32, 'test/mean bounds/points');
    const se = (name: string): number =>
      fit.parameters.find((parameter) => parameter.name === name)?.standardError as number;
    let [least, most] = [Infinity, 0];
    for (let k = 0; k < 3000; k++) {
      const move = (name: string): number => 2.5 * se(name) * (2 * random.uniform() - 1);
      const { b, e, s } = space.at;
      const point: Coordinates = {
        b: b + move('logShape'),
        e: e + move('logScale'),
        s: s + move('logShare'),
      };
      if (!(space.target(point) >= level)) continue;
      const mean = meanLife(space.model(point));
      [least, most] = [Math.min(least, mean), Math.max(most, mean)];
    }
    expect(least).toBeGreaterThan(low);
    expect(most).toBeLessThan(high);
    // Hundreds of points come near the ends: a tenth of the width at most is left.
    expect(least - low).toBeLessThan(0.1 * (high - low));
    expect(high - most).toBeLessThan(0.1 * (high - low));
  });

  it('with the shape given move with the scale alone', () => {
    const fit = fitOf(CASES[0]?.[1] as Case, true, 1, { shape: 2.5 });
    const mean = lifeBounds(fit, { of: 'mean', method: 'likelihood' });
    const scale = lifeBounds(fit, { of: 'scale', method: 'likelihood' });
    const space = spaceOf(fit);
    for (const end of ['low', 'high'] as const) {
      const there = meanLife(space.model({ ...space.at, e: Math.log(scale[end]) }));
      expect(Math.abs(mean[end] / there - 1)).toBeLessThan(1e-8);
    }
  });

  it.each([
    [1e-9, [true, false]],
    // Beyond 60 days no leak counts as early, and an estimated share takes its prior.
    [1e12, [true]],
  ])('go with the unit: %f', (unit, shares) => {
    for (const known of shares) {
      const of = (u: number) =>
        lifeBounds(fitOf(CASES[2]?.[1] as Case, known, u), { of: 'mean', method: 'likelihood' });
      const [days, other] = [of(1), of(unit)];
      // Estimates of a flat top agree to about 1e-7.
      expect(Math.abs(other.low / unit / days.low - 1)).toBeLessThan(1e-6);
      expect(Math.abs(other.high / unit / days.high - 1)).toBeLessThan(1e-6);
    }
  });
});
