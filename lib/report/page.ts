/** A page that opens anywhere: one file, nothing from outside, no script. */
import { escapeText } from '../render/escape.js';
import type { Html } from './markup.js';

/** Nothing may be loaded and no script may run: pictures are drawn in the page itself. */
const POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

/** The whole file; the title is a text, style and body are finished. */
export function wholePage({ title, style, body }: { title: string; style: string; body: Html }): string {
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${escapeText(title)}</title>
<style>${style}</style>
</head>
<body>
${body.markup}</body>
</html>
`;
}
