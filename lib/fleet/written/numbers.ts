/** Numbers as plants write them: decimal comma or point, marks between thousands. The mark is found once for a file, never cell by cell. */
import type { Decimal } from './types.js';

/** What a text says of the decimal mark: it is that one, either one could be meant ('1.234'), or it says nothing ('12'). */
export type DecimalEvidence = Decimal | 'either' | null;

const PLAIN = /^[+-]?\d+$/;
const GROUPED: Readonly<Record<Decimal, RegExp>> = {
  '.': /^[+-]?\d{1,3}([,' \u00a0\u2009\u202f’]\d{3})*(\.\d+)?(e[+-]?\d+)?$/i,
  ',': /^[+-]?\d{1,3}([.' \u00a0\u2009\u202f’]\d{3})*(,\d+)?(e[+-]?\d+)?$/i,
};
const UNGROUPED: Readonly<Record<Decimal, RegExp>> = {
  '.': /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i,
  ',': /^[+-]?(\d+,?\d*|,\d+)(e[+-]?\d+)?$/i,
};
const MARKS: Readonly<Record<Decimal, RegExp>> = {
  '.': /[,' \u00a0\u2009\u202f’]/g,
  ',': /[.' \u00a0\u2009\u202f’]/g,
};

export function decimalEvidence(text: string): DecimalEvidence {
  if (PLAIN.test(text)) return null;
  const point = fits(text, '.');
  const comma = fits(text, ',');
  if (point && comma) return /[.,]/.test(text) ? 'either' : null;
  if (point) return '.';
  return comma ? ',' : null;
}

/**
 * The number with a decimal point and no other marks; null where the text is no number in this way of writing. Where the mark is not known,
 * a point is plain as it stands, and a comma that could be either mark is no number.
 */
export function plainNumber(text: string, decimal: Decimal | null): string | null {
  if (decimal === null)
    return text.includes(',') && decimalEvidence(text) === 'either' ? null : plainNumber(text, '.');
  if (!fits(text, decimal)) return null;
  return text.replace(MARKS[decimal], '').replace(',', '.');
}

function fits(text: string, decimal: Decimal): boolean {
  return GROUPED[decimal].test(text) || UNGROUPED[decimal].test(text);
}
