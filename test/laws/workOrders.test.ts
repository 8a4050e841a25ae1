/** Laws of histories read from work orders, whatever the orders are. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../lib/errors.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { WORKS } from '../../lib/fleet/workOrders/types.js';
import { at, floatAt } from '../../lib/numeric/columns.js';
import { dayFromText, textFromDay } from '../../lib/numeric/day.js';
import { readFiles } from '../fleet/files.js';

const UNTIL = dayFromText('2024-06-30') as number;
const TAGS = ['V1', 'V2', 'V3'];
const POSITIONS = 'position,size,material_next\nV1,25,EPDM\nV2,25,\nV3,40,FKM\n';

const cell = (words: readonly string[], empty = 3): fc.Arbitrary<string> =>
  fc.oneof(
    { weight: empty, arbitrary: fc.constant('') },
    { weight: 7, arbitrary: fc.constantFrom(...words) },
  );
const day = fc.integer({ min: UNTIL - 900, max: UNTIL + 40 }).map(textFromDay);

const order = fc.record({
  position: fc.constantFrom(...TAGS, 'V9', 'v1', ''),
  date: fc.oneof({ weight: 20, arbitrary: day }, { weight: 1, arbitrary: fc.constantFrom('', '2023-02-30') }),
  work: fc.oneof(
    { weight: 20, arbitrary: fc.constantFrom(...WORKS) },
    { weight: 1, arbitrary: fc.constantFrom('', 'serviced') },
  ),
  material: cell(['EPDM', 'FKM', 'epdm']),
  reason: cell(['leak', 'scheduled', 'retired', 'lkea', 'unknown']),
  finding: cell(['sound', 'torn']),
  order: cell(['1', '2', '3'], 9),
});

const text = (orders: readonly Record<string, string>[]): string =>
  `position,date,work,material,reason,finding,order\n${orders
    .map((one) =>
      ['position', 'date', 'work', 'material', 'reason', 'finding', 'order']
        .map((name) => one[name] ?? '')
        .join(','),
    )
    .join('\n')}\n`;

function read(files: Record<string, string | object>): Fleet | null {
  try {
    return readFiles({ 'positions.csv': POSITIONS, ...files });
  } catch (cause) {
    if (cause instanceof InputError) return null;
    throw cause;
  }
}

/** Lives from fitting to removal or extract, and how many ended of unknown age, read order by order. */
function plainReading(orders: readonly { date: number; work: string; reason: string }[]) {
  const lives: [number, number][] = [];
  let undated = 0;
  let inPlace: number | null = null;
  for (const { date, work, reason } of [...orders].sort((a, b) => a.date - b.date)) {
    const out = ['replaced', 'opened', 'removed'].includes(work) || (work === 'fitted' && reason !== '');
    const into = ['replaced', 'opened', 'fitted'].includes(work);
    if (out && inPlace === null) undated += 1;
    if (out && inPlace !== null) lives.push([inPlace, date]);
    if (into) inPlace = date;
    else if (out) inPlace = null;
  }
  if (inPlace !== null) lives.push([inPlace, UNTIL]);
  return { dated: lives, undated };
}

/** Lives of each position with a known fitting day, in order of time. */
function dated({ lives }: Fleet, p: number): [number, number][] {
  return Array.from({ length: lives.length }, (_, i) => i)
    .filter((i) => at(lives.position, i) === p && !Number.isNaN(floatAt(lives.fitted, i)))
    .map((i): [number, number] => {
      const removed = floatAt(lives.removed, i);
      return [floatAt(lives.fitted, i), Number.isNaN(removed) ? UNTIL : removed];
    })
    .sort(([a], [b]) => a - b);
}

function holds(fleet: Fleet): void {
  const { files, problems, rowsIn, rowsUsed, rowsSetAside } = fleet.findings;
  expect(rowsIn).toBe(rowsUsed + rowsSetAside);
  for (const { file, rowsIn: all, rowsSetAside: aside } of files) {
    expect(aside).toBeLessThanOrEqual(all);
    const rows = problems.filter((one) => one.file === file && one.done === 'set aside' && one.row !== null);
    expect(rows.map(({ row }) => row).sort()).toEqual([...new Set(rows.map(({ row }) => row))].sort());
    expect(rows).toHaveLength(aside);
  }
  TAGS.forEach((_, p) => {
    const lives = dated(fleet, p);
    lives.forEach(([fitted, removed], i) => {
      expect(removed).toBeGreaterThanOrEqual(fitted);
      expect(removed).toBeLessThanOrEqual(UNTIL);
      if (i > 0) expect(fitted).toBeGreaterThanOrEqual(lives[i - 1]?.[1] ?? 0);
    });
    const running = Array.from(fleet.lives.removed).filter(
      (removed, i) => Number.isNaN(removed) && at(fleet.lives.position, i) === p,
    );
    expect(running.length).toBeLessThanOrEqual(1);
  });
}

describe('any work orders', () => {
  it('add up row by row, give lives that never overlap, and one in place at most', () => {
    let used = 0;
    fc.assert(
      fc.property(fc.array(order, { minLength: 1, maxLength: 25 }), (orders) => {
        const fleet = read({ 'work-orders.csv': text(orders) });
        if (fleet === null) return;
        used += 1;
        holds(fleet);
      }),
      { numRuns: 400, seed: 11 },
    );
    expect(used).toBeGreaterThan(250);
  });

  it('do so beside a lives.csv too', () => {
    const life = fc
      .tuple(fc.constantFrom(...TAGS), day, fc.oneof(day, fc.constant('')))
      .map(([tag, fitted, removed]) => `${tag},EPDM,${fitted},${removed}`);
    fc.assert(
      fc.property(fc.array(order, { maxLength: 15 }), fc.array(life, { maxLength: 6 }), (orders, lives) => {
        const fleet = read({
          'work-orders.csv': text(orders),
          'lives.csv': `position,material,fitted,removed\n${lives.join('\n')}\n`,
        });
        if (fleet === null) return;
        const { rowsIn, rowsUsed, rowsSetAside, problems } = fleet.findings;
        expect(rowsIn).toBe(rowsUsed + rowsSetAside);
        const aside = problems.filter(({ done, row }) => done === 'set aside' && row !== null);
        expect(aside).toHaveLength(rowsSetAside);
      }),
      { numRuns: 300, seed: 12 },
    );
  });

  it('of clean jobs cover the whole span: the ages add up to the days from the first fitting to the extract', () => {
    const days = fc.uniqueArray(fc.integer({ min: UNTIL - 3000, max: UNTIL }), {
      minLength: 1,
      maxLength: 30,
    });
    fc.assert(
      fc.property(days, fc.infiniteStream(fc.constantFrom('replaced', 'opened')), (all, works) => {
        const sorted = [...all].sort((a, b) => a - b);
        const orders = sorted.map((date, i) => ({
          position: 'V1',
          date: textFromDay(date),
          work: i === 0 ? 'fitted' : (works.next().value as string),
          material: 'EPDM',
        }));
        const fleet = readFiles({
          'positions.csv': POSITIONS,
          'work-orders.csv': text([...orders].reverse()),
        });
        const lives = dated(fleet, 0);
        expect(lives).toHaveLength(all.length);
        const ages = lives.reduce((sum, [fitted, removed]) => sum + removed - fitted, 0);
        expect(ages).toBe(UNTIL - (sorted[0] ?? 0));
        expect(fleet.findings.rowsSetAside).toBe(0);
      }),
      { numRuns: 100, seed: 13 },
    );
  });

  it('give the lives that a plain reading of them gives, one order a day', () => {
    const works = fc.constantFrom(
      'replaced',
      'opened',
      'fitted',
      'removed',
      'inspected',
      'retightened',
      'cancelled',
    );
    const orders = fc.uniqueArray(
      fc.record({
        date: fc.integer({ min: UNTIL - 900, max: UNTIL }),
        work: works,
        reason: cell(['leak', 'scheduled']),
      }),
      { minLength: 1, maxLength: 15, selector: ({ date }) => date },
    );
    let undated = 0;
    fc.assert(
      fc.property(orders, (all) => {
        const rows = all.map((one) => ({
          ...one,
          date: textFromDay(one.date),
          position: 'V1',
          material: 'EPDM',
        }));
        const fleet = read({ 'work-orders.csv': text(rows) });
        const plain = plainReading(all);
        if (fleet === null) {
          expect(plain.dated).toEqual([]);
          return;
        }
        expect(dated(fleet, 0)).toEqual(plain.dated);
        const ended = Array.from(fleet.lives.fitted).filter(
          (fitted, i) => Number.isNaN(fitted) && !Number.isNaN(floatAt(fleet.lives.removed, i)),
        );
        expect(ended).toHaveLength(plain.undated);
        undated += plain.undated;
      }),
      { numRuns: 400, seed: 15 },
    );
    expect(undated).toBeGreaterThan(100);
  });

  it('give the same lives in any order of the rows', () => {
    const clean = order.filter(({ order: number }) => number === '');
    fc.assert(
      fc.property(
        fc.uniqueArray(clean, {
          minLength: 2,
          maxLength: 12,
          selector: ({ position, date }) => `${position.toLowerCase()}/${date}`,
        }),
        fc.integer({ min: 0, max: 1e6 }),
        (orders, turn) => {
          const one = read({ 'work-orders.csv': text(orders) });
          const k = turn % orders.length;
          const two = read({ 'work-orders.csv': text([...orders.slice(k), ...orders.slice(0, k)]) });
          expect(one === null).toBe(two === null);
          if (one === null || two === null) return;
          TAGS.forEach((_, p) => {
            expect(dated(two, p)).toEqual(dated(one, p));
          });
        },
      ),
      { numRuns: 200, seed: 14 },
    );
  });
});
