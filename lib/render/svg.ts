/** Charts as still pictures: SVG text that needs no script, no font file and no network. */
import type { LoggerInterface } from 'vega';
import type { TopLevelSpec } from 'vega-lite';
import { textWidth } from '../chart/textWidth.js';
import { CHART_WIDTH, COLOUR, type ColourRole, DARK } from '../chart/theme.js';
import { withoutTips } from '../chart/tips.js';
import type { Chart, ChartSpec } from '../chart/types.js';
import { escapeText } from './escape.js';

export interface SvgOptions {
  /** Put before every id, so that several pictures can live in one page; the chart's name by default. */
  idPrefix?: string;
  /** False leaves title and finding out of the picture, for a page that writes them as text. True by default. */
  heading?: boolean;
  /** True swaps colours for CSS variables (`colourVariables`), so that a page can go dark. False by default. */
  variables?: boolean;
}

interface TextItem {
  fontSize?: number;
  fontWeight?: string | number;
}

declare module 'vega' {
  /** Exported by the library and missing in its types. */
  export const textMetrics: { width: (item: TextItem, text: unknown) => number };
}

/** Draws a spec: `draw`, or one that knows what was drawn before. */
export type DrawSpec = (spec: ChartSpec) => Promise<{ svg: string }>;

/** An SVG with role, title and description, ids prefixed. Throws what Vega throws where a spec is wrong. */
export async function chartSvg(
  chart: Chart,
  options: SvgOptions = {},
  drawSpec: DrawSpec = draw,
): Promise<string> {
  const prefix = options.idPrefix ?? chart.name;
  const spec = options.heading === false ? withoutHeading(chart.spec) : chart.spec;
  const { svg } = await drawSpec(withoutPointing(spec));
  const named = dressed(prefixIds(svg, prefix), chart, prefix);
  return options.variables === true ? withVariables(named) : named;
}

/**
 * The drawing library. It is loaded here and not above: it awaits at its top level, and a module that does so cannot be
 * required, as a notebook's kernel requires this one.
 */
export async function loadDrawing(): Promise<[typeof import('vega'), typeof import('vega-lite')]> {
  return Promise.all([import('vega'), import('vega-lite')]);
}

/** Draws every spec once: the same spec asked for again is the same picture. */
export function drawOnce(drawSpec: DrawSpec = draw): DrawSpec {
  const drawn = new Map<string, ReturnType<DrawSpec>>();
  return (spec) => {
    const key = JSON.stringify(spec);
    const picture = drawn.get(key) ?? drawSpec(spec);
    drawn.set(key, picture);
    return picture;
  };
}

/** Draws a spec; `warnings` are what compiler and runtime had to say. */
export async function draw(spec: ChartSpec): Promise<{ svg: string; warnings: string[] }> {
  const [{ logger, parse, textMetrics, View, Warn }, { compile }] = await loadDrawing();
  textMetrics.width = measured;
  const warnings: string[] = [];
  const log = collecting(logger(Warn), warnings);
  const compiled = compile(spec as unknown as TopLevelSpec, { logger: log }).spec;
  const view = new View(parse(compiled), { renderer: 'none', logger: log });
  try {
    return { svg: await view.toSVG(), warnings };
  } finally {
    view.finalize();
  }
}

/** Width of a text in px. Without a canvas Vega would guess, and guess nearly double. */
function measured(item: TextItem, text: unknown): number {
  return textWidth(String(text ?? ''), item.fontSize ?? 11, isBold(item.fontWeight));
}

function isBold(weight: string | number | undefined): boolean {
  return weight === 'bold' || Number(weight) >= 600;
}

function collecting(log: LoggerInterface, warnings: string[]): LoggerInterface {
  const keep = (...words: readonly unknown[]) => {
    warnings.push(words.map(String).join(' '));
    return log;
  };
  log.warn = keep;
  log.error = keep;
  return log;
}

/** The spec as it is drawn still: words under the pointer take time to compile, and nobody can point. */
function withoutPointing(spec: ChartSpec): ChartSpec {
  return Array.isArray(spec.layer) ? { ...spec, layer: withoutTips(spec.layer) } : spec;
}

/** The spec without title, and without the room that it took. */
function withoutHeading(spec: ChartSpec): ChartSpec {
  const { title: _title, ...rest } = spec;
  const padding = spec.padding as { top: number };
  const { headingHeight } = spec.usermeta as { headingHeight: number };
  return { ...rest, padding: { ...padding, top: padding.top - headingHeight } };
}

/** Ids with the prefix, numbered from 1 within the picture: Vega's own numbers run on from picture to picture. */
function prefixIds(svg: string, prefix: string): string {
  const known = new Map<string, string>();
  const named = (id: string): string => {
    const name = known.get(id) ?? `${prefix}-${known.size + 1}`;
    known.set(id, name);
    return name;
  };
  return svg
    .replace(/\bid="([^"]+)"/g, (_, id: string) => `id="${named(id)}"`)
    .replace(/url\(#([^)]+)\)/g, (_, id: string) => `url(#${named(id)})`);
}

/** Role, name and description on the outer element, whatever Vega wrote there. */
function dressed(svg: string, chart: Chart, prefix: string): string {
  const viewBox = /viewBox="([^"]+)"/.exec(svg)?.[1] ?? `0 0 ${CHART_WIDTH} 300`;
  const [, , width = '0', height = '0'] = viewBox.split(' ');
  const opening =
    `<svg xmlns="http://www.w3.org/2000/svg" class="chart" width="${width}" height="${height}" viewBox="${viewBox}" ` +
    `role="img" aria-labelledby="${prefix}-title ${prefix}-desc">` +
    `<title id="${prefix}-title">${escapeText(chart.title)}</title>` +
    `<desc id="${prefix}-desc">${escapeText(chart.description)}</desc>`;
  return lighter(svg.replace(/^[\s\S]*?<svg[^>]*>/, opening));
}

/** Leaves out marks that show nothing, roles on parts of a picture that is one image, and needless digits of places. */
function lighter(svg: string): string {
  return svg
    .replace(/<(path|line|rect|g)\b[^>]*\bopacity="0"[^>]*(?:\/>|><\/\1>)/g, '')
    .replace(/ (?:role|aria-[a-z]+)="[^"]*"(?=[^<]*>)/g, (attribute, offset: number) =>
      offset < svg.indexOf('>') ? attribute : '',
    )
    .replace(/<[^>]*>/g, (tag) => tag.replace(/(\d+\.\d{2})\d+/g, '$1'));
}

/** Names of the CSS variables by role, with light and dark values. */
export const colourVariables: readonly { name: string; light: string; dark: string }[] = (
  Object.keys(COLOUR) as ColourRole[]
).map((role) => ({ name: `--${role}`, light: COLOUR[role], dark: DARK[role] }));

/** Swaps each colour of the theme for its variable; the colour itself stays behind as what to use without one. */
function withVariables(svg: string): string {
  const names = new Map(colourVariables.map(({ name, light }) => [light, name]));
  return svg.replace(/\b(fill|stroke)="(#[0-9a-f]{6})"/g, (whole, attribute: string, colour: string) => {
    const name = names.get(colour);
    return name === undefined ? whole : `${attribute}="var(${name})"`;
  });
}
