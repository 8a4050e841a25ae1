/** One chart as a page of its own, live and self-contained, for sharing. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { CONFIG } from '../chart/theme.js';
import type { Cell, Chart } from '../chart/types.js';
import { escapeText } from './escape.js';
import { chartSvg } from './svg.js';

/** Browser builds of the drawing library, in the order in which they need each other. */
const BUILDS: readonly [name: string, file: string][] = [
  ['vega', 'vega.min.js'],
  ['vega-lite', 'vega-lite.min.js'],
  ['vega-embed', 'vega-embed.min.js'],
];

const STYLE = `body{font:15px/1.5 ${CONFIG.font.replaceAll('"', "'")};color:#1d2329;background:#fff;margin:20px}
h1{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
#chart svg{max-width:100%;height:auto}table{border-collapse:collapse}th,td{text-align:left;padding:3px 14px 3px 0;border-bottom:1px solid #e4e7e9;font-weight:normal}
thead th{font-weight:bold}.scroll{overflow-x:auto}`;

/**
 * A page with the chart drawn still, then live where scripts run (about 0.9 MB, nothing is loaded from outside). Only
 * the scripts listed by their hash may run, and none may make code from text.
 */
export async function chartPage(chart: Chart): Promise<string> {
  const scripts = [...BUILDS.map(([name, file]) => browserBuild(name, file)), startScript(chart)];
  const policy = `default-src 'none'; style-src 'unsafe-inline'; img-src data: blob:; script-src ${scripts.map(hashOf).join(' ')}`;
  return `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeText(chart.title)}</title>
<style>${STYLE}</style></head>
<body><main><h1>${escapeText(chart.title)}</h1>
<div id="chart">${await chartSvg(chart)}</div>
<p>${escapeText(chart.description)}</p>
<details><summary>Numbers</summary>${tableMarkup(chart)}</details></main>
${scripts.map((script) => `<script>${script}</script>`).join('\n')}
</body></html>
`;
}

function browserBuild(name: string, file: string): string {
  const entry = createRequire(import.meta.url).resolve(name);
  return safeScript(readFileSync(join(dirname(entry), file), 'utf8'));
}

/**
 * Draws over the still picture. The schema's version is left out: the library inlined here is a later one and would
 * remark on it. Without the interpreter the policy would refuse the library's expressions.
 */
function startScript(chart: Chart): string {
  const { $schema: _schema, ...spec } = chart.spec;
  const json = JSON.stringify(spec).replaceAll('<', '\\u003c');
  return `vegaEmbed('#chart', ${json}, { mode: 'vega-lite', ast: true, actions: false, renderer: 'svg' });`;
}

/** A script as it may stand inside a page: it must not seem to end it. Line ends as the page will have them. */
function safeScript(code: string): string {
  return code
    .replaceAll('\r\n', '\n')
    .replace(/<\/script/gi, '<\\/script')
    .replaceAll('<!--', '<\\!--');
}

function hashOf(script: string): string {
  return `'sha256-${createHash('sha256').update(script).digest('base64')}'`;
}

function tableMarkup({ title, table }: Chart): string {
  const cell = (value: Cell): string => escapeText(String(value ?? ''));
  const head = table.columns.map((column) => `<th scope="col">${escapeText(column)}</th>`).join('');
  const rows = table.rows.map(([first = null, ...rest]) => {
    const cells = rest.map((value) => `<td>${cell(value)}</td>`).join('');
    return `<tr><th scope="row">${cell(first)}</th>${cells}</tr>`;
  });
  return `<div class="scroll" tabindex="0" role="group" aria-label="Numbers"><table><caption>${escapeText(title)}</caption><thead><tr>${head}</tr></thead><tbody>${rows.join('')}</tbody></table></div>`;
}
