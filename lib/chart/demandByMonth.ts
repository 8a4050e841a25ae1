/** Diaphragms needed by month: planned solid below, leaks and openings above, with the 80 % range of the total. */

import type { DemandMonth } from '../demand/types.js';
import { countAxis, fine, roundTicks, scaleTo } from './axes.js';
import { framed, plotWidth } from './frame.js';
import { layer, onScale } from './marks.js';
import { AXIS, COLUMN } from './texts.js';
import { COLOUR } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { count, monthWords, pieces, plainName, range, slug } from './words.js';

const HEIGHT = 170;
const LEFT = 40;
const RIGHT = 108;
const MOST_MONTHS = 24;
const QUARTERS = ['Jan', 'Apr', 'Jul', 'Oct'];

/** One item's months, in order. */
export function demandByMonth(item: string, months: readonly DemandMonth[]): Chart {
  const shown = months.slice(0, MOST_MONTHS);
  const title = `${plainName(item)}: needed by month`;
  const finding = findingOf(shown);
  const description = `${finding}. ${shown.map(needText).join('; ')}.`;
  const frame = {
    title,
    finding,
    description,
    unit: AXIS.piecesAMonth,
    height: HEIGHT,
    left: LEFT,
    right: RIGHT,
    bottom: 38,
  };
  return {
    ...framed(`demand-${slug(item)}`, { ...frame, layers: layersOf(shown) }),
    table: {
      columns: [
        COLUMN.month,
        COLUMN.planned,
        COLUMN.leaks,
        COLUMN.openedForOtherWork,
        COLUMN.together,
        COLUMN.of80PercentRange,
      ],
      rows: months.map((each) => [
        monthText(each.month),
        pieces(each.planned),
        pieces(each.leaks),
        pieces(each.opened),
        pieces(each.mean),
        range(each.low, each.high, pieces),
      ]),
    },
    leftOut:
      months.length > shown.length ? `The picture shows ${MOST_MONTHS} months, the table all of them.` : null,
  };
}

function findingOf(months: readonly DemandMonth[]): string {
  const peak = [...months].sort((a, b) => b.mean - a.mean)[0];
  if (peak === undefined || peak.mean === 0) return 'Nothing is expected to be needed';
  const total = months.reduce((all, { mean }) => all + mean, 0);
  return `${pieces(total)} in ${count(months.length, 'month')}; most in ${monthText(peak.month)}: ${pieces(peak.mean)} (80 %: ${range(peak.low, peak.high, pieces)})`;
}

/** "Oct 2026". */
function monthText(month: string): string {
  const { name, year } = monthWords(month);
  return `${name} ${year}`;
}

function needText({ month, mean, low, high }: DemandMonth): string {
  return `${monthText(month)} ${pieces(mean)} (${range(low, high, pieces)})`;
}

function layersOf(months: readonly DemandMonth[]): Layer[] {
  const ticks = roundTicks(Math.max(1, ...months.map(({ high, mean }) => Math.max(high, mean))), 4).filter(
    Number.isInteger,
  );
  const scaleY = scaleTo(ticks);
  const scaleX = { domain: [0, Math.max(months.length, 1)], nice: false, zero: false };
  const values = months.map(barOf);
  const bar = { x: onScale('from', scaleX), x2: { field: 'to' } };
  const middle = onScale('middle', scaleX);
  const tips = months.map((month) => `${needText(month)}, planned ${pieces(month.planned)}`);
  const part = (color: string, from: string, to: string): Layer =>
    tipped(
      layer({ type: 'rect', color, opacity: 1 }, values, {
        ...bar,
        y: onScale(from, scaleY),
        y2: { field: to },
      }),
      tips,
    );
  return [
    axesLayer(months, scaleX, scaleY, ticks),
    part(COLOUR.band, 'mean', 'high'),
    part(COLOUR.rule, 'planned', 'mean'),
    part(COLOUR.navy, 'zero', 'planned'),
    layer({ type: 'rule', color: COLOUR.rust, strokeWidth: 1.5, opacity: 1 }, values, {
      x: middle,
      y: onScale('low', scaleY),
      y2: { field: 'high' },
    }),
    ...['low', 'high'].map((field) =>
      layer(
        { type: 'tick', color: COLOUR.rust, thickness: 1.5, size: 6, opacity: 1, orient: 'horizontal' },
        values,
        { x: middle, y: onScale(field, scaleY) },
      ),
    ),
    ...keyLayers(),
  ];
}

function barOf({ planned, mean, low, high }: DemandMonth, i: number) {
  return {
    from: i + 0.12,
    to: i + 0.88,
    middle: i + 0.5,
    zero: 0,
    planned: fine(planned),
    mean: fine(mean),
    low: fine(low),
    high: fine(Math.max(high, mean)),
  };
}

/** Months by name, every third where there are many; the year under January and under the first. */
function axesLayer(months: readonly DemandMonth[], scaleX: object, scaleY: object, ticks: number[]): Layer {
  const named = months
    .map(({ month }, i) => ({ ...monthWords(month), i }))
    .filter(({ name, i }) =>
      months.length <= 12
        ? true
        : (QUARTERS.includes(name) && (name === 'Jan' || i > 2 || i === 0)) || i === 0,
    );
  const names = Object.fromEntries(
    named.map(({ name, year, i }) => [i, name === 'Jan' || i === 0 ? [name, year] : [name]]),
  );
  const axisX = {
    values: named.map(({ i }) => i + 0.5),
    labelExpr: `${JSON.stringify(names)}[floor(datum.value)]`,
    ticks: false,
    grid: false,
  };
  return layer({ type: 'rule', opacity: 0 }, [{ middle: 0, zero: 0 }], {
    x: { field: 'middle', type: 'quantitative', scale: scaleX, axis: axisX },
    y: { field: 'zero', type: 'quantitative', scale: scaleY, axis: countAxis(ticks) },
  });
}

/** What the three parts are, beside the plot, each with its own patch. */
function keyLayers(): Layer[] {
  const x = plotWidth({ left: LEFT, right: RIGHT }) + 8;
  const lines: [string, string][] = [
    ['80 % range', COLOUR.rust],
    ['leaks, openings', COLOUR.rule],
    ['planned', COLOUR.navy],
  ];
  return lines.flatMap(([words, color], i) => {
    const y = HEIGHT - 58 + i * 20;
    const patch =
      i === 0
        ? layer({ type: 'rule', color, strokeWidth: 1.5, opacity: 1 }, [{}], {
            x: { value: x + 4 },
            y: { value: y - 7 },
            y2: { value: y + 7 },
          })
        : layer({ type: 'rect', color, opacity: 1 }, [{}], {
            x: { value: x },
            x2: { value: x + 9 },
            y: { value: y - 5 },
            y2: { value: y + 5 },
          });
    return [
      patch,
      layer(
        { type: 'text', align: 'left', baseline: 'middle', color: COLOUR.ink, fontSize: 11 },
        [{ label: words }],
        {
          x: { value: x + 13 },
          y: { value: y },
          text: { field: 'label', type: 'nominal' },
        },
      ),
    ];
  });
}
