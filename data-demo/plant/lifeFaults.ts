/**
 * Ordinary mistakes in lives.csv, each put in on purpose and listed. They strike rows by chance, whatever the life was,
 * and at most one row of a position, so that each can be found and told from the others.
 */
import { dayFromText, textFromDay } from '../../lib/numeric/day.js';
import type { RandomStream } from '../../lib/numeric/random.js';
import { shuffled } from './draws.js';
import type { Row, TrueLife } from './types.js';

/** A row on its way into the file, with the mistake in it. */
export interface Entry {
  row: Row;
  life: TrueLife;
  fault: { code: string; column: string | null; what: string } | null;
}

interface Mistake {
  code: string;
  column: string | null;
  what: string;
  /** Share of all rows. */
  share: number;
  /** Whether it can be made in this row. */
  fits: (row: Row) => boolean;
  spoil: (row: Row, random: RandomStream) => Row;
}

const isEnded = (row: Row): boolean => row.removed !== '';
const isDated = (row: Row): boolean => row.fitted !== '';
const isWhole = (row: Row): boolean => isEnded(row) && isDated(row);
const hasReason = (row: Row): boolean => row.reason !== '' && row.reason !== 'unknown';

const MISTAKES: readonly Mistake[] = [
  {
    code: 'removed-before-fitted',
    column: 'removed',
    what: 'fitted and removed swapped',
    share: 0.015,
    fits: (row) => isWhole(row) && row.fitted !== row.removed,
    spoil: (row) => ({ ...row, fitted: row.removed ?? '', removed: row.fitted ?? '', last_tight: '' }),
  },
  {
    code: 'material-missing',
    column: 'material',
    what: 'material left empty',
    share: 0.01,
    fits: () => true,
    spoil: (row) => ({ ...row, material: '' }),
  },
  {
    code: 'position-unknown',
    column: 'position',
    what: 'tag mistyped',
    share: 0.006,
    fits: (row) => (row.position ?? '').includes('-V') && !(row.position ?? '').includes(','),
    spoil: (row) => ({ ...row, position: (row.position ?? '').replace('-V', '-W') }),
  },
  {
    code: 'fitted-after-data',
    column: 'fitted',
    what: 'year of fitting mistyped into the future',
    share: 0.004,
    fits: isDated,
    spoil: (row) => ({
      ...row,
      fitted: `20${'67'.charAt(Number(row.fitted?.charAt(3)) % 2)}${row.fitted?.slice(3)}`,
    }),
  },
  {
    code: 'removed-after-data',
    column: 'removed',
    what: 'year of removal mistyped into the future',
    share: 0.003,
    fits: (row) => isWhole(row) && row.last_tight === '',
    spoil: (row) => ({ ...row, removed: `205${row.removed?.slice(3)}` }),
  },
  {
    code: 'date-does-not-exist',
    column: 'removed',
    what: 'removed on the 31st of a month of 30 days',
    share: 0.004,
    fits: (row) => isEnded(row) && /-(04|06|09|11)-/.test(row.removed ?? ''),
    spoil: (row) => ({ ...row, removed: `${row.removed?.slice(0, 8)}31` }),
  },
  {
    code: 'date-format',
    column: 'fitted',
    what: 'date of fitting written day first',
    share: 0.006,
    fits: isDated,
    spoil: (row) => ({ ...row, fitted: (row.fitted ?? '').split('-').reverse().join('/') }),
  },
  {
    code: 'removal-date-missing',
    column: 'removed',
    what: 'date of removal left empty, reason given',
    share: 0.005,
    fits: (row) => isWhole(row) && hasReason(row),
    spoil: (row) => ({ ...row, removed: '', last_tight: '' }),
  },
  {
    code: 'two-running-lives',
    column: 'fitted',
    what: 'removal not booked: date, reason and finding left empty',
    share: 0.004,
    fits: isWhole,
    spoil: (row) => ({ ...row, removed: '', reason: '', finding: '', last_tight: '', recorded: '' }),
  },
  {
    code: 'word-unknown',
    column: 'finding',
    what: 'finding in a word that is not on the list',
    share: 0.004,
    fits: (row) => isEnded(row) && row.finding !== '',
    spoil: (row) => ({ ...row, finding: 'perished' }),
  },
];

const DUPLICATE_SHARE = 0.03;
const OVERLAP_SHARE = 0.005;

/** The rows with mistakes in them, in a new order of the file: repeated rows stand a little below the first ones. */
export function spoilLives(random: RandomStream, entries: readonly Entry[]): Entry[] {
  const used = new Set<number>();
  const spoiled = MISTAKES.reduce<Entry[]>(
    (list, mistake) => makeMistake(random.fork(mistake.code), list, mistake, used),
    [...entries],
  );
  const more = [
    ...overlapping(random.fork('lives-overlap'), spoiled, used),
    ...repeated(random.fork('life-duplicate'), spoiled),
  ];
  return insertedBelow(random.fork('order'), spoiled, more);
}

/** Makes one kind of mistake in its share of the rows. */
function makeMistake(random: RandomStream, entries: Entry[], mistake: Mistake, used: Set<number>): Entry[] {
  const wanted = Math.round(mistake.share * entries.length);
  const chosen = new Set<Entry>();
  for (const entry of shuffled(random, entries)) {
    if (chosen.size === wanted) break;
    const { index, retired } = entry.life.position;
    // A position that ends, or whose diaphragm in place has no known day, is read by other rules: it is left in order.
    if (entry.fault !== null || used.has(index) || retired !== null || !mistake.fits(entry.row)) continue;
    if (mistake.code === 'two-running-lives' && !hasDatedRunning(entries, index)) continue;
    used.add(index);
    chosen.add(entry);
  }
  const { code, column, what } = mistake;
  return entries.map((entry) =>
    chosen.has(entry)
      ? { ...entry, row: mistake.spoil(entry.row, random), fault: { code, column, what } }
      : entry,
  );
}

function hasDatedRunning(entries: readonly Entry[], index: number): boolean {
  return entries.some(
    ({ row, life }) => life.position.index === index && row.removed === '' && row.fitted !== '',
  );
}

/** Rows that repeat another in all but the day they were written. */
function repeated(random: RandomStream, entries: readonly Entry[]): [Entry, Entry][] {
  const sound = entries.filter(({ fault }) => fault === null);
  const fault = { code: 'life-duplicate', column: null, what: 'row booked twice' };
  return shuffled(random, sound)
    .slice(0, Math.round(DUPLICATE_SHARE * entries.length))
    .map((entry) => [entry, { ...entry, fault }]);
}

/** Rows booked to a wrong tag: a life from the middle of one diaphragm's time to the middle of the next one's. */
function overlapping(random: RandomStream, entries: readonly Entry[], used: Set<number>): [Entry, Entry][] {
  const byPosition = new Map<number, Entry[]>();
  for (const entry of entries) {
    const { index } = entry.life.position;
    byPosition.set(index, [...(byPosition.get(index) ?? []), entry]);
  }
  const found: [Entry, Entry][] = [];
  for (const [index, own] of shuffled(random, [...byPosition])) {
    if (found.length === Math.round(OVERLAP_SHARE * entries.length)) break;
    const pairs = own.slice(1).flatMap((second, i) => pairOf(own[i] as Entry, second));
    if (used.has(index) || own[0]?.life.position.retired !== null || pairs.length === 0) continue;
    used.add(index);
    found.push(pairs[random.below(pairs.length)] as [Entry, Entry]);
  }
  return found;
}

/** A row across the end of the first life and the beginning of the second, both of them sound and a month long. */
function pairOf(first: Entry, second: Entry): [Entry, Entry][] {
  if (first.fault !== null || second.fault !== null || !isWhole(first.row) || !isWhole(second.row)) return [];
  const [a, b] = [spanOf(first.row), spanOf(second.row)];
  if (a.end !== b.start || a.end - a.start < 30 || b.end - b.start < 30) return [];
  const fault = { code: 'lives-overlap', column: 'fitted', what: 'row booked to a wrong tag' };
  const dates = { fitted: middle(a), removed: middle(b), last_tight: '', recorded: '' };
  const row = { ...second.row, ...dates, reason: 'scheduled', finding: 'sound' };
  return [[second, { row, life: second.life, fault }]];
}

function spanOf({ fitted = '', removed = '' }: Row): { start: number; end: number } {
  return { start: dayFromText(fitted) ?? Number.NaN, end: dayFromText(removed) ?? Number.NaN };
}

function middle({ start, end }: { start: number; end: number }): string {
  return textFromDay(Math.floor((start + end) / 2));
}

/** New rows one to nine rows below the row they belong to. */
function insertedBelow(
  random: RandomStream,
  entries: readonly Entry[],
  more: readonly [Entry, Entry][],
): Entry[] {
  const place = new Map(entries.map((entry, i) => [entry, i]));
  const keyed = entries.map((entry, i) => ({ entry, key: i }));
  for (const [below, entry] of more) {
    keyed.push({ entry, key: (place.get(below) ?? 0) + random.below(9) + 0.5 });
  }
  return keyed.sort((a, b) => a.key - b.key).map(({ entry }) => entry);
}
