/** The values of an Arrow column as the numbers of their texts: a dictionary's value is written once, and a text is known by its bytes. */
import { type Batch, type Column, Type } from '@uwdata/flechette';
import { wholeAt } from '../../numeric/columns.js';
import type { ValueCoder } from './valueCoder.js';

/** Sets the codes of all rows. */
export function setCodes(column: Column<unknown>, { codes, ...coder }: ValueCoder): void {
  let row = 0;
  for (const batch of column.data) {
    const rows = codes.subarray(row, row + batch.length);
    const { typeId } = column.type;
    if (typeId === Type.Dictionary && isKeyed(batch)) setKeyed(batch, rows, coder.codeOf);
    else if (typeId === Type.Utf8) setTexts(batch, rows, coder);
    else for (let i = 0; i < rows.length; i++) rows[i] = coder.codeOf(batch.at(i));
    row += batch.length;
  }
}

interface KeyedBatch extends Batch<unknown> {
  key(i: number): number;
}

function isKeyed(batch: Batch<unknown>): batch is KeyedBatch {
  return 'key' in batch && typeof batch.key === 'function';
}

function setKeyed(batch: KeyedBatch, rows: Int32Array, codeOf: ValueCoder['codeOf']): void {
  const known = new Map<number, number>();
  const hasEmpty = batch.nullCount > 0;
  for (let i = 0; i < rows.length; i++) {
    if (hasEmpty && !batch.isValid(i)) continue;
    const key = batch.key(i);
    const code = known.get(key) ?? codeOf(batch.value(i));
    known.set(key, code);
    rows[i] = code;
  }
}

function setTexts(
  batch: Batch<unknown>,
  rows: Int32Array,
  coder: Pick<ValueCoder, 'codeOf' | 'codeOfBytes'>,
): void {
  const { offsets, values } = batch;
  if (!(offsets instanceof Int32Array && values instanceof Uint8Array)) {
    for (let i = 0; i < rows.length; i++) rows[i] = coder.codeOf(batch.at(i));
    return;
  }
  if (offsets.length <= rows.length) throw new Error(MISFIT);
  const hasEmpty = batch.nullCount > 0;
  for (let i = 0; i < rows.length; i++) {
    if (hasEmpty && !batch.isValid(i)) continue;
    const [from, to] = [wholeAt(offsets, i), wholeAt(offsets, i + 1)];
    if (!(from >= 0 && from <= to && to <= values.length)) throw new Error(MISFIT);
    rows[i] = coder.codeOfBytes(values, from, to);
  }
}

const MISFIT = 'a text in it leads out of its column';
