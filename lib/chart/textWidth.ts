/** How wide a text will be, without a screen: from the advance widths of Arial. */
import { BOLD_WIDTHS, REGULAR_WIDTHS, UNITS_PER_EM } from './arialWidths.js';

const REGULAR = byCharacter(REGULAR_WIDTHS);
const BOLD = byCharacter(BOLD_WIDTHS);
/** Width of a character that is not in the table: a digit's, or a whole em for ideographs. */
const OTHER = 1139;
const FIRST_WIDE = 0x2e80;

/** Width of a text in the unit of `size` (pixels as a rule), in Arial or Liberation Sans. Kerning is left out. */
export function textWidth(text: string, size: number, bold = false): number {
  const table = bold ? BOLD : REGULAR;
  let units = 0;
  for (const character of text) units += table.get(character) ?? otherWidth(character);
  return (units * size) / UNITS_PER_EM;
}

/** The text, cut with an ellipsis where it is wider than `width`. */
export function fitText(text: string, width: number, size: number, bold = false): string {
  if (textWidth(text, size, bold) <= width) return text;
  const characters = [...text];
  while (characters.length > 1 && textWidth(`${characters.join('')}…`, size, bold) > width) characters.pop();
  return `${characters.join('').trimEnd()}…`;
}

/** The text as lines no wider than `width`; a single word that is wider is cut. */
export function wrapText(text: string, width: number, size: number, bold = false): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && textWidth(longer, size, bold) > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return [...lines, line].map((each) => fitText(each, width, size, bold));
}

function byCharacter(widths: readonly [number, string][]): Map<string, number> {
  return new Map(
    widths.flatMap(([width, characters]) => [...characters].map((each): [string, number] => [each, width])),
  );
}

function otherWidth(character: string): number {
  const code = character.codePointAt(0) ?? 0;
  if (/\p{M}|\p{Cf}/u.test(character)) return 0;
  return code >= FIRST_WIDE ? UNITS_PER_EM : OTHER;
}
