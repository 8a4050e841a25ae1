/** How columns and tables are named to people and in site.json. */
import { itemAt } from '../../numeric/columns.js';
import { placeKey } from '../headerNames.js';
import type { LookedAt } from './lookedAt.js';

/** Columns of lives, or of work orders, that positions taken from them need. */
export const SHARED: readonly string[] = ['position', 'size'];

/** How site.json names a column: by its name, or by its place where others have the same or it has none. */
export function keyOf(header: readonly string[], place: number): string {
  const plain = (name: string): string => name.trim().toLowerCase();
  const name = itemAt(header, place);
  const same = header.filter((other) => plain(other) === plain(name)).length;
  return plain(name) === '' || same > 1 ? placeKey(place) : name.trim();
}

/** Where a table lies, in words. */
export function placeOf({ source }: LookedAt): string {
  return source.sheet === null ? source.file : `sheet "${source.sheet}" of ${source.file}`;
}
