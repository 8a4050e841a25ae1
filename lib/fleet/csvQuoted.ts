/** A cell of a CSV line (RFC 4180): in quotation marks where it holds a comma, a mark or a line end. */
export function csvQuoted(cell: string): string {
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
