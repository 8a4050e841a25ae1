/** What the cells of a column are like, by their distinct texts. */
import { tidyText } from '../cell.js';
import { datePartsOf, isoInOrder } from '../written/dates.js';
import { type Sightings, verdict } from '../written/evidence.js';
import { ELASTOMER, materialIn, sizeIn } from '../written/itemText.js';
import { plainNumber } from '../written/numbers.js';
import { isBlankAmount } from '../written/tidied.js';
import type { DateOrder } from '../written/types.js';
import { dnOfInches, sizeFromWords } from '../written/units.js';
import { isValueWord, VALUE_COLUMNS, type ValueColumn } from './dictionary.js';

export interface Profile {
  rows: number;
  /** Cells that hold something. */
  filled: number;
  /** Distinct texts with how many cells have each; not all of them where there are very many. */
  texts: ReadonlyMap<string, number>;
  /** Shares of the filled cells, 0 to 1. */
  dates: number;
  numbers: number;
  months: number;
  elastomers: number;
  /** Texts that name a material among other words; such that name a size with it. */
  described: { material: number; size: number };
  /** Nominal sizes DN; sizes of pipes in inches without a mark. */
  sizes: number;
  inches: number;
  /** Letters and digits together, as tags have. */
  tags: number;
  /** Words that mean something in a column of ours. */
  words: Readonly<Record<ValueColumn, number>>;
  /** Day or month first, as far as the dates tell; null where none does. */
  order: DateOrder | 'contradiction' | null;
  /** Dates that may be either. */
  either: number;
  least: number;
  most: number;
}

/** Distinct texts that are kept. */
const MOST_TEXTS = 200_000;
/** Distinct texts that are taken apart. */
const MOST_LOOKED_AT = 2_000;

export function profileOf(cells: readonly string[]): Profile {
  const texts = new Map<string, number>();
  let filled = 0;
  for (const cell of cells) {
    const text = tidyText(cell);
    if (text === '' || isBlankAmount(text)) continue;
    filled += 1;
    const before = texts.get(text);
    if (before !== undefined) texts.set(text, before + 1);
    else if (texts.size < MOST_TEXTS) texts.set(text, 1);
  }
  const looked = evenly([...texts], MOST_LOOKED_AT);
  const cellsLooked = looked.reduce((sum, [, times]) => sum + times, 0);
  const share = (is: (text: string) => boolean): number =>
    cellsLooked === 0
      ? 0
      : looked.reduce((sum, [text, times]) => sum + (is(text) ? times : 0), 0) / cellsLooked;
  const numbers = looked.map(([text]) => numberOf(text)).filter((number) => number !== null);
  return {
    rows: cells.length,
    filled,
    texts,
    dates: share(isDate),
    numbers: share((text) => numberOf(text) !== null),
    months: share((text) => MONTH.test(text)),
    elastomers: share(isElastomer),
    described: describedOf(looked, share),
    sizes: share(isSize),
    inches: share(
      (text) => numberOf(text) !== null && dnOfInches(text, text.includes(',') ? ',' : '.') !== null,
    ),
    tags: share((text) => TAG.test(text) && !isDate(text)),
    words: wordShares(looked.length > MOST_WORDS ? [] : looked, cellsLooked),
    ...orderOf(looked),
    least: numbers.reduce((least, number) => Math.min(least, number), Infinity),
    most: numbers.reduce((most, number) => Math.max(most, number), -Infinity),
  };
}

/** Up to so many of a list, spread over all of it. */
function evenly<T>(list: readonly T[], most: number): T[] {
  const step = Math.ceil(list.length / most);
  return step <= 1 ? [...list] : list.filter((_, i) => i % step === 0);
}

const MONTH =
  /^((19|20)\d\d[-/.](0?[1-9]|1[0-2])|(0?[1-9]|1[0-2])[-/.](19|20)\d\d|(19|20)\d\d(0[1-9]|1[0-2]))$/;
const TAG = /^(?=.*\d)(?=.*\p{L})\S{2,30}$/u;

/** A day; five digits alone may be any number, and are not counted. */
function isDate(text: string): boolean {
  return !/^\d+$/.test(text) || text.length === 8 ? datePartsOf(text) !== null : false;
}

/** A number in either way of writing, without a unit or a currency beside it. */
export function numberOf(text: string): number | null {
  const bare = text.replace(CURRENCY_BEFORE, '').replace(UNIT_BEHIND, '').trim();
  const plain = plainNumber(bare, '.') ?? plainNumber(bare, ',');
  return plain === null ? null : Number(plain);
}

const CURRENCY_BEFORE = /^(\p{Sc}|EUR|USD|CHF|GBP)\s*/u;
const UNIT_BEHIND = /\s*(\p{Sc}|EUR|USD|CHF|GBP|mm|%)$/u;

export function isElastomer(text: string): boolean {
  return ELASTOMER.test(text) && text.length <= 60;
}

/** A name of a part says first what it is, in one word for all of them: Diaphragm EPDM. */
function describedOf(
  texts: readonly (readonly [string, number])[],
  share: (is: (text: string) => boolean) => number,
): Profile['described'] {
  const more = (text: string): boolean => !['', text].includes(materialIn(text));
  const firsts = new Map<string, number>();
  for (const [text] of texts) {
    const first = /^\p{L}{4,}/u.exec(text)?.[0].toLowerCase() ?? '';
    firsts.set(first, (firsts.get(first) ?? 0) + 1);
  }
  const [usual = '', times = 0] = [...firsts].sort(([, a], [, b]) => b - a)[0] ?? [];
  const isShared = usual !== '' && texts.length > 1 && times >= 0.8 * texts.length && !isElastomer(usual);
  return {
    material: isShared ? share((text) => more(text) && text.toLowerCase().startsWith(usual)) : 0,
    size: share((text) => more(text) && sizeIn(text) !== ''),
  };
}

/** Sizes of ISO 6708 up to 600, and those of the smallest valves. */
const NOMINAL = new Set([
  4, 6, 8, 10, 12, 15, 20, 25, 32, 40, 50, 65, 80, 100, 125, 150, 200, 250, 300, 350, 400, 450, 500, 600,
]);

function isSize(text: string): boolean {
  if (sizeFromWords(text, '.') !== null || sizeFromWords(text, ',') !== null) return true;
  const number = numberOf(text);
  return number !== null && NOMINAL.has(number);
}

/** A column with more distinct texts holds no words of ours. */
const MOST_WORDS = 400;

function wordShares(
  texts: readonly (readonly [string, number])[],
  cells: number,
): Record<ValueColumn, number> {
  const shares = VALUE_COLUMNS.map((column) => {
    const known = texts.filter(([text]) => isValueWord(text, column));
    return [column, cells === 0 ? 0 : known.reduce((sum, [, times]) => sum + times, 0) / cells] as const;
  });
  return Object.fromEntries(shares) as Record<ValueColumn, number>;
}

function orderOf(texts: readonly (readonly [string, number])[]): Pick<Profile, 'order' | 'either'> {
  const seen: Sightings<DateOrder | 'either'> = new Map();
  const add = (what: DateOrder | 'either', times: number, text: string): void => {
    const before = seen.get(what);
    if (before === undefined) seen.set(what, { times, row: 0, column: '', text });
    else before.times += times;
  };
  for (const [text, times] of texts) {
    const parts = isDate(text) ? datePartsOf(text) : null;
    if (parts === null || parts.kind === 'certain') continue;
    const { first, second } = parts;
    if (first > 12 && second <= 12) add('day first', times, text);
    else if (second > 12 && first <= 12) add('month first', times, text);
    else if (first <= 12 && first !== second) add('either', times, text);
  }
  return {
    order: verdict<DateOrder | 'either'>(seen, 'day first', 'month first') as Profile['order'],
    either: seen.get('either')?.times ?? 0,
  };
}

/** The day that a cell names, as YYYY-MM-DD, to be put in order; null where it is none. */
export function dayOf(text: string, order: Profile['order']): string | null {
  if (text === '' || isBlankAmount(text)) return null;
  const parts = datePartsOf(text.trim());
  return parts === null ? null : isoInOrder(parts, order === 'month first' ? 'month first' : 'day first');
}
