/** The lives that reading hands over: the kept rows by position and time, then the lives that were built. */
import { byteAt, floatAt, wholeAt } from '../numeric/columns.js';
import { type DraftLives, inTable } from './draftLives.js';
import type { BuiltLife } from './runningLives.js';
import { FINDINGS_AT_REMOVAL, type LifeTable, REASONS } from './types.js';

/** Copies rows of the draft in `order` that stay, and adds the built ones at the end of the columns. */
export function lifeTable(draft: DraftLives, order: Int32Array, built: readonly BuiltLife[]): LifeTable {
  const rows = order.filter((i) => inTable(draft, i));
  const length = rows.length + built.length;
  const add = <T extends Columns>(into: T, ofBuilt: (life: BuiltLife) => number): T => {
    built.forEach((life, k) => {
      into[rows.length + k] = ofBuilt(life);
    });
    return into;
  };
  // The same loop three times: one that met columns of every kind would be slower than all of them.
  const reals = (column: Float64Array, ofBuilt: (life: BuiltLife) => number): Float64Array => {
    const into = new Float64Array(length);
    for (let k = 0; k < rows.length; k++) into[k] = floatAt(column, wholeAt(rows, k));
    return add(into, ofBuilt);
  };
  const wholes = (column: Int32Array, ofBuilt: (life: BuiltLife) => number): Int32Array => {
    const into = new Int32Array(length);
    for (let k = 0; k < rows.length; k++) into[k] = wholeAt(column, wholeAt(rows, k));
    return add(into, ofBuilt);
  };
  const words = (column: Uint8Array, word: number): Uint8Array => {
    const into = new Uint8Array(length);
    for (let k = 0; k < rows.length; k++) into[k] = byteAt(column, wholeAt(rows, k));
    return add(into, () => word);
  };
  return {
    length,
    position: wholes(draft.position, (life) => life.position),
    material: wholes(draft.material, (life) => life.material),
    size: reals(draft.size, (life) => life.size),
    fitted: reals(draft.fitted, (life) => life.fitted),
    removed: reals(draft.removed, () => Number.NaN),
    reason: words(draft.reason, REASONS.indexOf('unknown')),
    finding: words(draft.finding, FINDINGS_AT_REMOVAL.indexOf('unknown')),
    lastTight: reals(draft.lastTight, () => Number.NaN),
    lot: wholes(draft.lot, () => -1),
    fittedBy: wholes(draft.fittedBy, () => -1),
    recorded: reals(draft.recorded, () => Number.NaN),
    row: wholes(draft.row, () => 0),
  };
}

type Columns = Float64Array | Int32Array | Uint8Array;
