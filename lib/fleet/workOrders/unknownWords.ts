/** Words for what was done that mean nothing yet, said once each: what the plant has to map. */
import { amount } from '../../numeric/words.js';
import { fault, tidyText } from '../cell.js';
import type { RowBook } from '../rowBook.js';

/** Words that are counted, letters of each that are kept, and words that are shown. */
const MOST_WORDS = 1_000;
const MOST_LETTERS = 40;
const WORDS_SHOWN = 10;

export function countWord(words: Map<string, number>, raw: string): void {
  const word = tidyText(raw).slice(0, MOST_LETTERS);
  if (words.has(word) || words.size < MOST_WORDS) words.set(word, (words.get(word) ?? 0) + 1);
}

/** Names the words, the most frequent first. */
export function askAboutWords(words: ReadonlyMap<string, number>, book: RowBook): void {
  if (words.size === 0) return;
  const shown = [...words]
    .sort(([, a], [, b]) => b - a)
    .slice(0, WORDS_SHOWN)
    .map(([word, times]) => `"${word}" (${amount(times, 9)})`);
  const more = words.size > shown.length ? ' and others' : '';
  const text = `Words for what was done that are not known, with how many orders have each: ${shown.join(', ')}${more}.`;
  book.ask(null, 'work', null, fault('work-words', text, SAY_WHICH));
}

const SAY_WHICH =
  'Say in site.json under "values", "work", which of our words each of them means; inspected is the one for work that left the valve closed.';
