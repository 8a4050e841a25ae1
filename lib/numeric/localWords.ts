/**
 * Numbers and days in findings and notes on methods: as a file or a program writes them ("2026-09-30", "0.035", "6573"),
 * so that they can be found there, until the plant names a locale; then as a reader of that locale writes them.
 */
import { type Day, textFromDay } from './day.js';
import { currentWriting } from './locale.js';
import { dateWords } from './words.js';

/** "2026-09-30" of a day; in a locale "30. Sept. 2026". */
export function localDay(day: Day): string {
  return localDate(textFromDay(day));
}

/** A date of a file as it stands, "2026-09-30"; in a locale "30. Sept. 2026". */
export function localDate(text: string): string {
  return currentWriting() === null ? text : dateWords(text);
}

/** A number as it stands, "6573" or "0.035"; in a locale "6.573" or "0,035". */
export function localNumber(value: number): string {
  return localDigits(String(value));
}

/** A number to so many significant digits, zeros at the end kept, "0.50"; in a locale "0,50". */
export function localPrecision(value: number, digits: number): string {
  return localDigits(value.toPrecision(digits));
}

/** Digits written by the language, in the writing that holds; an exponent stays, as no locale has words for it. */
function localDigits(text: string): string {
  const writing = currentWriting();
  const parts = /^-?\d+(?:\.(\d+))?$/.exec(text);
  if (writing === null || parts === null) return text;
  return writing.number(Number(text), parts[1]?.length ?? 0);
}
