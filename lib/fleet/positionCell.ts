/** A tag in a table as the number of its position. */
import { type CellReader, fault, tidyText } from './cell.js';
import { isOn } from './cleaning/rules.js';
import { tagKey } from './cleaning/tagKey.js';
import type { Mappings } from './mappings.js';
import type { Tidied } from './rowBook.js';
import type { Position } from './types.js';

/**
 * As written (spaces at the ends and doubled ones apart), else the one position that it can be: the only one that differs in capitals alone, then
 * the only one with the same `tagKey`. A tag that may be two positions is neither.
 */
export function positionCell(
  positions: readonly Position[],
  { aliases, cleaning }: Pick<Mappings, 'aliases' | 'cleaning'>,
): CellReader<number> {
  const exact = new Map(positions.map(({ position }, p) => [position, p]));
  const joined = isOn(cleaning, 'tags');
  const alike = joined ? onlyOnes(positions, (tag) => tag.toLowerCase()) : new Map();
  // Most folders never need it.
  let near: Map<string, number> | null = null;
  const nearest = (tag: string): number | undefined => {
    near ??= joined ? onlyOnes(positions, tagKey) : new Map<string, number>();
    return near.get(tagKey(tag));
  };
  return (raw) => {
    const text = tidyText(raw);
    if (text === '') return { value: null, fault: null };
    const tag = aliases.get(text) ?? text;
    const value = exact.get(tag) ?? alike.get(tag.toLowerCase());
    if (value !== undefined && value !== AMBIGUOUS)
      return { value, fault: null, tidied: positions[value]?.position !== raw };
    const other = value ?? nearest(tag) ?? AMBIGUOUS;
    if (other === AMBIGUOUS) return { value: null, fault: UNKNOWN_TAG };
    return { value: other, fault: null, tidied: TAG_JOINED };
  };
}

/** Positions by what is left of their tags; AMBIGUOUS where two share it. */
function onlyOnes(positions: readonly Position[], keyOf: (tag: string) => string): Map<string, number> {
  const ones = new Map<string, number>();
  positions.forEach(({ position }, p) => {
    const key = keyOf(position);
    ones.set(key, ones.has(key) ? AMBIGUOUS : p);
  });
  return ones;
}

const AMBIGUOUS = -1;

const TAG_JOINED: Tidied = {
  code: 'tag-joined',
  says: (cells) =>
    `${cells} read as the one tag of positions.csv that differs in spaces, leading zeros, kind of dash or letters that do not print.`,
  todo: 'Nothing, if each is that valve; otherwise set "tags" to false in site.json under "cleaning", or list the valve.',
};

const UNKNOWN_TAG = fault(
  'position-unknown',
  'positions.csv has no such tag.',
  'Add the position there, correct the tag, or say in site.json under "aliases" which tag it is.',
);
