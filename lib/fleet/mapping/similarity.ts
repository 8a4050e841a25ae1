/** How alike two names are, from 0 to 1: equal but for accents and order, misspelt, abbreviated, or one within the other. */
import { itemAt } from '../../numeric/columns.js';
import type { PlainWord } from './plainWord.js';

export function similarity(name: PlainWord, word: PlainWord): number {
  if (name.joined === word.joined) return 1;
  if (name.folded === word.folded) return 0.98;
  if (name.sorted !== '' && name.sorted === word.sorted) return 0.95;
  if (name.sortedTelling !== '' && name.sortedTelling === word.sortedTelling) return 0.92;
  if (name.stem === word.stem) return 0.9;
  return Math.max(misspelt(name, word), abbreviated(name, word), within(name, word));
}

/** One slip in a word of five letters, two in one of nine. */
function misspelt(name: PlainWord, word: PlainWord): number {
  const shorter = Math.min(name.folded.length, word.folded.length);
  const most = shorter >= 9 ? 2 : shorter >= 5 ? 1 : 0;
  if (most === 0 || Math.abs(name.folded.length - word.folded.length) > most) return 0;
  // Each slip adds or takes at most one letter on either side.
  if (bits(name.letters ^ word.letters) > 2 * most) return 0;
  const slips = editDistance(name.folded, word.folded);
  return slips > most ? 0 : slips === 1 ? 0.88 : 0.8;
}

function bits(number: number): number {
  let count = 0;
  for (let left = number; left !== 0; left &= left - 1) count += 1;
  return count;
}

/** Letters put in, left out, exchanged, or swapped with their neighbour (Damerau 1964, optimal string alignment; from memory). */
export function editDistance(some: string, other: string): number {
  const rows = [Array.from({ length: other.length + 1 }, (_, j) => j)];
  for (let i = 1; i <= some.length; i++) {
    const row = [i];
    const above = itemAt(rows, i - 1);
    for (let j = 1; j <= other.length; j++) {
      const same = some[i - 1] === other[j - 1] ? 0 : 1;
      let best = Math.min(itemAt(above, j) + 1, itemAt(row, j - 1) + 1, itemAt(above, j - 1) + same);
      const swapped = i > 1 && j > 1 && some[i - 1] === other[j - 2] && some[i - 2] === other[j - 1];
      if (swapped) best = Math.min(best, itemAt(itemAt(rows, i - 2), j - 2) + 1);
      row.push(best);
    }
    rows.push(row);
  }
  return itemAt(itemAt(rows, some.length), other.length);
}

/**
 * 'Einb.-Dat.' for 'Einbaudatum': each part begins a later piece of the word, the first one the word itself. A later part may also be some of
 * the letters of its piece, the first and the last among them: 'Ausb.-Grd' for 'Ausbaugrund'.
 */
function abbreviated(name: PlainWord, word: PlainWord): number {
  const letters = name.joined.length;
  if (letters < 4 || letters >= word.joined.length || letters < 0.3 * word.joined.length) return 0;
  let at = 0;
  let skips = 0;
  for (const [i, token] of name.tokens.entries()) {
    if (token.length < 2) return 0;
    const found = word.joined.indexOf(token, at);
    if (i === 0 && found > 0) return 0;
    if (found >= 0) at = found + token.length;
    else {
      const end = i === 0 ? -1 : skipping(token, word.joined, at);
      if (end < 0) return 0;
      at = end;
      skips += 1;
    }
  }
  if (name.tokens.length === 1) return 0.55 + 0.35 * (letters / word.joined.length);
  return skips === 0 ? 0.8 : 0.7;
}

/** Where a token ends whose letters stand in a word one after the other, others between them, its last at the end; -1 where they do not. */
function skipping(token: string, word: string, from: number): number {
  if (token.length < 2 || token.at(-1) !== word.at(-1)) return dated(token, word, from);
  let at = from;
  for (const letter of token) {
    const found = word.indexOf(letter, at);
    if (found < 0) return -1;
    at = found + 1;
  }
  return word.length;
}

/** DT and the like for a day at the end of a word, in the languages in which it begins with D. */
function dated(token: string, word: string, from: number): number {
  const day = /dat(um|e|a|o)$/.exec(word);
  return token === 'dt' && day !== null && day.index >= from ? word.length : -1;
}

/** One name within the other, by the share of letters that they have in common. */
function within(name: PlainWord, word: PlainWord): number {
  return Math.max(partOf(word, name), 0.95 * partOf(name, word));
}

function partOf(part: PlainWord, whole: PlainWord): number {
  const share = part.joined.length / whole.joined.length;
  if (part.joined.length < 3 || share >= 1) return 0;
  if (part.telling.length > 0 && part.telling.every((token) => whole.tokens.includes(token)))
    return 0.5 + 0.4 * share;
  const inflected = part.joined.length >= 4 && share >= 0.7 && whole.joined.startsWith(part.joined);
  if (inflected) return 0.5 + 0.4 * share;
  const atEnd =
    part.joined.length >= 5 && (whole.joined.endsWith(part.joined) || whole.joined.startsWith(part.joined));
  return atEnd ? 0.45 + 0.4 * share : 0;
}
