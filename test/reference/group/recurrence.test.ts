/**
 * Leaks that come again at a small plant with positions that come late, pause and leave: mean cumulative numbers with robust bounds by R's
 * survfit, and expected leaks, shares, ranges, tests and trends of lives from definitions written out in recurrence.R.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Reason } from '../../../lib/fleet/types.js';
import { findRecurrence } from '../../../lib/group/recurrence/findRecurrence.js';
import type { LeakCurve, LineLeaks } from '../../../lib/group/recurrence/types.js';
import { textFromDay } from '../../../lib/numeric/day.js';
import { fleetOf, position } from '../../group/plant.js';
import { followedFleet } from '../../group/recurrence/followedFleet.js';

interface Curve {
  day: number[];
  mean: number[];
  low: number[];
  high: number[];
}

const kept = JSON.parse(readFileSync(new URL('recurrence.json', import.meta.url), 'utf8'));
const { fleet: given } = kept;
const REASON: readonly Reason[] = ['unknown', 'leak', 'scheduled', 'retired'];

const positions = given.line.map((line: string, p: number) =>
  position(`V${p}`, 25, {
    line,
    inServiceSince: given.since[p],
    outOfServiceSince: given.out[p],
    idle: given.idleFrom[p] === null ? [] : [{ start: given.idleFrom[p], end: given.idleTo[p] }],
  }),
);
const lives = given.position.map((p: number, i: number) => ({
  position: p,
  material: 'EPDM',
  size: 25,
  fitted: given.fitted[i],
  removed: given.removed[i],
  reason: REASON[given.why[i]],
}));
const plain = fleetOf(positions, lives, given.from);
const fleet = { ...plain, site: { ...plain.site, dataUntil: given.until } };
const found = findRecurrence(fleet, followedFleet(fleet));

/** Both sum the same terms in doubles. */
const SUMS = 1e-10;
/** Roots are searched to 1e-8 of their logarithm; uniroot to 1e-12. */
const ROOTS = 1e-6;

function near(
  values: readonly (number | null | undefined)[],
  wanted: readonly number[],
  tolerance: number,
): void {
  expect(values).toHaveLength(wanted.length);
  wanted.forEach((value, i) => {
    expect(Math.abs((values[i] as number) - value)).toBeLessThanOrEqual(tolerance * Math.abs(value));
  });
}

function sameCurve(curve: LeakCurve | null, wanted: Curve): void {
  expect(curve?.day).toEqual(wanted.day.map(textFromDay));
  for (const column of ['mean', 'low', 'high'] as const) near(curve?.[column] ?? [], wanted[column], 1e-9);
}

describe('the plant', () => {
  it('has the mean cumulative number of survfit, with its robust bounds', () =>
    sameCurve(found.plant.curve, kept.plant));
  it('leaves out the leak on an idle day, and says so', () => {
    expect(kept.leftOut).toBe(1);
    expect(found.notes[0]).toMatch(/^1 leak falls on days/);
  });
  it('has the spread between positions of a line', () => near([found.spread], [kept.spread], 1e-9));
});

describe.each(['A', 'B', 'C', 'D'])('line %s', (name) => {
  const line = found.lines.find((each) => each.line === name) as LineLeaks;
  const wanted = kept.lines[name];

  it('has the mean cumulative number of survfit, with its robust bounds', () =>
    sameCurve(line.curve, wanted.curve));
  it('has its leaks, its rate and their range', () => {
    expect(line.leaks).toBe(wanted.leaks);
    near([line.years], [wanted.years], SUMS);
    near([line.perYear?.estimate, line.perYear?.low, line.perYear?.high], wanted.rate, ROOTS);
  });
  it('is compared with the others', () => {
    near([line.expected], [wanted.expected], 1e-9);
    near([line.p], [wanted.p], 1e-8);
    near([line.times?.estimate, line.times?.low, line.times?.high], wanted.times, ROOTS);
  });
  it("has Laplace's and the chi-square test", () =>
    near([line.trend?.laplace, line.trend?.chiSquare], [wanted.laplace, wanted.chiSquare], 1e-8));
});

it('lives get shorter, by fitting date and by life number, with position-robust bounds', () => {
  const { trends, verdict } = found.renewal.plant;
  expect(verdict).toBe('trend');
  trends.forEach(({ ratio, low, high, pValue }, i) => {
    const [r, l, h, p] = i === 0 ? kept.trends.date : kept.trends.number;
    // R's scores are differences over 1e-5 of the log-likelihood, whose rounding leaves 1e-10 of them, and twice differenced 1e-5 of an error.
    near([ratio, low, high], [r, l, h], 1e-6);
    near([Math.log(pValue)], [Math.log(p)], 1e-3);
  });
});
