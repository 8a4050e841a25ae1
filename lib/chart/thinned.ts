/** Long lists of marks made shorter: a picture of 520 px shows no more, and a page must stay light. */

/** At most `most` of a sorted list, evenly by rank, both ends kept; the list itself where it is no longer. */
export function thinned<Item>(list: readonly Item[], most: number): readonly Item[] {
  if (list.length <= most) return list;
  const step = (list.length - 1) / (most - 1);
  return Array.from({ length: most }, (_, i) => list[Math.round(i * step)] as Item);
}
