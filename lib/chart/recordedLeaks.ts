/** Leaks on record by year beside what the formula says of today's practice: the check that a saving rests on. */

import type { CostComparison, RecordCheck } from '../yearly/types.js';
import { countAxis, fine, roundTicks, scaleTo } from './axes.js';
import { framed, plotWidth } from './frame.js';
import { layer, onScale } from './marks.js';
import { AXIS, COLUMN, TITLE } from './texts.js';
import { COLOUR, LABEL_SIZE } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { count, percent, pieces, range } from './words.js';

const HEIGHT = 190;
const LEFT = 46;
const RIGHT = 112;
/** A year less covered than this is not scaled up to a whole one. */
const LEAST_SHARE = 0.2;
const MOST_YEARS = 20;
/** Where the key begins, right of the unit, px. */
const KEY_AT = 56;

type RecordedYear = CostComparison['recordedLeaksPerYear'][number];

export function recordedLeaks(cost: CostComparison): Chart {
  const years = cost.recordedLeaksPerYear.slice(-MOST_YEARS);
  const title = TITLE.leaksOnRecordBesideFormula;
  const finding = findingOf(cost, years);
  const description = descriptionOf(cost, years);
  const frame = {
    title,
    finding,
    description,
    unit: AXIS.leaksAYear,
    bottom: 38,
    height: HEIGHT,
    left: LEFT,
    right: RIGHT,
  };
  return {
    ...framed('recorded-leaks', { ...frame, layers: layersOf(cost, years) }),
    table: {
      columns: [
        COLUMN.year,
        COLUMN.leaksOnRecord,
        COLUMN.expectedAmongRemovalsWithoutReason,
        COLUMN.shareYearOnRecord,
      ],
      rows: cost.recordedLeaksPerYear.map(({ year, leaks, withoutReason, coveredShare }) => [
        year,
        leaks,
        pieces(withoutReason),
        percent(coveredShare),
      ]),
    },
    leftOut:
      years.length < cost.recordedLeaksPerYear.length
        ? `The picture shows the last ${MOST_YEARS} years.`
        : null,
  };
}

/** False where what is expected without a reason would be said as nothing. */
const hasUnnamed = ({ withoutReason }: Pick<RecordedYear, 'withoutReason'>): boolean => withoutReason >= 0.05;

const allOf = ({ leaks, withoutReason }: RecordedYear): number => leaks + withoutReason;

function findingOf({ today, check }: CostComparison, years: readonly RecordedYear[]): string {
  const [low, high] = wholeRange(today.leaksRange);
  const formula = `the formula says ${range(low, high, pieces)} a year as practised today`;
  const whole = years.filter(({ coveredShare }) => coveredShare > 0.98);
  if (whole.length === 0) return `No whole year is on record; ${formula}`;
  const inside = whole.filter((year) => allOf(year) >= low && allOf(year) <= high).length;
  const counting = whole.some(hasUnnamed) ? ', counting those expected without a reason' : '';
  return `${inside} of ${count(whole.length, 'whole year')} inside the range${counting}; ${formula}${check === null ? '' : `; ${meanWords(check)}`}`;
}

/** The last years together: what a saving rests on. */
function meanWords({ years, named, withoutReason, range: [low, high] }: RecordCheck): string {
  const span = years.length === 1 ? `${years[0]}` : `mean of ${years[0]} to ${years[years.length - 1]}`;
  return `${span}: ${pieces(named + withoutReason)}, by the formula ${range(low, high, pieces)}`;
}

/** The range in whole leaks, rounded outwards. */
function wholeRange([low, high]: [number, number]): [number, number] {
  return [Math.floor(low), Math.ceil(high)];
}

function descriptionOf(cost: CostComparison, years: readonly RecordedYear[]): string {
  const list = years.map(yearText);
  return `${findingOf(cost, years)} (mean ${pieces(cost.today.leaksPerYear)}, 90 % range). On record: ${list.join(', ') || 'nothing'}.`;
}

function yearText({ year, leaks, withoutReason, coveredShare }: RecordedYear): string {
  const more = hasUnnamed({ withoutReason }) ? ` and about ${pieces(withoutReason)} without a reason` : '';
  return `${year}: ${leaks}${more}${coveredShare > 0.98 ? '' : ` in ${percent(coveredShare)} of the year`}`;
}

function layersOf({ today, proposed }: CostComparison, years: readonly RecordedYear[]): Layer[] {
  const [low, high] = wholeRange(today.leaksRange);
  const values = years.map((year, i) => yearRow(year, i));
  const highest = Math.max(2, high, ...values.map(({ full, all }) => Math.max(full ?? 0, all)));
  const ticks = roundTicks(highest, 4).filter((tick) => Number.isInteger(tick));
  const scaleY = scaleTo(ticks);
  const scaleX = { domain: [0, Math.max(years.length, 1)], nice: false, zero: false };
  const bar = { x: onScale('from', scaleX), x2: { field: 'to' } };
  const axisX = {
    values: values.map(({ middle }) => middle),
    labelExpr: `${JSON.stringify(values.map(({ name }) => name))}[floor(datum.value)]`,
    ticks: false,
    labelOverlap: true,
    grid: false,
  };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ middle: 0, leaks: 0 }], {
      x: { field: 'middle', type: 'quantitative', scale: scaleX, axis: axisX },
      y: { field: 'leaks', type: 'quantitative', scale: scaleY, axis: countAxis(ticks) },
    }),
    layer({ type: 'rect', color: COLOUR.band, opacity: 1 }, [{ low, high }], {
      y: onScale('low', scaleY),
      y2: { field: 'high' },
    }),
    layer(
      { type: 'rect', fill: null, stroke: COLOUR.text, strokeDash: [3, 2], strokeWidth: 1, opacity: 1 },
      values.filter(({ full }) => full !== null),
      {
        ...bar,
        y: onScale('all', scaleY),
        y2: { field: 'full' },
      },
    ),
    layer(
      { type: 'rect', fill: COLOUR.paper, stroke: COLOUR.text, strokeWidth: 1, opacity: 1 },
      values.filter(({ all, leaks }) => all > leaks),
      { ...bar, y: onScale('leaks', scaleY), y2: { field: 'all' } },
    ),
    tipped(
      layer({ type: 'rect', color: COLOUR.fill, opacity: 1 }, values, {
        ...bar,
        y: onScale('zero', scaleY),
        y2: { field: 'leaks' },
      }),
      years.map(yearText),
    ),
    layer(
      { type: 'rule', color: COLOUR.ink, strokeWidth: 2, opacity: 1 },
      [{ mean: fine(today.leaksPerYear) }],
      { y: onScale('mean', scaleY) },
    ),
    numbers(values, scaleX, scaleY),
    ...(values.some(({ all, leaks }) => all > leaks) ? keyLayers() : []),
    ...sideWords(today.leaksPerYear, [low, high], proposed.leaksPerYear, ticks),
  ];
}

function yearRow({ year, leaks, withoutReason, coveredShare }: RecordedYear, i: number) {
  const part = coveredShare <= 0.98;
  const all = fine(leaks + withoutReason);
  return {
    name: part ? [String(year), 'part'] : [String(year)],
    middle: i + 0.5,
    from: i + 0.2,
    to: i + 0.8,
    zero: 0,
    leaks,
    label: String(leaks),
    all,
    full: part && coveredShare >= LEAST_SHARE && all > 0 ? fine(all / coveredShare) : null,
  };
}

/** What the two parts of a bar are, above the plot. */
function keyLayers(): Layer[] {
  const square = (x: number, mark: object): Layer =>
    layer({ type: 'rect', opacity: 1, ...mark }, [{}], {
      x: { value: x },
      x2: { value: x + 11 },
      y: { value: -15 },
      y2: { value: -5 },
    });
  const words = (label: string, x: number): Layer =>
    layer(
      { type: 'text', align: 'left', baseline: 'middle', color: COLOUR.text, fontSize: 11 },
      [{ label }],
      {
        x: { value: x + 16 },
        y: { value: -10 },
        text: { field: 'label', type: 'nominal' },
      },
    );
  return [
    square(KEY_AT, { color: COLOUR.fill }),
    words('on record', KEY_AT),
    square(KEY_AT + 78, { fill: COLOUR.paper, stroke: COLOUR.text, strokeWidth: 1 }),
    words('expected among removals without a reason', KEY_AT + 78),
  ];
}

/** The count on record at the foot of each bar. */
function numbers(values: ReturnType<typeof yearRow>[], scaleX: object, scaleY: object): Layer {
  return layer(
    {
      type: 'text',
      align: 'center',
      baseline: 'bottom',
      dy: -4,
      fontWeight: 'bold',
      fontSize: LABEL_SIZE,
      color: COLOUR.ink,
    },
    values,
    {
      x: { field: 'middle', type: 'quantitative', scale: scaleX, title: null },
      y: { field: 'zero', type: 'quantitative', scale: scaleY, title: null },
      text: { field: 'label', type: 'nominal' },
    },
  );
}

/** What band and line mean, to the right of them. */
function sideWords(mean: number, [low, high]: [number, number], proposed: number, ticks: number[]): Layer[] {
  const top = ticks[ticks.length - 1] ?? 1;
  const width = plotWidth({ left: LEFT, right: RIGHT });
  const middle = Math.min(Math.max(HEIGHT * (1 - mean / top), 24), HEIGHT - 44);
  const lines: [string, boolean, string][] = [
    [`formula, today`, true, COLOUR.ink],
    [`${pieces(mean)} a year`, true, COLOUR.ink],
    [`(${range(low, high, pieces)})`, false, COLOUR.text],
    [`proposed: ${pieces(proposed)}`, false, COLOUR.rust],
  ];
  return lines.map(([words, bold, color], i) =>
    layer(
      {
        type: 'text',
        align: 'left',
        baseline: 'middle',
        color,
        fontSize: LABEL_SIZE,
        fontWeight: bold ? 'bold' : 'normal',
      },
      [{ label: words }],
      {
        x: { value: width + 6 },
        y: { value: middle - 14 + i * 15 },
        text: { field: 'label', type: 'nominal' },
      },
    ),
  );
}
