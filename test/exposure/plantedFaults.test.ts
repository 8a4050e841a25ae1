/**
 * Counters by chance with one planted fault each: how often it is recognised, and how far the counts are then off the truth. Seeds
 * were fixed before the first run; a share of 0.95 leaves room for what no rule can tell apart.
 */
import { describe, expect, it } from 'vitest';
import { type ExposedSpans, exposeSpans } from '../../lib/exposure/exposeSpans.js';
import { type RandomStream, randomStream } from '../../lib/numeric/random.js';
import { counted, type ReadingRow } from './fixtures.js';

const POSITIONS = 400;
const READINGS = 24;
const DAYS_BETWEEN = 91;

interface History {
  /** Day and true count of each reading. */
  day: number[];
  count: number[];
  perDay: number;
}

/** What the counter shows, from the truth. */
type Fault = (history: History, k: number, random: RandomStream) => number[];

/** A Poisson count, by its normal limit: means here are 450 and more. */
function rise(random: RandomStream, mean: number): number {
  return Math.round(mean + Math.sqrt(mean) * random.normal());
}

function historyOf(random: RandomStream): History {
  const perDay = 5 + 60 * random.uniform();
  const history: History = { day: [0], count: [rise(random, 2000)], perDay };
  for (let k = 1; k < READINGS; k++) {
    const day = DAYS_BETWEEN * k + random.below(20);
    // Quarters differ by a third more or less.
    const mean = perDay * (day - (history.day[k - 1] as number)) * (0.67 + 0.66 * random.uniform());
    history.day.push(day);
    history.count.push((history.count[k - 1] as number) + rise(random, mean));
  }
  return history;
}

/** Exposes all histories with a fault at a reading in the middle; the share of positions by event code, and errors of the counts. */
function planted(
  label: string,
  fault: Fault,
): { shares: Record<string, number>; worst: number; exposed: ExposedSpans } {
  const random = randomStream(25, label);
  const rows: ReadingRow[] = [];
  const truth: number[] = [];
  const spans = {
    position: new Int32Array(POSITIONS),
    from: new Float64Array(POSITIONS),
    to: new Float64Array(POSITIONS),
  };
  for (let p = 0; p < POSITIONS; p++) {
    const history = historyOf(random);
    const shown = fault(history, 8 + random.below(8), random);
    for (const [k, value] of shown.entries()) rows.push([p, history.day[k] as number, value]);
    truth.push((history.count.at(-1) as number) - (history.count[0] as number));
    spans.position[p] = p;
    spans.to[p] = history.day.at(-1) as number;
  }
  const exposed = exposeSpans(
    counted(
      rows,
      Array.from({ length: POSITIONS }, () => ({})),
    ),
    spans,
  );
  const shares = Object.fromEntries(
    exposed.findings.eventCounts.map(({ code, number }) => [code, number / POSITIONS]),
  );
  const errors = truth.map((want, p) => Math.abs((exposed.strokes.exposure[p] as number) / want - 1));
  return { shares, worst: Math.max(...errors), exposed };
}

const from = (k: number, shift: (value: number, i: number) => number) => (count: number[]) =>
  count.map((value, i) => (i < k ? value : shift(value, i)));

describe('a planted fault', () => {
  it('none: nothing is told, and the counts are the truth', () => {
    const { shares, worst } = planted('none', ({ count }) => count);
    expect(shares).toEqual({});
    // Rounding of sums.
    expect(worst).toBeLessThan(1e-12);
  });

  it('round the end: nearly always recognised, the counts off by what one quarter of 23 can be', () => {
    const { shares, worst } = planted('round', ({ count }) => {
      const end = 10 ** Math.floor(Math.log10(count.at(-1) as number));
      return count.map((value) => value % end);
    });
    // Some go round more than once. Where the quarter is far from the usual one it is taken as set to zero.
    const [round = 0, reset = 0] = [shares['rolled-over'], shares.reset];
    expect(Object.keys(shares).sort()).toEqual(['reset', 'rolled-over']);
    expect(round / (round + reset)).toBeGreaterThan(0.95);
    expect(worst).toBeLessThan(0.1);
  });

  it('set to zero: told each time', () => {
    const { shares, worst } = planted('reset', ({ count, day }, k, random) => {
      // Some time between two readings.
      const share = random.uniform();
      const [before, after] = [count[k - 1] as number, count[k] as number];
      expect(day[k]).toBeGreaterThan(day[k - 1] as number);
      return from(k, (value) => value - Math.round(before + share * (after - before)))(count);
    });
    expect((shares['rolled-over'] ?? 0) + (shares.reset ?? 0)).toBe(1);
    // At times what it showed lies as far below a power of ten as a quarter's counts: then both explain it alike.
    expect(shares.reset).toBeGreaterThan(0.95);
    expect(worst).toBeLessThan(0.1);
  });

  it('replaced by a counter with another standing, lower or a million higher', () => {
    const lower = planted('lower', ({ count }, k) =>
      from(k, (value) => value - (count[k - 1] as number) * 0.5)(count),
    );
    expect(lower.shares).toEqual({ replaced: 1 });
    expect(lower.worst).toBeLessThan(0.1);
    const higher = planted('higher', ({ count }, k) => from(k, (value) => value + 1e6)(count));
    expect(higher.shares).toEqual({ jumped: 1 });
    expect(higher.worst).toBeLessThan(0.1);
  });

  it('one reading a million too high, or without its last digit', () => {
    const high = planted('high', ({ count }, k) => count.map((value, i) => (i === k ? value + 1e6 : value)));
    expect(high.shares).toEqual({ misread: 1 });
    expect(high.worst).toBeLessThan(1e-12);
    const short = planted('short', ({ count }, k) =>
      count.map((value, i) => (i === k ? Math.floor(value / 10) : value)),
    );
    expect(short.shares.misread).toBeGreaterThan(0.95);
    expect(short.worst).toBeLessThan(0.1);
  });

  it('zero for a year: not read', () => {
    const { shares, worst } = planted('zero', ({ count }, k) =>
      count.map((value, i) => (i >= k && i < k + 4 ? 0 : value)),
    );
    expect(shares).toEqual({ 'zero-for-missing': 4 });
    expect(worst).toBeLessThan(1e-12);
  });

  it('still for a year: bridged', () => {
    const { shares, worst, exposed } = planted('still', ({ count }, k) => {
      const lost = (count[k + 3] as number) - (count[k - 1] as number);
      return from(k, (value, i) => (i < k + 4 ? (count[k - 1] as number) : value - lost))(count);
    });
    expect(shares['stood-still']).toBeGreaterThan(0.95);
    // Four quarters by rate of 23: each off by up to a third, their mean by less.
    expect(worst).toBeLessThan(0.1);
    expect(exposed.findings.counters[0]?.shareByRate).toBeCloseTo(4 / 23, 1);
  });
});
