/** A column of values as a coded column: each distinct value is written as a text once. */
import type { CodedColumn } from '../coded/types.js';
import { plainText, type ValueKind } from './plainText.js';

export interface ValueCoder {
  /** Sets the value of a row. */
  set(row: number, value: unknown): void;
  column(): CodedColumn;
}

/** Rows that are never set are empty. */
export function valueCoder(rows: number, kind: ValueKind): ValueCoder {
  const codes = new Int32Array(rows);
  const texts: string[] = [''];
  const byText = new Map<string, number>([['', 0]]);
  const byValue = new Map<unknown, number>();
  let hasPoint = false;
  let holds: string | null = null;

  function add(value: unknown): number {
    const text = plainText(value, kind);
    if (text === null) holds = 'The column holds values that are not plain texts, numbers or dates.';
    hasPoint ||= typeof value !== 'string' && text !== null && text.includes('.');
    const code = byText.get(text ?? '') ?? texts.push(text ?? '') - 1;
    byText.set(text ?? '', code);
    byValue.set(value, code);
    return code;
  }

  return {
    set: (row, value) => {
      codes[row] = byValue.get(value) ?? add(value);
    },
    column: () => ({ codes, texts, hasPoint, ...(holds !== null && { refused: holds }) }),
  };
}

/** A column that cannot be read: it is empty, and refused where it is needed. */
export function refusedColumn(rows: number, what: string): CodedColumn {
  return {
    codes: new Int32Array(rows),
    texts: [''],
    refused: `The column holds ${what} and not one plain value in each cell.`,
  };
}
