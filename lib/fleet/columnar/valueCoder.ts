/** A column of values as a coded column: each distinct value is written as a text once. */
import { byteCoder } from '../coded/byteCoder.js';
import type { CodedColumn } from '../coded/types.js';
import { plainText, type ValueKind } from './plainText.js';

export interface ValueCoder {
  /** For each row the number of its text; those that are never set are empty. */
  readonly codes: Int32Array;
  /** The number of a value's text. */
  codeOf(value: unknown): number;
  /** The number of a text that is given by its bytes in UTF-8, from a place to before another. */
  codeOfBytes(bytes: Uint8Array, from: number, to: number): number;
  column(): CodedColumn;
}

export function valueCoder(rows: number, kind: ValueKind): ValueCoder {
  const codes = new Int32Array(rows);
  const texts: string[] = [''];
  const byText = new Map<string, number>([['', 0]]);
  const byValue = new Map<unknown, number>();
  const bytesSeen = byteCoder();
  const byBytes: number[] = [];
  let hasPoint = false;
  let holds: string | null = null;

  function add(value: unknown): number {
    const text = plainText(value, kind);
    if (text === null) holds = 'The column holds values that are not plain texts, numbers or dates.';
    hasPoint ||= typeof value !== 'string' && text !== null && text.includes('.');
    const code = byText.get(text ?? '') ?? texts.push(text ?? '') - 1;
    byText.set(text ?? '', code);
    return code;
  }

  function codeOf(value: unknown): number {
    const before = byValue.get(value);
    if (before !== undefined) return before;
    const code = add(value);
    byValue.set(value, code);
    return code;
  }

  return {
    codes,
    codeOf,
    codeOfBytes: (bytes, from, to) => {
      const own = bytesSeen.code(bytes, from, to);
      // Bytes that are no UTF-8 may give the text of others.
      if (own === byBytes.length) byBytes.push(add(bytesSeen.texts[own]));
      return byBytes[own] as number;
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
