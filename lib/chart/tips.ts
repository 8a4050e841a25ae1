/** Words under the pointer where a chart is drawn live: one text for each mark, a line for each number. */
import type { Layer } from './types.js';

type Row = Record<string, unknown>;

/** The layer with a text for each of its rows. Pictures drawn still leave them out. */
export function tipped(layer: Layer, words: readonly string[]): Layer {
  const { values } = layer.data as { values: Row[] };
  return {
    ...layer,
    data: { values: values.map((row, i) => ({ ...row, tip: words[i] ?? '' })) },
    encoding: { ...(layer.encoding as Row), tooltip: { field: 'tip', type: 'nominal' } },
  };
}

/** The layers without such texts: nobody can point at a still picture. */
export function withoutTips(layers: readonly Layer[]): Layer[] {
  return layers.map((layer) => {
    const { tooltip, ...encoding } = layer.encoding as Row;
    if (tooltip === undefined) return layer;
    const { values } = layer.data as { values: Row[] };
    return { ...layer, data: { values: values.map(({ tip: _tip, ...row }) => row) }, encoding };
  });
}
