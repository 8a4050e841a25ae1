/**
 * Layers of text put together. To the compiler of a chart a layer costs as much as hundreds of marks, and most charts have a
 * layer for each label, which differ in place, side, weight and colour only.
 */
import { COLOUR, LABEL_SIZE } from './theme.js';
import type { Layer } from './types.js';

/** What the texts of one layer may differ in, with what it is where a layer does not say (theme.ts and the compiler). */
const USUAL = {
  align: 'center',
  angle: 0,
  baseline: 'middle',
  color: COLOUR.ink,
  dx: 0,
  dy: 0,
  fontSize: LABEL_SIZE,
  fontWeight: 'normal',
} as const;
const KNOWN: readonly string[] = ['type', 'aria', ...Object.keys(USUAL)];

interface TextLayer extends Layer {
  data: { values: Record<string, unknown>[] };
  mark: Record<string, unknown>;
  encoding: Record<string, unknown>;
}

/** The layers, those of text on top of the others, and as few as say the same: one for each way to place a text. */
export function withTextsTogether(layers: readonly Layer[]): Layer[] {
  const others: Layer[] = [];
  const byPlacing = new Map<string, TextLayer>();
  for (const layer of layers) {
    if (!isText(layer)) {
      others.push(layer);
      continue;
    }
    const text = looseText(layer);
    const key = JSON.stringify(text.encoding);
    const alike = byPlacing.get(key);
    if (alike === undefined) byPlacing.set(key, text);
    else alike.data.values.push(...text.data.values);
  }
  return [...others, ...byPlacing.values()];
}

/** True of texts with data of their own that differ from others in nothing but what texts of one layer may differ in. */
function isText(layer: Layer): layer is TextLayer {
  const { data, mark } = layer as Partial<TextLayer>;
  return (
    mark?.type === 'text' &&
    Array.isArray(data?.values) &&
    Object.keys(mark).every((property) => KNOWN.includes(property))
  );
}

/** The same texts with each difference in the rows of their data. */
function looseText({ data, mark, encoding }: TextLayer): TextLayer {
  const differences: Record<string, unknown> = {};
  const loose: Record<string, unknown> = {};
  for (const [property, usual] of Object.entries(USUAL)) {
    differences[nameOf(property)] = mark[property] ?? usual;
    loose[property] = { expr: `datum.${nameOf(property)}` };
  }
  const placed = { ...encoding };
  for (const channel of ['x', 'y']) {
    const place = encoding[channel] as { value?: unknown } | undefined;
    if (typeof place?.value !== 'number') continue;
    differences[nameOf(channel)] = place.value;
    placed[channel] = { field: nameOf(channel), type: 'quantitative', scale: null };
  }
  return {
    data: { values: data.values.map((row) => ({ ...row, ...differences })) },
    mark: { type: 'text', aria: false, ...loose },
    encoding: placed,
  };
}

/** Name of a difference in the data, apart from what the rows hold already. */
function nameOf(property: string): string {
  return `text_${property}`;
}
