/** The one place that speaks to tslab, the kernel of the notebooks. */
import { createRequire } from 'node:module';
import { UsageError } from '../errors.js';

/** What one display carries, by MIME type: each reader of the notebook takes the best it can draw. */
export type Kinds = Record<string, unknown>;

/** What tslab offers to everybody. */
export interface PublicDisplay {
  svg: (markup: string) => void;
  html: (markup: string) => void;
}

type WriteDisplay = (display: { data: Kinds; metadata: Kinds; transient: Kinds }, update: boolean) => void;

/**
 * Writes one display with all its kinds. That writer is internal to tslab 1.0.22: where a later version lacks it, `otherwise`
 * shows what it can. Throws UsageError outside a running notebook.
 */
export function displayInNotebook(
  kinds: Kinds,
  otherwise: (display: PublicDisplay, kinds: Kinds) => void,
): void {
  const { writer, display } = openTslab();
  if (writer === null) otherwise(display, kinds);
  else writer({ data: kinds, metadata: {}, transient: {} }, false);
}

function openTslab(): { writer: WriteDisplay | null; display: PublicDisplay } {
  const load = createRequire(import.meta.url);
  try {
    const { lastWriteDisplayData } = load('tslab/dist/jupyter.js') as {
      lastWriteDisplayData?: WriteDisplay | null;
    };
    const { display } = load('tslab') as { display: PublicDisplay };
    return { writer: lastWriteDisplayData ?? null, display };
  } catch (cause) {
    throw new UsageError('show', 'it needs a running tslab notebook.', String(cause));
  }
}
