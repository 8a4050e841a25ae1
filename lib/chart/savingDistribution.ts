/** The saving a year as fifty equally likely values, so that chances are counted instead of read off a curve. */
import { quantileSorted } from 'simple-statistics';
import { UsageError } from '../errors.js';
import { fine, spanTicks, tickText } from './axes.js';
import { framed, plotWidth } from './frame.js';
import { layer, onScale } from './marks.js';
import { AXIS, TITLE } from './texts.js';
import { textWidth } from './textWidth.js';
import { COLOUR, LABEL_SIZE, TICK_SIZE } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, chanceWords, range } from './words.js';

const DOTS = 50;
const LEFT = 30;
const RIGHT = 30;
/** As many digits as an axis shows. */
const ALL_DIGITS = 15;
/** Of a dot, px: diameter and distance of two of one column. */
const DOT = 11;
const STEP = 12;
const LEAST_HEIGHT = 90;
/** A taller stack is pressed together, px. */
const MOST_STACK = 220;
const DIGITS = 3;
const KEY_AT = -12;
const FULL = { fill: COLOUR.rust, stroke: COLOUR.rust };
const HOLLOW = { fill: COLOUR.paper, stroke: COLOUR.ink };

/** `saving`: draws of the saving a year, above 0 where the proposal is cheaper. Throws UsageError where there is none. */
export function savingDistribution(saving: readonly number[], currency: string): Chart {
  if (saving.length === 0) throw new UsageError('savingDistribution', 'there must be a draw.', saving.length);
  const sorted = [...saving].sort((a, b) => a - b);
  const title = TITLE.sureSavingFiftyEquallyLikely;
  const finding = findingOf(sorted, currency);
  const tenths = [0.05, 0.25, 0.5, 0.75, 0.95];
  const description = `${finding}. Each dot is one chance in ${DOTS}: life models and prices together as the records and the given ranges allow. ${tenths.map((p) => `${p * 100} % of them below ${words(quantileSorted(sorted, p))}`).join(', ')}.`;
  const { dots, height, ticks } = dotsOf(sorted);
  return {
    ...framed('saving-distribution', {
      title,
      finding,
      description,
      height,
      left: LEFT,
      right: RIGHT,
      across: AXIS.moneySavedYearLongRun(currency),
      layers: layersOf(dots, ticks, height),
    }),
    table: {
      columns: ['Share of the chances below', `Saving, ${currency} a year`],
      rows: [0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99].map((p) => [
        `${Math.round(p * 100)} %`,
        words(quantileSorted(sorted, p)),
      ]),
    },
    leftOut: null,
  };
}

const words = (value: number): string => amount(value, DIGITS);

function findingOf(sorted: number[], currency: string): string {
  const [low, middle, high] = [0.05, 0.5, 0.95].map((p) => quantileSorted(sorted, p)) as [
    number,
    number,
    number,
  ];
  const better = sorted.filter((value) => value > 0).length / sorted.length;
  const same = sorted.every((value) => value === 0);
  const chance = same
    ? 'the proposal is what is done today'
    : `chance that the proposal is cheaper than today: ${chanceWords(better)}`;
  return `Middle value ${words(middle)} ${currency} a year, nine in ten ${range(low, high, words)}; ${chance}`;
}

interface Dot {
  saving: number;
  y: number;
  loss: boolean;
}

/** Dots of the fifty quantiles stacked in columns a dot wide, the lowest at the foot. */
function dotsOf(sorted: number[]): { dots: Dot[]; height: number; ticks: number[] } {
  const values = Array.from({ length: DOTS }, (_, i) => quantileSorted(sorted, (i + 0.5) / DOTS));
  const [first, last] = [values[0] ?? 0, values[DOTS - 1] ?? 0];
  const wide = Math.max(last - first, Math.abs(first), Math.abs(last)) * 0.04 || 1;
  const ticks = spanTicks(Math.min(0, first - wide), Math.max(0, last + wide), 6);
  const span = (ticks[ticks.length - 1] ?? 1) - (ticks[0] ?? 0);
  const column = (span * DOT) / plotWidth({ left: LEFT, right: RIGHT });
  const counts = new Map<number, number>();
  const placed = values.map((value) => {
    // Columns begin at 0, so that no dot stands across it.
    const place = Math.floor(value / column);
    const rank = counts.get(place) ?? 0;
    counts.set(place, rank + 1);
    return { saving: fine((place + 0.5) * column), rank, loss: value <= 0 };
  });
  const tallest = Math.max(...counts.values());
  const step = Math.min(STEP, MOST_STACK / tallest);
  const height = Math.max(LEAST_HEIGHT, step * tallest + 26);
  const dots = placed.map(({ rank, ...dot }) => ({ ...dot, y: height - 7 - step * rank }));
  return { dots, height, ticks };
}

/** Whether the numbers at the ends of the axis, put under their ticks, would leave the picture. */
function isWide(ticks: readonly number[]): boolean {
  const ends = [ticks[0] ?? 0, ticks[ticks.length - 1] ?? 0].map((tick) => amount(tick, ALL_DIGITS));
  return ends.some((text) => textWidth(text, TICK_SIZE) / 2 > Math.min(LEFT, RIGHT) - 2);
}

function layersOf(dots: Dot[], ticks: number[], height: number): Layer[] {
  const scale = { domain: [ticks[0] ?? 0, ticks[ticks.length - 1] ?? 1], nice: false, zero: false };
  const x = onScale('saving', scale);
  const y = { field: 'y', type: 'quantitative', scale: null };
  const point = (rows: Dot[], mark: Record<string, unknown>): Layer =>
    tipped(
      layer(
        { type: 'point', shape: 'circle', filled: true, size: 78, strokeWidth: 1.5, opacity: 1, ...mark },
        rows.map(({ saving, y: place }) => ({ saving, y: place })),
        { x, y },
      ),
      ({ saving }) => `one chance in ${DOTS}: about ${amount(Number(saving), 2)} a year`,
    );
  return [
    layer({ type: 'rule', opacity: 0 }, [{ saving: 0 }], {
      x: {
        field: 'saving',
        type: 'quantitative',
        scale,
        axis: { values: ticks, grid: false, labelExpr: tickText(), labelFlush: isWide(ticks) },
      },
    }),
    layer({ type: 'rule', color: COLOUR.ink, strokeWidth: 1, opacity: 1 }, [{ saving: 0 }], {
      x,
      y: { value: 0 },
      y2: { value: height },
    }),
    point(
      dots.filter(({ loss }) => !loss),
      FULL,
    ),
    point(
      dots.filter(({ loss }) => loss),
      HOLLOW,
    ),
    ...keyLayers(dots),
  ];
}

/** What the two kinds of dots mean, counted, above the plot. */
function keyLayers(dots: Dot[]): Layer[] {
  const lost = dots.filter(({ loss }) => loss).length;
  const key = (x: number, label: string, mark: Record<string, unknown>): Layer[] => [
    layer(
      { type: 'point', shape: 'circle', filled: true, size: 78, strokeWidth: 1.5, opacity: 1, ...mark },
      [{}],
      { x: { value: x + 6 }, y: { value: KEY_AT } },
    ),
    layer(
      { type: 'text', align: 'left', baseline: 'middle', color: COLOUR.ink, fontSize: LABEL_SIZE },
      [{ label }],
      { x: { value: x + 17 }, y: { value: KEY_AT }, text: { field: 'label', type: 'nominal' } },
    ),
  ];
  return [
    ...key(0, `proposal cheaper: ${DOTS - lost} of ${DOTS}`, FULL),
    ...key(190, `today as cheap or cheaper: ${lost} of ${DOTS}`, HOLLOW),
  ];
}
