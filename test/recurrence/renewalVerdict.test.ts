/**
 * Renewal or not (METHODS 3.3), by simulation with seeds fixed beforehand: tests of event times reject a renewal process of parts
 * that wear out, the regression of lives does not; and it finds lives that get shorter.
 */
import { describe, expect, it } from 'vitest';
import { drawLives, meanLife } from '../../lib/life/distribution/index.js';
import { lifeSample } from '../../lib/life/sample.js';
import { randomStream } from '../../lib/numeric/random.js';
import type { WatchColumns } from '../../lib/recurrence/recurrentEvents.js';
import { type FittedLives, renewalVerdict } from '../../lib/recurrence/renewalVerdict.js';
import { trendTests } from '../../lib/recurrence/trendTests.js';

const RUNS = 400;
const POSITIONS = 50;

/** Fifty positions watched over four mean lives; each year of fitting date makes lives `perYear` times as long. */
function history(seed: number, shape: number, perYear = 1): { lives: FittedLives; events: WatchColumns } {
  const model = { kind: 'weibull', shape, scale: 900 } as const;
  const watched = 4 * meanLife(model);
  const random = randomStream(seed, 'renewal');
  const rows = {
    lower: [] as number[],
    upper: [] as number[],
    cluster: [] as number[],
    fitted: [] as number[],
  };
  const events = {
    system: [] as number[],
    end: [] as number[],
    eventSystem: [] as number[],
    eventAge: [] as number[],
  };
  for (let p = 0; p < POSITIONS; p++) {
    let day = 0;
    while (day < watched) {
      const life = (drawLives(model, 1, random)[0] as number) * perYear ** (day / 365.25);
      const sound = day + life > watched;
      rows.lower.push(sound ? watched - day : life);
      rows.upper.push(sound ? Infinity : life);
      rows.cluster.push(p);
      rows.fitted.push(day);
      day += life;
      if (!sound) {
        events.eventSystem.push(p);
        events.eventAge.push(day);
      }
    }
    events.system.push(p);
    events.end.push(watched);
  }
  return { lives: { sample: lifeSample(rows), fitted: rows.fitted }, events };
}

/** Within four standard errors of a share. */
function isShare(hits: number, want: number): void {
  expect(Math.abs(hits / RUNS - want)).toBeLessThan(4 * Math.sqrt((want * (1 - want)) / RUNS));
}

describe('under pure renewal of parts that wear out (shape 3)', () => {
  let [laplace, byDate, verdicts] = [0, 0, 0];
  for (let seed = 1; seed <= RUNS; seed++) {
    const { lives, events } = history(seed, 3);
    if (trendTests(events).laplace.pValue < 0.05) laplace++;
    const { trends, verdict } = renewalVerdict(lives);
    if ((trends[0]?.pValue ?? 1) < 0.05) byDate++;
    if (verdict === 'trend') verdicts++;
  }

  it("Laplace's test of the pooled event times rejects nearly always", () => isShare(laplace, 0.8865));
  it('the regression on fitting date rejects about as often as it says', () => isShare(byDate, 0.062));
  it('the verdict is renewal in about 95 of 100', () => isShare(verdicts, 0.05));
});

describe('where events come at a constant rate (shape 1)', () => {
  it("Laplace's test keeps its level", () => {
    let laplace = 0;
    for (let seed = 1; seed <= RUNS; seed++) {
      if (trendTests(history(seed, 1).events).laplace.pValue < 0.05) laplace++;
    }
    isShare(laplace, 0.05);
  });
});

describe('lives that get shorter by a tenth a year', () => {
  const { lives } = history(1, 3, 0.9);
  const verdict = renewalVerdict(lives);

  it('are found, with the size of the change', () => {
    expect(verdict.verdict).toBe('trend');
    const byDate = verdict.trends.find(({ by }) => by === 'fitting date');
    expect(byDate?.low).toBeLessThan(0.9);
    expect(byDate?.high).toBeGreaterThan(0.9);
    expect(byDate?.high).toBeLessThan(1);
    expect(verdict.words).toMatch(/^Lives change: they last 0\.\d+ times as long/);
  });

  it('are found whatever the order of rows', () => {
    const back = <T>(column: ArrayLike<T>): T[] => Array.from(column).reverse();
    const { lower, upper, cluster } = lives.sample;
    const sample = lifeSample({ lower: back(lower), upper: back(upper), cluster: back(cluster) });
    const again = renewalVerdict({ sample, fitted: back(lives.fitted) });
    expect(again.pValue).toBeCloseTo(verdict.pValue as number, 10);
  });
});

describe('where nothing can be told', () => {
  it('says so: few failures, few positions, all fitted at once', () => {
    const lower = Array.from({ length: 20 }, (_, i) => 100 + 7 * i);
    const day = lower.map((_, i) => i);
    const few = lifeSample({ lower, upper: lower.map((t, i) => (i < 9 ? t : Infinity)) });
    expect(renewalVerdict({ sample: few, fitted: day }).words).toContain('fewer than 10 lives');
    const one = lifeSample({ lower, upper: lower, cluster: lower.map(() => 'A') });
    expect(renewalVerdict({ sample: one, fitted: day }).words).toContain('fewer than 10 positions');
    const sample = lifeSample({ lower, upper: lower });
    const at = renewalVerdict({ sample, fitted: lower.map(() => 5) });
    expect(at.verdict).toBe('cannot tell');
    expect(at.words).toContain('all lives have one fitting date');
    expect(renewalVerdict({ sample, fitted: day }).trends.map(({ by }) => by)).toEqual(['fitting date']);
  });

  it('refuses nonsense', () => {
    const lower = Array.from({ length: 20 }, (_, i) => 100 + 7 * i);
    const sample = lifeSample({ lower, upper: lower });
    expect(() => renewalVerdict({ sample, fitted: [1, 2] })).toThrow(/as long as the sample/);
    expect(() => renewalVerdict({ sample, fitted: lower.map(() => Number.NaN) })).toThrow(/row 1: fitted/);
    const fitted = lower.map((_, i) => i);
    expect(() => renewalVerdict({ sample, fitted, lifeNumber: fitted })).toThrow(
      /lifeNumber must be 1 or more/,
    );
  });
});

describe('trend tests', () => {
  it('say what they test', () => {
    const tests = trendTests({ system: [1], end: [10], eventSystem: [1, 1], eventAge: [5, 5] });
    expect(tests.meaning).toContain('test a constant rate, not renewal');
    expect(tests.laplace).toEqual({ statistic: 0, pValue: 1, direction: 'none' });
    expect(tests.handbook.statistic).toBeCloseTo(4 * Math.LN2, 12);
  });

  it('measure from where watching began', () => {
    const late = trendTests({ system: [1], start: [100], end: [200], eventSystem: [1], eventAge: [175] });
    expect(late.laplace.statistic).toBeCloseTo(0.25 / Math.sqrt(1 / 12), 12);
    expect(late.handbook.statistic).toBeCloseTo(-2 * Math.log(0.75), 12);
    expect(late.laplace.direction).toBe('more often');
  });

  it('refuse a history without events that chance places', () => {
    const one = { system: [1], end: [10], eventSystem: [1], eventAge: [10] };
    expect(() => trendTests(one, { endedBy: 'failure' })).toThrow(/no events/);
  });
});
