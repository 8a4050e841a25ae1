/** Where the words of a picture lie, by our own widths of Arial: for tests that none lies on another or outside. */
import { textWidth } from '../../lib/chart/textWidth.js';

export interface WordBox {
  text: string;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/** Boxes of all words of a picture, a box for each line, in its own px, from the transforms round them. */
export function wordBoxes(svg: string): WordBox[] {
  const boxes: WordBox[] = [];
  const offsets: [number, number][] = [[0, 0]];
  for (const { groups = {} } of svg.matchAll(PARTS)) {
    const { end, group, text, inner = '' } = groups;
    if (end !== undefined) {
      offsets.pop();
      continue;
    }
    const attributes = group ?? text ?? '';
    const [x, y] = offsets[offsets.length - 1] as [number, number];
    const shift = /translate\(([-\d.]+),\s*([-\d.]+)\)/.exec(attributes);
    const place: [number, number] = [x + Number(shift?.[1] ?? 0), y + Number(shift?.[2] ?? 0)];
    if (group !== undefined) {
      if (!group.endsWith('/')) offsets.push(place);
    } else if (!/opacity="0"/.test(attributes)) boxes.push(...linesOf(inner, attributes, place));
  }
  return boxes;
}

/** Groups that begin and end, and texts with what is in them. */
const PARTS = /(?<end><\/g>)|<g\b(?<group>[^>]*)>|<text\b(?<text>[^>]*)>(?<inner>.*?)<\/text>/gs;

/** One line, or those of its tspans, each so much lower than the one before. */
function linesOf(inner: string, attributes: string, [x, y]: [number, number]): WordBox[] {
  if (!inner.includes('<tspan')) return boxOf(inner, attributes, [x, y]);
  let down = 0;
  return [...inner.matchAll(/<tspan([^>]*)>([^<]*)/g)].flatMap(([, own = '', text = '']) => {
    down += Number(/dy="([-\d.]+)"/.exec(own)?.[1] ?? 0);
    return boxOf(text, attributes, [x, y + down]);
  });
}

/** Above and below the line on which the letters stand, as parts of their size. */
const [ASCENT, DESCENT] = [0.72, 0.2];

function boxOf(raw: string, attributes: string, [x, y]: [number, number]): WordBox[] {
  const text = raw
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, '&');
  if (text.trim() === '') return [];
  const size = Number(/font-size="([\d.]+)/.exec(attributes)?.[1] ?? 11);
  const width = textWidth(text, size, /font-weight="bold"/.test(attributes));
  const anchor = /text-anchor="(\w+)"/.exec(attributes)?.[1] ?? 'start';
  const before = anchor === 'middle' ? width / 2 : anchor === 'end' ? width : 0;
  // Upright words are turned by 270 degrees: what ran right runs up.
  if (/rotate/.test(attributes)) {
    return [
      {
        text,
        left: x - size * ASCENT,
        right: x + size * DESCENT,
        top: y + before - width,
        bottom: y + before,
      },
    ];
  }
  const left = x - before;
  return [{ text, left, right: left + width, top: y - size * ASCENT, bottom: y + size * DESCENT }];
}

/** Pairs of words that lie on each other by more than a px both ways. */
export function overlapping(boxes: readonly WordBox[]): string[] {
  const found: string[] = [];
  boxes.forEach((a, i) => {
    for (const b of boxes.slice(i + 1)) {
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      if (across > 1 && down > 1) found.push(`"${a.text}" and "${b.text}"`);
    }
  });
  return found;
}

/** Words that reach out of the picture by more than a px. */
export function outside(svg: string, boxes: readonly WordBox[]): string[] {
  const [, , width = 0, height = 0] = (/viewBox="([^"]+)"/.exec(svg)?.[1] ?? '').split(' ').map(Number);
  return boxes
    .filter(
      ({ left, right, top, bottom }) => left < -1 || right > width + 1 || top < -1 || bottom > height + 1,
    )
    .map(({ text }) => text);
}
