/**
 * Words under the pointer where a chart is drawn live (in a notebook, on a page of its own): one text for each mark. Pictures drawn still
 * leave them out, as nobody can point at them: their numbers are in the table.
 */
import { layer } from './marks.js';
import type { Layer } from './types.js';

type Row = Record<string, unknown>;

/** Texts in the order of the rows, or a text for a row. */
export type Tips = readonly string[] | ((row: Row) => string);

/** The layer with a text for each of its rows. */
export function tipped(whole: Layer, tips: Tips): Layer {
  const { values } = whole.data as { values: Row[] };
  const words = typeof tips === 'function' ? values.map(tips) : tips;
  return {
    ...whole,
    data: { values: values.map((row, i) => ({ ...row, tip: words[i] ?? '' })) },
    encoding: { ...(whole.encoding as Row), tooltip: { field: 'tip', type: 'nominal' } },
  };
}

/** Of a chart with a row per thing: the text of the thing in whose row a mark stands, told by `field`. */
export function ofRow(texts: readonly string[], field = 'row'): Tips {
  return (row) => texts[Math.floor(Number(row[field]))] ?? '';
}

/** Unseen points along a curve, for the pointer alone. */
export function pointer(rows: readonly Row[], axes: { x: Row; y: Row }, tips: Tips): Layer {
  return tipped(layer({ type: 'point', size: 160, opacity: 0, clip: true }, [...rows], { ...axes }), tips);
}

/** The layers without such texts, and without what is there for the pointer alone. */
export function withoutTips(layers: readonly Layer[]): Layer[] {
  return layers.filter((each) => !isPointer(each)).map(withoutTip);
}

function isPointer({ mark, encoding }: Layer): boolean {
  return (mark as Row).opacity === 0 && (encoding as Row).tooltip !== undefined;
}

function withoutTip(whole: Layer): Layer {
  const { tooltip, ...encoding } = whole.encoding as Row;
  if (tooltip === undefined) return whole;
  const { values } = whole.data as { values: Row[] };
  return { ...whole, data: { values: values.map(({ tip: _tip, ...row }) => row) }, encoding };
}
