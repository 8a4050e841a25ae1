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

/** 'Einb.-Dat.' for 'Einbaudatum': each part begins a later piece of the word, the first one the word itself. */
function abbreviated(name: PlainWord, word: PlainWord): number {
  const letters = name.joined.length;
  if (letters < 4 || letters >= word.joined.length || letters < 0.3 * word.joined.length) return 0;
  let at = 0;
  for (const [i, token] of name.tokens.entries()) {
    if (token.length < 2) return 0;
    const found = word.joined.indexOf(token, at);
    if (found < 0 || (i === 0 && found > 0)) return 0;
    at = found + token.length;
  }
  return name.tokens.length > 1 ? 0.8 : 0.55 + 0.35 * (letters / word.joined.length);
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
