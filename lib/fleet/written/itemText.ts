/** Parts of a text that says several things at once: the elastomer and the size of "Diaphragm EPDM DN25", the line of a tag. */
import { dnOfInches, sizeFromWords } from './units.js';

/** Names of ISO 1629 and of the faces that stand before them. */
const NAMES =
  'EPDM|EPM|FKM|FPM|FFKM|VMQ|MVQ|FVMQ|NBR|HNBR|XNBR|CR|IIR|CIIR|BIIR|NR|SBR|CSM|ACM|AEM|ECO|BR|IR|AU|EU|PTFE|TFM|PVDF|PFA|FEP|SILIKON|SILICON|SILICONE';

/** One of them as a word of its own. */
export const ELASTOMER = new RegExp(`(^|[^\\p{L}])(${NAMES})([^\\p{L}]|$)`, 'iu');

const EACH_ELASTOMER = new RegExp(`(?<!\\p{L})(${NAMES})(?!\\p{L})`, 'giu');
/** Letters between the first and the last name of a material of several: PTFE-faced EPDM. */
const MOST_BETWEEN = 14;

/** The material that a text names, from its first name of an elastomer to its last; empty where it names none, or two that stand apart. */
export function materialIn(text: string): string {
  const found = [...text.matchAll(EACH_ELASTOMER)];
  const first = found[0];
  const last = found.at(-1);
  if (first === undefined || last === undefined) return '';
  const between = last.index - (first.index + first[0].length);
  return between > MOST_BETWEEN ? '' : text.slice(first.index, last.index + last[0].length);
}

const DN_INSIDE = /(?<![\p{L}\d])(?:DN|ND|NW)\s*\.?\s*(\d+(?:[.,]\d+)?)(?![\d.,]*\d)/giu;
const INCHES_INSIDE =
  /(?<![\d/.,])((?:\d+[ -])?\d+\/\d+|\d+(?:[.,]\d+)?)\s*(?:"|″|”|''|inch(?:es)?\b|zoll\b)/giu;

/** The nominal size that a text names with a mark, DN or inches; empty where it names none, or two. */
export function sizeIn(text: string): string {
  const sizes = new Set([
    ...[...text.matchAll(DN_INSIDE)].map((found) => (found[1] ?? '').replace(',', '.')),
    ...[...text.matchAll(INCHES_INSIDE)].flatMap(
      (found) => dnOfInches((found[1] ?? '').replace(',', '.'), '.') ?? [],
    ),
  ]);
  const whole = sizeFromWords(text.trim(), '.');
  if (sizes.size === 0) return whole ?? '';
  return sizes.size === 1 ? ([...sizes][0] ?? '') : '';
}

/** What stands before the last mark of a tag: A1 of A1-V001; empty where it has none. */
export function lineIn(tag: string): string {
  const found = /^(.*[\p{L}\d])[-_./ :]+[^-_./ :]+$/u.exec(tag.trim());
  return found?.[1] ?? '';
}

/** How a column of ours is read from such a text; other columns take all of it. */
export function partOfText(column: string): (text: string) => string {
  if (column === 'material' || column === 'material_next') return materialIn;
  if (column === 'size') return sizeIn;
  return column === 'line' ? lineIn : (text) => text;
}
