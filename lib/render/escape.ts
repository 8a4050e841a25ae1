/** Text made safe for markup. */

const CODES: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text for HTML, SVG and attribute values in quotes; control characters that no page may hold become blanks. */
export function escapeText(text: string): string {
  return text.replace(/[&<>"']/g, (character) => CODES[character] ?? character).replace(FORBIDDEN, ' ');
}

/** Control characters other than tab and line ends, halves of surrogate pairs, and non-characters. */
const FORBIDDEN =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken out
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
