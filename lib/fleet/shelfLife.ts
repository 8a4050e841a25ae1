/** How long a diaphragm keeps in the store from its cure date: as items.csv says, else by the class of its elastomer. */
import type { Warning } from '../findings.js';
import { count } from '../numeric/words.js';
import type { Item } from './types.js';

export interface ShelfLife {
  /** From the cure date; null where nothing is known, and it is then taken not to expire. */
  months: number | null;
  /** 'items.csv', or the standard and the elastomer that it was read for; null where months are. */
  source: string | null;
}

/**
 * First storage periods of ISO 2230:2002, years: as a seal maker's table prints them for NBR, EPDM, FKM, VMQ and
 * polyurethane; the other names of each class from memory. Extensions after inspection are left out.
 */
const YEARS: readonly [years: number, elastomers: readonly string[]][] = [
  [5, ['NR', 'IR', 'BR', 'SBR', 'AU', 'EU']],
  [7, ['NBR', 'XNBR', 'HNBR', 'IIR', 'BIIR', 'CIIR', 'CR', 'CO', 'ECO', 'ACM']],
  [10, ['EPDM', 'EPM', 'FKM', 'FPM', 'FFKM', 'VMQ', 'MVQ', 'PVMQ', 'FVMQ', 'CSM']],
];
const COMMON_NAMES: Readonly<Record<string, string>> = {
  NITRILE: 'NBR',
  BUTYL: 'IIR',
  SILICONE: 'VMQ',
  CHLOROPRENE: 'CR',
  POLYURETHANE: 'AU',
};
/** Fluoroplastics do not age on a shelf: what they face does. */
const FACES = ['PTFE', 'TFM', 'PFA', 'FEP'];

const STANDARD = 'ISO 2230:2002, first storage period';

/** The shelf life of an item. A faced diaphragm follows its backing elastomer, and the source says so. */
export function shelfLifeOf({
  material,
  shelfLifeMonths,
}: Pick<Item, 'material' | 'shelfLifeMonths'>): ShelfLife {
  if (shelfLifeMonths !== null) return { months: shelfLifeMonths, source: 'items.csv' };
  const words = material
    .toUpperCase()
    .split(/[^A-Z]+/)
    .map((word) => COMMON_NAMES[word] ?? word);
  const found = YEARS.flatMap(([years, names]) =>
    names.filter((name) => words.includes(name)).map((elastomer) => ({ years, elastomer })),
  );
  // Of two elastomers in one name the one that keeps shorter.
  const [shortest] = found;
  if (shortest === undefined) return { months: null, source: null };
  const faced = words.some((word) => FACES.includes(word)) ? ', which backs the face' : '';
  return { months: 12 * shortest.years, source: `${STANDARD} of ${shortest.elastomer}${faced}` };
}

/** Says what was taken where items.csv gives no shelf life. */
export function shelfLifeWarning({ months, source }: ShelfLife): Warning | null {
  if (source === 'items.csv') return null;
  return {
    code: 'shelf-life-assumed',
    text:
      months === null
        ? 'No shelf life given, and its material names no elastomer with one in ISO 2230: taken not to expire.'
        : `No shelf life given: ${count(months, 'month')} taken (${source}).`,
    todo: 'Give shelf_life_months in items.csv; the use_by of a lot comes first in any case.',
  };
}
