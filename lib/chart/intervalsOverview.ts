/** All groups in one picture: the interval practised today, the proposal and the span that costs within 2 %. */

import { countDirections, isChange, isKept, kindOf } from '../interval/adviceKind.js';
import type { IntervalAdvice } from '../interval/types.js';
import { fine, monthTicks, tickText } from './axes.js';
import { frameSpec, plotWidth } from './frame.js';
import { circles, diamonds, layer, onScale } from './marks.js';
import { endWords, type RowAxes, rowAxes, rowFrame } from './rows.js';
import { AXIS, COLUMN, KEY, TITLE } from './texts.js';
import { COLOUR } from './theme.js';
import { ofRow, tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import {
  amount,
  chanceWords,
  count,
  monthsFromDays,
  monthsOrDays,
  monthsSpan,
  monthsText,
  plainName,
  SHORTEST_MONTH_DAYS,
  spanWords,
} from './words.js';

/** Rows that one picture can hold; groups with the most money at stake come first. */
export const MOST_GROUPS = 30;

export function intervalsOverview(intervals: readonly IntervalAdvice[], currency: string): Chart {
  const ranked = [...intervals].sort((a, b) => stake(b) - stake(a));
  const used = ranked.filter((each) => kindOf(each) !== 'unused');
  const shown = used.slice(0, MOST_GROUPS);
  const title = TITLE.replacementIntervalsTodayProposed;
  const finding = findingOf(intervals);
  const told = shown.slice(0, 8).map(sentenceOf).join('; ');
  const description =
    told === '' ? `${finding}.` : `${finding}. ${told}${shown.length > 8 ? '; and more in the table' : ''}.`;
  return {
    name: 'intervals',
    title,
    finding,
    description,
    spec: specOf(shown, title, finding, description),
    table: tableOf(ranked, currency),
    leftOut:
      used.length > shown.length
        ? `The picture shows the ${shown.length} groups with most at stake; ${count(used.length - shown.length, 'more is', 'more are')} in the table and in intervals.csv.`
        : null,
  };
}

function findingOf(intervals: readonly IntervalAdvice[]): string {
  if (intervals.length === 0) return 'No group could be formed';
  const counts = countDirections(intervals);
  const words: [number, string][] = [
    [counts.shorten, 'shorter'],
    [counts.lengthen, 'longer'],
    [counts.start, 'newly scheduled'],
    [counts.leave, 'as today'],
    [counts.near, 'kept (within 2 % of the least cost already)'],
    [counts.keep, 'kept for want of records'],
    [counts.unpriced, 'kept for want of prices'],
    [counts.run, 'run until they leak'],
    [counts.unused, 'used by no position now'],
  ];
  const parts = words.filter(([number]) => number > 0).map(([number, word]) => `${number} ${word}`);
  return `Of ${count(intervals.length, 'group')}: ${parts.join(', ')}`;
}

function stake(each: IntervalAdvice): number {
  return Math.abs(each.costPerYearToday - each.costPerYear) * each.positions;
}

function sentenceOf(each: IntervalAdvice): string {
  return `${plainName(each.group)} ${changeWords(each)}`;
}

/** "12 → 8", "keep 12", "run"; with units where one of them is under a month: "6 months → 12 days". */
export function changeWords(each: IntervalAdvice): string {
  const { action, days, today } = each;
  const words = Math.min(days ?? Infinity, today ?? Infinity) < SHORTEST_MONTH_DAYS ? spanWords : monthsText;
  const now = today === null ? 'none' : words(today);
  if (action === 'run') return `${now} → run`;
  if (days === null) return 'keep as is';
  if (isKept(each)) return `keep ${monthsOrDays(days)}`;
  return kindOf(each) === 'leave' ? `${monthsOrDays(days)} as today` : `${now} → ${words(days)}`;
}

function specOf(shown: IntervalAdvice[], title: string, finding: string, description: string): Chart['spec'] {
  const rows = rowAxes(shown.map(({ group }) => plainName(group)));
  const words = shown.map((each) => ({ text: changeWords(each), bold: true, rust: isChange(each) }));
  const frame = rowFrame(rows, words, 135, true);
  return frameSpec({
    title,
    finding,
    description,
    height: rows.height,
    across: AXIS.monthsBetweenReplacements,
    ...frame,
    layers: layersOf(shown, rows, plotWidth(frame), endWords(words, rows, frame, plotWidth(frame))),
  });
}

function layersOf(shown: IntervalAdvice[], rows: RowAxes, width: number, words: Layer[]): Layer[] {
  const last = Math.max(6, ...shown.map(farthest)) * 1.06;
  const scale = { domain: [0, fine(last)], nice: false, zero: false };
  const x = onScale('months', scale);
  const values = shown.map((each, i) => rowOf(each, i, last));
  const y = rows.y('row');
  const tips = ofRow(shown.map(sentenceOf));
  const axis = {
    values: monthTicks(last, width < 240 ? 6 : 10),
    labelExpr: tickText(),
    grid: true,
  };
  const spans = values.filter(({ from }) => from !== null);
  const moves = values.filter(({ today, proposed }) => today !== null && proposed !== null);
  return [
    layer({ type: 'rule', opacity: 0 }, [{ months: 0 }], {
      x: { field: 'months', type: 'quantitative', scale, axis },
    }),
    layer({ type: 'rule', color: COLOUR.grid, strokeWidth: 1 }, values, { y: rows.y('foot') }),
    layer({ type: 'rect', color: COLOUR.soft, opacity: 1 }, spans, {
      x: onScale('from', scale),
      x2: { field: 'to' },
      y: rows.y('low'),
      y2: { field: 'high' },
    }),
    layer({ type: 'rect', color: COLOUR.rust, opacity: 1 }, spans, {
      x: onScale('from', scale),
      x2: { field: 'to' },
      y: rows.y('barLow'),
      y2: { field: 'high' },
    }),
    layer({ type: 'rule', color: COLOUR.rule, strokeWidth: 1.5, opacity: 1 }, moves, {
      x: onScale('today', scale),
      x2: { field: 'proposed' },
      y,
    }),
    tipped(
      circles(
        values.filter(({ today }) => today !== null).map((row) => ({ ...row, months: row.today })),
        { x, y },
        60,
      ),
      tips,
    ),
    tipped(
      diamonds(
        values.filter(({ proposed }) => proposed !== null).map((row) => ({ ...row, months: row.proposed })),
        { x, y },
        75,
      ),
      tips,
    ),
    ...rows.names,
    ...words,
    ...keyLayers(width),
  ];
}

function farthest({ days, today, within2percent }: IntervalAdvice): number {
  const proposed = days ?? 0;
  const span = Math.min(within2percent?.[1] ?? 0, Math.max(proposed, today ?? 0, 180) * 2);
  return monthsFromDays(Math.max(proposed, today ?? 0, span));
}

function rowOf({ action, days, today, within2percent }: IntervalAdvice, i: number, last: number) {
  const months = (age: number | null) => (age === null ? null : fine(monthsFromDays(age)));
  const within = action === 'run' ? null : within2percent;
  return {
    row: i + 0.5,
    foot: i + 1,
    low: i + 0.2,
    barLow: i + 0.72,
    high: i + 0.8,
    today: months(today),
    proposed: action === 'run' ? null : months(days),
    from: within === null ? null : Math.min(months(within[0]) ?? 0, last),
    to: within === null ? null : Math.min(months(within[1]) ?? 0, last),
  };
}

/** What the signs mean, above the first row, with the signs themselves. */
function keyLayers(width: number): Layer[] {
  const text = (words: string, x: number, color: string): Layer =>
    layer({ type: 'text', align: 'left', baseline: 'middle', color, fontSize: 11 }, [{ label: words }], {
      x: { value: x },
      y: { value: -12 },
      text: { field: 'label', type: 'nominal' },
    });
  const at = (x: number) => ({ x: { value: x }, y: { value: -12 } });
  const narrow = width < 250;
  return [
    circles([{}], at(4), 50),
    text(KEY.today, 12, COLOUR.ink),
    diamonds([{}], at(54), 65),
    text(KEY.proposed, 62, COLOUR.rust),
    ...(narrow
      ? []
      : [
          layer({ type: 'rect', color: COLOUR.rust, opacity: 1 }, [{}], {
            x: { value: 122 },
            x2: { value: 142 },
            y: { value: -13 },
            y2: { value: -10 },
          }),
          text(KEY.within2PercentLeastCost, 147, COLOUR.text),
        ]),
  ];
}

function tableOf(intervals: IntervalAdvice[], currency: string): Chart['table'] {
  return {
    columns: [
      COLUMN.group,
      COLUMN.positions,
      COLUMN.today,
      COLUMN.proposed,
      COLUMN.costsWithin2PercentMonths,
      `Cost today, ${currency} per position and year`,
      COLUMN.costProposed,
      COLUMN.chanceThatNewIntervalCheaper,
    ],
    rows: intervals.map((each) => [
      each.group,
      each.positions,
      spanWords(each.today),
      proposedWords(each),
      each.within2percent === null ? 'none' : monthsSpan(each.within2percent),
      kindOf(each) === 'unused' ? null : amount(each.costPerYearToday),
      kindOf(each) === 'unused' ? null : amount(each.costPerYear),
      isChange(each) ? chanceWords(each.chanceBetter) : null,
    ]),
  };
}

function proposedWords(each: IntervalAdvice): string {
  if (kindOf(each) === 'unused') return 'not used now';
  return each.action === 'run' ? 'run until it leaks' : spanWords(each.days);
}
