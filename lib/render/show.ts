/**
 * A chart in a tslab notebook: one display that carries the Vega-Lite object, the still picture and the words, so that
 * each reader of the notebook takes the best it can draw.
 */
import { createRequire } from 'node:module';
import type { Chart } from '../chart/types.js';
import { UsageError } from '../errors.js';
import { chartSvg } from './svg.js';

type Kinds = Record<string, unknown>;
type WriteDisplay = (display: { data: Kinds; metadata: Kinds; transient: Kinds }, update: boolean) => void;

/** The two parts of tslab 1.0.22 used here; the writer is internal to it, so a later version may lack it. */
interface Tslab {
  writer: WriteDisplay | null;
  svg: (markup: string) => void;
}

/**
 * Shows a chart below the cell. `idPrefix` keeps the ids of one picture apart from the next; give each display its own
 * where the notebook becomes one page. Throws UsageError outside a running notebook.
 */
export async function show(chart: Chart, idPrefix = chart.name): Promise<void> {
  const svg = await chartSvg(chart, { idPrefix });
  const tslab = openTslab();
  if (tslab.writer === null) tslab.svg(svg);
  else tslab.writer({ data: displayData(chart, svg), metadata: {}, transient: {} }, false);
}

/** What one display carries, by kind. No HTML: a notebook program would show that instead of the picture. */
export function displayData(chart: Chart, svg: string): Kinds {
  return {
    'application/vnd.vegalite.v5+json': chart.spec,
    'image/svg+xml': svg,
    'text/plain': `${chart.title}. ${chart.description}`,
  };
}

function openTslab(): Tslab {
  const load = createRequire(import.meta.url);
  try {
    const { lastWriteDisplayData } = load('tslab/dist/jupyter.js') as {
      lastWriteDisplayData?: WriteDisplay | null;
    };
    const { display } = load('tslab') as { display: { svg: (markup: string) => void } };
    return { writer: lastWriteDisplayData ?? null, svg: (markup) => display.svg(markup) };
  } catch (cause) {
    throw new UsageError('show', 'it needs a running tslab notebook.', String(cause));
  }
}
