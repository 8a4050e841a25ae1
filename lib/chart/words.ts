/** The words of charts and reports: those of numeric/words.ts, and names made fit for a page. */
export {
  ageSpan,
  amount,
  chanceWords,
  count,
  counted,
  coverWords,
  dateWords,
  fixed,
  hoursText,
  hoursWords,
  listed,
  money,
  monthsFromDays,
  monthsOrDays,
  monthsSpan,
  monthsText,
  monthWords,
  percent,
  pieces,
  pValueWords,
  range,
  SHORTEST_MONTH_DAYS,
  spanWords,
} from '../numeric/words.js';

/** Marks that turn the direction of what follows, and control characters: not for a picture or a sentence. */
const STEERING = /[\p{Cc}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;

/** A name from the plant's files without characters that steer a terminal or the direction of a text. */
export function plainName(text: string): string {
  return text
    .replace(STEERING, ' ')
    .replace(/[ \t\r\n]+/g, ' ')
    .trim();
}

/** Letters, digits and hyphens of a text, for ids. */
export function slug(text: string): string {
  const letters = text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40);
  return letters === '' ? 'x' : letters;
}
