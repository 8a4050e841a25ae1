/** A page that opens anywhere: one file, nothing from outside, no script but one that it carries and names by its hash. */
import { createHash } from 'node:crypto';
import { escapeText } from '../render/escape.js';
import type { Html } from './markup.js';

/** Nothing may be loaded and no script may run: pictures are drawn in the page itself. */
const POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

interface Page {
  title: string;
  /** Finished style sheet and body. */
  style: string;
  body: Html;
  /** The only script that may run, or left out for none. */
  script?: string;
}

/** The whole file; the title is a text. */
export function wholePage({ title, style, body, script = '' }: Page): string {
  const policy = script === '' ? POLICY : `${POLICY}; script-src ${hashOf(script)}`;
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${escapeText(title)}</title>
<style>${style}</style>
</head>
<body>
${body.markup}${script === '' ? '' : `<script>${script}</script>\n`}</body>
</html>
`;
}

function hashOf(script: string): string {
  return `'sha256-${createHash('sha256').update(script).digest('base64')}'`;
}
