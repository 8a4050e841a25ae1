/** Names beside their marks where they lie on no other name: the first free one of six places round the mark. */
import { textWidth } from './textWidth.js';
import { LABEL_SIZE } from './theme.js';

/** px of the plot, from its upper left corner. */
export interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

export interface NamePlace {
  align: 'left' | 'right' | 'center';
  dx: number;
  dy: number;
}

/** Round the mark, the most wanted first. */
const PLACES: readonly NamePlace[] = [
  { align: 'left', dx: 9, dy: -9 },
  { align: 'left', dx: 9, dy: 9 },
  { align: 'right', dx: -9, dy: -9 },
  { align: 'right', dx: -9, dy: 9 },
  { align: 'center', dx: 0, dy: -16 },
  { align: 'center', dx: 0, dy: 16 },
  { align: 'left', dx: 9, dy: 24 },
  { align: 'right', dx: -9, dy: 24 },
];
/** Half the height of a line, and how far a mark reaches, px. */
const HALF_LINE = 7;
const MARK = 6;

/** The box of a text whose middle line is at y. */
export function nameBox(text: string, x: number, y: number, { align, dx, dy }: NamePlace, bold = false): Box {
  const width = textWidth(text, LABEL_SIZE, bold);
  const left = x + dx - (align === 'right' ? width : align === 'center' ? width / 2 : 0);
  return { left, right: left + width, top: y + dy - HALF_LINE, bottom: y + dy + HALF_LINE };
}

/** The box of a mark, so that names keep off it. */
export function markBox(x: number, y: number): Box {
  return { left: x - MARK, right: x + MARK, top: y - MARK, bottom: y + MARK };
}

/** Where the name goes; its box joins those taken. Where all places are taken, the first that is inside. */
export function placeName(
  text: string,
  [x, y]: readonly [number, number],
  taken: Box[],
  within: Box,
  bold = false,
): NamePlace {
  const boxOf = (place: NamePlace): Box => nameBox(text, x, y, place, bold);
  const inside = PLACES.filter((place) => isInside(boxOf(place), within));
  const free = inside.find((place) => taken.every((box) => !overlaps(box, boxOf(place))));
  const found = free ?? inside[0] ?? (PLACES[0] as NamePlace);
  taken.push(boxOf(found));
  return found;
}

function overlaps(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

function isInside(box: Box, { left, right, top, bottom }: Box): boolean {
  return box.left >= left && box.right <= right && box.top >= top && box.bottom <= bottom;
}
