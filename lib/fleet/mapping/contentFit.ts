/** How well the cells of a column fit what a column of ours holds: from -1 (cannot be) over 0 (says nothing) to 1. */
import type { CsvFile } from '../columnNames.js';
import { columnKind } from '../written/columnKinds.js';
import type { DatePlace } from './dateOrder.js';
import { VALUE_COLUMNS, type ValueColumn } from './dictionary.js';
import type { Profile } from './profile.js';
import type { Ties } from './ties.js';

export interface Fit {
  /** -1 to 1. */
  value: number;
  /** What speaks for it, or against it. */
  why: string | null;
  /** Only how columns hang together: worth a question where the name says nothing. */
  isHint?: boolean;
}

/** What is known of a column beside its own cells. */
export interface Surroundings {
  table: CsvFile;
  place: number;
  /** Largest share of its cells that stand in a column of another table in which each stands once; null where there is none. */
  found: { share: number; file: string } | null;
  dates: DatePlace | null;
  /** Whether it is the only column of dates, where it is one. */
  onlyDates: boolean;
  /** A table most of whose cells of some column stand in this one; null where there is none. */
  namedBy: string | null;
  ties: Ties;
  /** Columns of the table in which each text stands once. */
  keys: number;
}

const NOTHING: Fit = { value: 0, why: null };
const percent = (share: number): string => `${Math.floor(100 * share)} %`;

export function contentFit(column: string, profile: Profile, around: Surroundings): Fit {
  if (profile.filled === 0) return { value: -0.1, why: 'all its cells are empty' };
  const kind = columnKind(column);
  if (kind === 'date') return dateFit(column, profile, around);
  if (kind === 'number') return column === 'size' ? sizeFit(profile) : numberFit(column, profile);
  if (kind === 'periods')
    return /\.\./.test([...profile.texts.keys()][0] ?? '')
      ? { value: 0.5, why: 'it holds periods' }
      : against(0.7);
  if (profile.dates > 0.8 && column !== 'month') return against(0.9, 'its cells are dates');
  return wordsFit(column, profile, around);
}

function against(strength: number, why: string | null = null): Fit {
  return { value: -strength, why };
}

const EARLIER = ['fitted', 'in_service_since', 'placed', 'cured', 'start'];
const LATER = ['removed', 'out_of_service_since', 'due', 'received', 'use_by', 'end'];

function dateFit(column: string, profile: Profile, around: Surroundings): Fit {
  const { dates: place, onlyDates } = around;
  if (profile.dates < 0.5) return against(1, 'its cells are no dates');
  if (column === 'date' && onlyDates && profile.filled >= 0.9 * profile.rows && profile.dates >= 0.9)
    return { value: 0.65, why: 'it is the only column of dates' };
  if (around.table === 'positions.csv' && (place === null || place.rows < 5))
    return { value: 0.5, why: `${percent(profile.dates)} of its cells are dates`, isHint: true };
  if (place === null || place.rows < 5)
    return { value: 0.35, why: `${percent(profile.dates)} of its cells are dates` };
  const share = EARLIER.includes(column) ? place.before : LATER.includes(column) ? place.after : null;
  const other = EARLIER.includes(column) ? place.after : place.before;
  if (share === null) return { value: 0.35, why: `${percent(profile.dates)} of its cells are dates` };
  const word = EARLIER.includes(column) ? 'before' : 'after';
  if (share >= 0.9)
    return {
      value: place.rows >= 20 ? 0.65 : 0.5,
      why: `its dates are ${word} those of another column in ${percent(share)} of the rows`,
    };
  if (share < 0.3 && other > 0.7) return against(0.75, `its dates are not ${word} those of another column`);
  return { value: 0.3, why: `${percent(profile.dates)} of its cells are dates` };
}

function sizeFit(profile: Profile): Fit {
  if (profile.sizes >= 0.9)
    return { value: 0.7, why: `${percent(profile.sizes)} of its cells are nominal sizes` };
  if (profile.inches >= 0.9 && profile.most <= 24)
    return { value: 0.45, why: 'its cells are sizes of pipes in inches' };
  if (profile.numbers < 0.5 && profile.sizes < 0.5) return against(1, 'its cells are no sizes');
  return profile.sizes < 0.5 ? against(0.6, 'few of its cells are nominal sizes') : NOTHING;
}

function numberFit(column: string, profile: Profile): Fit {
  if (profile.numbers < 0.5) return against(1, 'its cells are no numbers');
  if (profile.dates > 0.8) return against(0.8, 'its cells are dates');
  if (profile.least < 0) return against(0.5, 'it has negative numbers');
  if (column === 'accessories' && profile.most > 50) return against(0.6, 'its numbers are too large');
  return {
    value: profile.numbers >= 0.95 ? 0.15 : -0.1,
    why: `${percent(profile.numbers)} of its cells are numbers`,
  };
}

function wordsFit(column: string, profile: Profile, around: Surroundings): Fit {
  if (isValueColumn(column)) return valueFit(column, profile, around);
  switch (column) {
    case 'position':
      return positionFit(profile, around);
    case 'item':
      return itemFit(profile, around);
    case 'material':
    case 'material_next':
      return materialFit(column, profile);
    case 'lot':
      return lotFit(profile, around);
    case 'order':
      return orderFit(profile, around);
    case 'month':
      return profile.months >= 0.8 || profile.dates >= 0.8
        ? { value: 0.6, why: 'its cells are months' }
        : against(0.8);
    case 'line':
      return lineFit(profile, around);
    case 'duty':
    case 'location':
      return groupFit(profile);
    case 'price_breaks':
      return /\d:\d/.test([...profile.texts.keys()][0] ?? '')
        ? { value: 0.6, why: 'it holds prices by quantity' }
        : against(0.8);
    default:
      return NOTHING;
  }
}

function isValueColumn(column: string): column is ValueColumn {
  return (VALUE_COLUMNS as string[]).includes(column);
}

const WORDS_FOR: Partial<Record<ValueColumn, string>> = {
  stop_for: 'why a line stops',
  work: 'work that was done',
};

function valueFit(column: ValueColumn, profile: Profile, { table, place, ties }: Surroundings): Fit {
  const known = profile.words[column];
  if (known >= 0.5)
    return {
      value: 0.3 + 0.5 * known,
      why: `${percent(known)} of its cells are words for ${WORDS_FOR[column] ?? `a ${column}`}`,
    };
  if (table === 'lives.csv' && AT_REMOVAL.includes(column) && ties.filledWith.has(place) && known < 0.5)
    return {
      value: 0.55,
      why: `it holds ${profile.texts.size} words, and is filled where a day of removal is`,
      isHint: true,
    };
  if (profile.texts.size > 100 && known < 0.1) return against(0.6, 'its cells hold too many different texts');
  if (profile.numbers > 0.8) return against(0.4, 'its cells are numbers');
  return known < 0.1 ? against(0.25, 'none of its words is known') : NOTHING;
}

const AT_REMOVAL: readonly ValueColumn[] = ['reason', 'finding'];

/** 1, 2, 3 and so on: numbers of rows, and no tags. */
function isRunning({ numbers, least, most, filled, texts }: Profile): boolean {
  return filled > 5 && numbers === 1 && texts.size === filled && most - least + 1 === filled;
}

function positionFit(profile: Profile, { table, place, found, namedBy, ties }: Surroundings): Fit {
  if (isRunning(profile)) return against(0.8, 'its cells number the rows');
  if (profile.elastomers > 0.5) return against(0.9, 'its cells name elastomers');
  if ((ties.inTag.get(place) ?? 0) >= 0.9)
    return against(0.7, 'its cells are a part of the tag of their row');
  const distinct = profile.texts.size / profile.filled;
  if (profile.filled < 0.8 * profile.rows) return against(0.5, 'too many of its cells are empty');
  if (table === 'positions.csv') {
    if (distinct < 0.5) return against(0.7, 'its texts repeat, and a position stands in one row');
    if (distinct >= 0.95 && namedBy !== null)
      return {
        value: 0.75,
        why: `each of its ${profile.texts.size} tags stands once, and ${namedBy} names them`,
      };
    return distinct >= 0.95 && profile.tags >= 0.5
      ? { value: 0.45, why: `each of its ${profile.texts.size} tags stands once` }
      : NOTHING;
  }
  if (found !== null && found.share >= 0.6)
    return { value: 0.8, why: `${percent(found.share)} of its cells are tags in ${found.file}` };
  const follow = ties.follow.get(place) ?? 0;
  if (follow >= 0.6)
    return {
      value: 0.8,
      why: `in ${percent(follow)} of its rows the one is fitted when the one before it is removed`,
    };
  if (found !== null) return against(0.3, `few of its cells are tags in ${found.file}`);
  return profile.tags >= 0.6 ? { value: 0.35, why: 'its cells look like tags' } : NOTHING;
}

function itemFit(profile: Profile, { table, found, keys }: Surroundings): Fit {
  if (profile.described.size >= 0.6) return against(0.9, 'its cells describe the item');
  const distinct = profile.texts.size / profile.filled;
  if (table === 'items.csv')
    if (distinct < 0.6) return against(0.6, 'its texts repeat, and an item stands in one row');
  if (table === 'items.csv' && keys === 1 && distinct >= 0.97 && profile.tags >= 0.9 && profile.filled >= 5)
    return {
      value: 0.65,
      why: 'it is the only column of which each text stands once, as a number of an item does',
    };
  if (table === 'items.csv') return { value: 0.25, why: 'each of its texts stands once' };
  if (found !== null && found.share >= 0.6)
    return { value: 0.6, why: `${percent(found.share)} of its cells are item numbers in ${found.file}` };
  return NOTHING;
}

/** Lots are of one material each, and come again. */
function lotFit({ tags, numbers, texts, filled }: Profile, { place, ties }: Surroundings): Fit {
  const again = texts.size <= 0.9 * filled;
  return ties.ofOneMaterial.has(place) && again && tags + numbers >= 0.8
    ? { value: 0.55, why: 'each of its texts comes again, with one material', isHint: true }
    : NOTHING;
}

/** Numbers of orders stand once each, and are no tags. */
function orderFit({ texts, filled, rows, tags, numbers, dates }: Profile, { found }: Surroundings): Fit {
  const once = filled >= 0.9 * rows && texts.size >= 0.95 * filled;
  return once && found === null && dates < 0.1 && tags + numbers >= 0.9
    ? { value: 0.55, why: 'each of its texts stands once', isHint: true }
    : NOTHING;
}

/** Tags often have the line in them. */
function lineFit(profile: Profile, { place, ties }: Surroundings): Fit {
  const share = ties.inTag.get(place) ?? 0;
  if (share >= 0.9 && profile.texts.size > 1 && profile.texts.size <= 0.5 * profile.filled)
    return { value: 0.7, why: `${percent(share)} of its cells stand in the tag of their row` };
  return groupFit(profile);
}

function materialFit(column: string, profile: Profile): Fit {
  if (profile.described.material >= 0.6 || profile.described.size >= 0.6)
    return against(0.9, 'its cells say more than the material');
  const strength = column === 'material' ? 0.85 : 0.4;
  if (profile.elastomers >= 0.6)
    return {
      value: strength * profile.elastomers,
      why: `${percent(profile.elastomers)} of its cells name an elastomer (ISO 1629)`,
    };
  if (profile.numbers > 0.5) return against(0.9, 'its cells are numbers');
  return profile.texts.size > Math.max(30, 0.1 * profile.filled)
    ? against(0.6, 'its cells hold too many different texts')
    : against(0.2, 'few of its cells name an elastomer');
}

/** Lines, duties and places: few texts for many rows. */
function groupFit(profile: Profile): Fit {
  if (profile.elastomers > 0.8 || profile.numbers > 0.95) return against(0.4);
  return profile.filled > 20 && profile.texts.size > 0.6 * profile.filled
    ? against(0.3, 'almost each of its texts stands once')
    : { value: 0.1, why: null };
}
