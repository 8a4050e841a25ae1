/** What the cells of a column are sorted by, found in what they show: rows never stand in an order that nobody sees. */
import { DAYS_PER_MONTH } from '../numeric/day.js';
import { dayOfWords, numberOfWords } from '../numeric/words.js';

/** Letters looked at: a date or a number stands at the start of its cell. */
const LOOKED_AT = 40;

/**
 * Numbers to sort by; null where a cell is text, or whole digits that need no other. Cells of a column of numbers begin
 * with one; in other columns dates become days and ages ("8.5 months") days too, where at least half of the cells that
 * say anything hold one.
 */
export function sortValues(texts: readonly string[], isNumber: boolean): (number | null)[] {
  if (isNumber) return texts.map((text) => (/^\d*$/.test(text) ? null : numberOfWords(text)));
  const values = texts.map((text) => dayOrAge(text.slice(0, LOOKED_AT)));
  const said = texts.filter((text) => text.trim() !== '').length;
  const found = values.filter((value) => value !== null).length;
  return found * 2 >= said ? values : texts.map(() => null);
}

/** Only a text with a digit is looked at: most cells hold words. */
function dayOrAge(text: string): number | null {
  if (!/\d/.test(text)) return null;
  const age = /^(?:keep )?([\d.,]+)\s(day|month)/.exec(text.trim());
  if (age === null) return dayOfWords(text);
  const number = numberOfWords(age[1] ?? '');
  return number === null ? null : number * (age[2] === 'day' ? 1 : DAYS_PER_MONTH);
}
