/**
 * A chart in a tslab notebook: one display that carries the Vega-Lite object, the still picture and the words, so that
 * each reader of the notebook takes the best it can draw.
 */
import type { Chart } from '../chart/types.js';
import { chartSvg } from './svg.js';
import { displayInNotebook, type Kinds } from './tslab.js';

/**
 * Shows a chart below the cell. `idPrefix` keeps the ids of one picture apart from the next; give each display its own
 * where the notebook becomes one page. Throws UsageError outside a running notebook.
 */
export async function show(chart: Chart, idPrefix = chart.name): Promise<void> {
  const svg = await chartSvg(chart, { idPrefix });
  displayInNotebook(displayData(chart, svg), (tslab) => tslab.svg(svg));
}

/** What one display carries, by kind. No HTML: a notebook program would show that instead of the picture. */
export function displayData(chart: Chart, svg: string): Kinds {
  return {
    'application/vnd.vegalite.v5+json': chart.spec,
    'image/svg+xml': svg,
    'text/plain': `${chart.title}. ${chart.description}${chart.leftOut === null ? '' : ` ${chart.leftOut}`}`,
  };
}
