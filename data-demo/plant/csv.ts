/** Tables as text. */
import type { Row } from './types.js';

export function csvText(columns: readonly string[], rows: readonly Row[]): string {
  const lines = rows.map((row) => columns.map((column) => quoted(row[column] ?? '')).join(','));
  return `${[columns.join(','), ...lines].join('\n')}\n`;
}

function quoted(text: string): string {
  return /[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
