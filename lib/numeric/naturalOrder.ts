/** Names in the order in which people look for them: V-2 before V-10. */

const WIDEST = 16;

/** A key by which texts sort with their whole numbers taken as numbers, whatever the language of the machine. */
export function naturalKey(text: string): string {
  return text.replace(/\d+/g, (digits) => digits.replace(/^0+(?=\d)/, '').padStart(WIDEST, '0'));
}

/** Order of two keys, for sort(). */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
