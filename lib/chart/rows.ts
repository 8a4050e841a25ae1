/** Charts with a row per thing: names at the left, values to the right, words at the end. */
import { type Frame, labelRoom } from './frame.js';
import { layer, onScale } from './marks.js';
import { fitText, wrapText } from './textWidth.js';
import { COLOUR, LABEL_SIZE } from './theme.js';
import type { Layer } from './types.js';

/** Height of a row, px: two lines of a name fit. */
export const ROW_HEIGHT = 28;
const MOST_NAME_ROOM = 172;
const NAME_SIZE = 11;
const LINE_HEIGHT = 12.5;

export interface RowAxes {
  height: number;
  left: number;
  /** Position of a field in row units: row i reaches from i to i + 1, its middle is i + 0.5. */
  y: (field: string) => Record<string, unknown>;
  names: Layer[];
}

/** The row axis: names on one or two lines, cut where that is not enough, at most a third of the chart wide. */
export function rowAxes(names: readonly string[], rowHeight = ROW_HEIGHT): RowAxes {
  const left = labelRoom(
    names.flatMap((name) => name.split('\n')),
    NAME_SIZE,
    MOST_NAME_ROOM,
  );
  const rows = Math.max(1, names.length);
  const scale = { domain: [rows, 0], nice: false, zero: false };
  const y = (field: string) => ({ ...onScale(field, scale), axis: null });
  const lines = names.map((name) => twoLines(name, left - 12));
  const line = (which: 0 | 1, dy: number, rowsWith: 1 | 2): Layer =>
    layer(
      { type: 'text', align: 'right', baseline: 'middle', dy, color: COLOUR.ink, fontSize: NAME_SIZE },
      lines
        .map((each, i) => ({ row: i + 0.5, label: each[which] ?? '', lines: each.length }))
        .filter((each) => each.lines === rowsWith)
        .map(({ row, label }) => ({ row, label })),
      { x: { value: -8 }, y: y('row'), text: { field: 'label', type: 'nominal' } },
    );
  const two = lines.some(({ length }) => length > 1);
  return {
    height: rows * rowHeight,
    left,
    y,
    names: [line(0, 0, 1), ...(two ? [line(0, -LINE_HEIGHT / 2, 2), line(1, LINE_HEIGHT / 2, 2)] : [])],
  };
}

/** A name on one line, or on two (at a line end in it, or where it is too long) with the second cut to fit. */
function twoLines(name: string, width: number): string[] {
  if (name.includes('\n')) return name.split('\n', 2).map((line) => fitText(line, width, NAME_SIZE));
  const [first = '', ...rest] = wrapText(name, width, NAME_SIZE);
  return rest.length === 0 ? [first] : [first, fitText(rest.join(' '), width, NAME_SIZE)];
}

/** Words at the right end of each row, outside the plot. */
export function endWords(
  words: readonly { text: string; bold?: boolean; rust?: boolean }[],
  axes: RowAxes,
  frame: Pick<Frame, 'left' | 'right'>,
  width: number,
): Layer[] {
  const values = words.map(({ text, bold, rust }, i) => ({
    row: i + 0.5,
    label: fitText(text, frame.right - 10, LABEL_SIZE, bold),
    bold: bold === true,
    rust: rust === true,
  }));
  const draw = (part: typeof values, bold: boolean, rust: boolean): Layer =>
    layer(
      {
        type: 'text',
        align: 'left',
        baseline: 'middle',
        color: rust ? COLOUR.rust : COLOUR.ink,
        fontSize: LABEL_SIZE,
        fontWeight: bold ? 'bold' : 'normal',
      },
      part,
      { x: { value: width + 8 }, y: axes.y('row'), text: { field: 'label', type: 'nominal' } },
    );
  return [
    [false, false],
    [false, true],
    [true, false],
    [true, true],
  ]
    .map(([bold, rust]) => ({
      part: values.filter((row) => row.bold === bold && row.rust === rust),
      bold,
      rust,
    }))
    .filter(({ part }) => part.length > 0)
    .map(({ part, bold, rust }) => draw(part, bold === true, rust === true));
}

/** Room for the names at the left and for words at the right of at most so many px. */
export function rowFrame(
  { left }: RowAxes,
  words: readonly { text: string }[],
  most: number,
  bold = false,
): Pick<Frame, 'left' | 'right'> {
  const texts = words.map(({ text }) => text);
  return { left, right: labelRoom(texts, LABEL_SIZE, most, bold) + 4 };
}
