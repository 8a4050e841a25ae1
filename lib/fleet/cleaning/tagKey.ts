/** What is left of a tag when everything is evened out that copying and spreadsheets change. */

/**
 * The tag in small letters, without what does not print, spaces (but one between digits) and leading zeros of its numbers, and with one
 * kind of dash. Two tags with the same key may still be two valves: only where one known position has it does a key tell which.
 */
export function tagKey(tag: string): string {
  return tag
    .normalize('NFKC')
    .replace(/[\p{Cc}\p{Cf}]/gu, (letter) => (/\s/.test(letter) ? ' ' : ''))
    .replace(/\p{Pd}|\u2212/gu, '-')
    .replace(/(?<!\d)\s+|\s+(?!\d)/gu, '')
    .toLowerCase()
    .replace(/\d+/g, (digits) => digits.replace(/^0+(?=\d)/, ''));
}
