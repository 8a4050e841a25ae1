/**
 * Tables of one kind that belong together: exports of some years each, of one line each, the sheets of a workbook. A list of things that stand once
 * (positions, items, shutdowns) is joined only with one that names others: where both name the same, one is the older.
 */
import { itemAt } from '../../numeric/columns.js';
import type { CsvFile } from '../columnNames.js';
import type { TableMatch } from './matchTables.js';
import { placeOf } from './naming.js';
import { plainWord } from './plainWord.js';

/** A further table of a kind, with the reason why it is joined. */
export interface Joined {
  match: TableMatch;
  why: string;
}

/** Columns whose texts stand once in a table. */
const ONCE: Partial<Record<CsvFile, string>> = {
  'positions.csv': 'position',
  'items.csv': 'item',
  'shutdowns.csv': 'name',
};
/** A list that shares more of its names than this with another is an older or newer one. */
const SHARED_NAMES = 0.2;
/** Parts of names that many columns have in common. */
const SAME_HEADER = 0.8;
/** As sure as this that it is of the kind, whatever its names. */
const PLAIN_KIND = 0.6;

/** Why a table is joined with the one that was chosen; null where it has to be asked. */
export function whyJoined(chosen: TableMatch, other: TableMatch): string | null {
  const key = ONCE[chosen.table];
  const shared = key === undefined ? 0 : sharedNames(chosen, other, key);
  if (shared > SHARED_NAMES) return null;
  const says = [
    sameHeader(chosen, other) ? `its header is that of ${placeOf(chosen.looked)}` : null,
    sameBarNumbers(chosen, other)
      ? `its name differs from that of ${placeOf(chosen.looked)} in numbers alone`
      : null,
  ].filter((reason) => reason !== null);
  if (says.length > 0) return says.join(', and ');
  return other.confidence >= PLAIN_KIND && !other.columns.some(({ ours, asked }) => asked && isNeeded(ours))
    ? `it is of the same kind: ${other.why}`
    : null;
}

function isNeeded(ours: string): boolean {
  return ['position', 'material', 'date', 'work', 'item'].includes(ours);
}

function sameHeader({ looked: a }: TableMatch, { looked: b }: TableMatch): boolean {
  const names = new Set(a.source.header.map((name) => plainWord(name).joined));
  const others = b.source.header.filter((name) => name.trim() !== '');
  const same = others.filter((name) => names.has(plainWord(name).joined)).length;
  return others.length > 1 && same >= SAME_HEADER * Math.max(others.length, names.size);
}

function sameBarNumbers({ looked: a }: TableMatch, { looked: b }: TableMatch): boolean {
  const bare = (name: string): string => plainWord(name.replace(/\d+/g, ' ')).joined;
  const [one, other] = [nameOf(a), nameOf(b)];
  return one !== other && bare(one) === bare(other) && /\d/.test(`${one}${other}`);
}

/** Sheets of one workbook are told apart by their names, files by theirs. */
function nameOf({ source }: TableMatch['looked']): string {
  return `${source.file} ${source.sheet ?? ''}`;
}

function sharedNames(a: TableMatch, b: TableMatch, key: string): number {
  const texts = ({ columns, looked }: TableMatch): string[] => {
    const place = columns.find(({ ours }) => ours === key)?.place;
    return place === undefined
      ? []
      : [...itemAt(looked.profiles, place).texts.keys()].map((text) => text.toLowerCase());
  };
  const [one, other] = [new Set(texts(a)), texts(b)];
  const fewer = Math.min(one.size, other.length);
  return fewer === 0 ? 0 : other.filter((text) => one.has(text)).length / fewer;
}
