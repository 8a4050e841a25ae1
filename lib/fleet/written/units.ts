/** Amounts written in another unit than that of the documentation, and sizes written as pipes have them. */

/** Nominal sizes in inches and their DN (ISO 6708 with ASME B36.10M, from memory). */
const DN_OF_INCH: readonly [number, number][] = [
  [0.25, 8],
  [0.375, 10],
  [0.5, 15],
  [0.75, 20],
  [1, 25],
  [1.25, 32],
  [1.5, 40],
  [2, 50],
  [2.5, 65],
  [3, 80],
  [4, 100],
  [5, 125],
  [6, 150],
  [8, 200],
  [10, 250],
  [12, 300],
];

const DN = /^(?:DN|ND)\s*(\d+(?:[.,]\d+)?)$/i;
const INCH_MARK = /\s*(?:"|''|″|”|in\.?|inch(?:es)?|zoll|pouces?)$/i;
const MIXED = /^(?:(\d+)[ -])?(\d+)\/(\d+)$/;

/** The DN of 'DN 25' or of an inch size with its mark ('1 1/2"'); null where the text is none of these. */
export function sizeFromWords(text: string, decimal: '.' | ','): string | null {
  const dn = DN.exec(text);
  if (dn !== null) return (dn[1] ?? '').replace(',', '.');
  if (!INCH_MARK.test(text)) return null;
  return dnOfInches(text.replace(INCH_MARK, ''), decimal);
}

/** The DN of an inch size such as '1 1/2', '1.5' or '3/4'; null where there is none. */
export function dnOfInches(text: string, decimal: '.' | ','): string | null {
  const mixed = MIXED.exec(text.trim());
  const inches =
    mixed === null
      ? Number(decimal === ',' ? text.replace(',', '.') : text)
      : Number(mixed[1] ?? 0) + Number(mixed[2]) / Number(mixed[3]);
  const found = DN_OF_INCH.find(([inch]) => Math.abs(inch - inches) < ROUNDED);
  return found === undefined ? null : String(found[1]);
}

/** Sizes are rounded to two places by some ('0.38'). */
const ROUNDED = 0.0051;

/** By what a number in a unit is multiplied to be in that of the column, by the ending of the column's name. */
const FACTORS: readonly { ending: string; factors: Readonly<Record<string, number>> }[] = [
  { ending: '_days', factors: { days: 1, weeks: 7, months: 365.25 / 12, years: 365.25, hours: 1 / 24 } },
  { ending: '_months', factors: { months: 1, years: 12, weeks: 84 / 365.25, days: 12 / 365.25 } },
  { ending: '_hours', factors: { hours: 1, minutes: 1 / 60, days: 24 } },
  {
    ending: '_per_week',
    factors: {
      'per week': 1,
      'per day': 7,
      'per month': 84 / 365.25,
      'per year': 7 / 365.25,
      'per hour': 168,
    },
  },
  {
    ending: '_per_day',
    factors: {
      'per day': 1,
      'per hour': 24,
      'per week': 1 / 7,
      'per month': 12 / 365.25,
      'per year': 1 / 365.25,
    },
  },
  { ending: '_minutes', factors: { minutes: 1, hours: 60, seconds: 1 / 60 } },
];
const COUNTERS = ['strokes', 'steam_cycles', 'hot_cleans'];

const TEMPERATURE = '_temperature_c';
/** Degrees C of a temperature in another unit, to a millionth: 394.15 K is 121. */
const CELSIUS_OF: Readonly<Record<string, (value: number) => number>> = {
  degC: (value) => value,
  degF: (value) => toMillionth((value - 32) / 1.8),
  K: (value) => toMillionth(value - 273.15),
};

function toMillionth(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}

/** Units that a column can be told to be in; none where it has no unit. */
export function unitsOf(column: string): readonly string[] {
  if (column.endsWith(TEMPERATURE)) return Object.keys(CELSIUS_OF);
  if (column === 'size') return ['DN', 'inch'];
  if (COUNTERS.includes(column)) return ['single', 'thousand'];
  return Object.keys(FACTORS.find(({ ending }) => column.endsWith(ending))?.factors ?? {});
}

/** The factor of a unit of `unitsOf`; 1 for sizes, which have a table of their own. */
export function unitFactor(column: string, unit: string): number {
  if (unit === 'thousand') return 1000;
  return FACTORS.find(({ ending }) => column.endsWith(ending))?.factors[unit] ?? 1;
}

/** A number in the unit of the column; null where it stands in it already. */
export function inColumnUnit(column: string, unit: string, value: number): number | null {
  if (column.endsWith(TEMPERATURE)) return unit === 'degC' ? null : (CELSIUS_OF[unit]?.(value) ?? null);
  const factor = unitFactor(column, unit);
  return factor === 1 ? null : value * factor;
}
