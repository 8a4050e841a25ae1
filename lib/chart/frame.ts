/** One place where a chart's parts become a Vega-Lite object of fixed size. */
import { withTextsTogether } from './textLayers.js';
import { textWidth, wrapText } from './textWidth.js';
import { CHART_WIDTH, COLOUR, CONFIG, FINDING_SIZE, LABEL_SIZE, TICK_SIZE, TITLE_SIZE } from './theme.js';
import type { Chart, ChartSpec, Layer } from './types.js';
import { amount } from './words.js';

export interface Frame {
  title: string;
  finding: string;
  description: string;
  /** Height of the plot without axes, px. */
  height: number;
  /** Room beside the plot for labels, px. */
  left: number;
  right: number;
  bottom?: number;
  /** What the y axis counts; written above it. */
  unit?: string;
  /** What the x axis counts; written below its right end. */
  across?: string;
  layers: Layer[];
}

/** For the unit, or a key above the first row. */
const TOP_ROOM = 26;
const BOTTOM_ROOM = 44;
const BOTTOM_WITHOUT_WORDS = 26;
/** Below the tick labels, px. */
const ACROSS_AT = 25;
const TITLE_ROOM = 24;
const FINDING_LINE = 16;

/** Width of the plot between labels, px. */
export function plotWidth(frame: Pick<Frame, 'left' | 'right'>): number {
  return CHART_WIDTH - frame.left - frame.right;
}

/** What a chart says in words, and the picture that says the same. */
export function framed(
  name: string,
  frame: Frame,
): Pick<Chart, 'name' | 'title' | 'finding' | 'description' | 'spec'> {
  const { title, finding, description } = frame;
  return { name, title, finding, description, spec: frameSpec(frame) };
}

/**
 * The whole object. The heading stands in the picture and takes `usermeta.headingHeight` px, so that a page that
 * writes it as text can leave it out.
 */
export function frameSpec(frame: Frame): ChartSpec {
  const subtitle = wrapText(frame.finding, CHART_WIDTH - 8, FINDING_SIZE);
  const title = wrapText(frame.title, CHART_WIDTH - 8, TITLE_SIZE, true);
  const headingHeight = TITLE_ROOM + 19 * (title.length - 1) + FINDING_LINE * subtitle.length + 8;
  const top = TOP_ROOM;
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v5.json',
    description: frame.description,
    width: plotWidth(frame),
    height: frame.height,
    padding: {
      left: frame.left,
      right: frame.right,
      top: top + headingHeight,
      bottom: frame.bottom ?? (frame.across === undefined ? BOTTOM_WITHOUT_WORDS : BOTTOM_ROOM),
    },
    autosize: 'none',
    title: {
      text: title,
      subtitle,
      anchor: 'start',
      frame: 'group',
      orient: 'top',
      dx: 4 - frame.left,
      offset: 8,
    },
    usermeta: { headingHeight },
    config: CONFIG,
    layer: withTextsTogether([...frame.layers, ...unitLayers(frame, top)]),
  };
}

/** Units of both axes as text marks: axis titles would be joined over layers. */
function unitLayers(frame: Frame, top: number): Layer[] {
  const above = frame.unit === undefined ? [] : [axisWords(frame.unit, 4 - frame.left, 4 - top, 'left')];
  const below =
    frame.across === undefined
      ? []
      : [axisWords(frame.across, plotWidth(frame), frame.height + ACROSS_AT, 'right')];
  return [...above, ...below];
}

function axisWords(words: string, x: number, y: number, align: 'left' | 'right'): Layer {
  return {
    data: { values: [{ label: words }] },
    mark: { type: 'text', align, baseline: 'top', fontSize: LABEL_SIZE, color: COLOUR.text, aria: false },
    encoding: { x: { value: x }, y: { value: y }, text: { field: 'label', type: 'nominal' } },
  };
}

/** Room for the widest of some labels with its padding, px, at most `most`. */
export function labelRoom(labels: readonly string[], size: number, most: number, bold = false): number {
  const widest = labels.reduce((room, label) => Math.max(room, textWidth(label, size, bold)), 0);
  return Math.min(most, Math.ceil(widest) + 14);
}

/** Room left of the plot for the numbers of its axis, px, at least `least`: sums may have many digits. */
export function leftFor(ticks: readonly number[], least: number): number {
  return Math.max(
    least,
    labelRoom(
      ticks.map((tick) => amount(tick, ALL_DIGITS)),
      TICK_SIZE,
      140,
    ),
  );
}

const ALL_DIGITS = 15;

/** Moves values (px, any order) apart until neighbours are `gap` away, inside [low, high] where that is possible. */
export function spread(values: readonly number[], gap: number, low: number, high: number): number[] {
  const order = values.map((_, i) => i).sort((a, b) => (values[a] as number) - (values[b] as number));
  const placed = [...values];
  let floor = low;
  for (const i of order) {
    placed[i] = Math.max(placed[i] as number, floor);
    floor = (placed[i] as number) + gap;
  }
  let ceiling = high;
  for (const i of order.reverse()) {
    placed[i] = Math.min(placed[i] as number, ceiling);
    ceiling = (placed[i] as number) - gap;
  }
  return placed;
}
