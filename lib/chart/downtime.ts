/** Hours of downtime a year against diaphragms fitted a year, as intervals go from long to short. */

import type { DowntimeFront, DowntimePoint } from '../yearly/outlookTypes.js';
import { countAxis, fine, roundTicks, scaleTo, spanTicks, tickText } from './axes.js';
import { framed } from './frame.js';
import { circles, diamonds, label, layer, onScale } from './marks.js';
import { AXIS, COLUMN, TITLE } from './texts.js';
import { COLOUR } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, count, hoursWords, percent, pieces, range } from './words.js';

const HEIGHT = 230;
const LEFT = 50;
const RIGHT = 30;

const hourWords = (hours: number): string => (hours < 0.1 ? hoursWords(hours) : `${amount(hours, 3)} h`);

export function downtimeChart(front: DowntimeFront, currency: string): Chart {
  const title = TITLE.downtimeAgainstReplacements;
  const finding = findingOf(front);
  const description = `${finding}. ${moreWords(front, currency)} Hours are those of each line by itself: stops made for replacements (proposed ${hourWords(front.proposed.plannedHours)}) and leaks (${hourWords(front.proposed.leakHours)}); range of the proposal ${range(front.proposed.low, front.proposed.high, hourWords)}.`;
  return {
    ...framed('downtime', {
      title,
      finding,
      description,
      unit: AXIS.hoursDowntimeYearLines,
      across: AXIS.diaphragmsFittedAYear,
      height: HEIGHT,
      left: LEFT,
      right: RIGHT,
      layers: layersOf(front),
    }),
    table: tableOf(front),
    leftOut: moreWords(front, currency),
  };
}

function findingOf({ today, proposed }: DowntimeFront): string {
  const fitted = proposed.replacementsPerYear - today.replacementsPerYear;
  const hours = proposed.hours - today.hours;
  return `Proposed: ${pieces(proposed.replacementsPerYear)} fitted and ${hourWords(proposed.hours)} of downtime a year, ${moved(fitted, pieces)} and ${moved(hours, hourWords)} than today`;
}

const moved = (by: number, words: (value: number) => string): string =>
  `${words(Math.abs(by))} ${by < 0 ? 'less' : 'more'}`;

/** What one more replacement buys, in a sentence. */
function moreWords({ oneMore }: DowntimeFront, currency: string): string {
  if (oneMore === null) return 'Shorter intervals than proposed would ask for no more replacements.';
  const { factor, hoursSaved, costSaved } = oneMore;
  const hours = `${hoursSaved >= 0 ? 'saves' : 'adds'} ${shortWords(Math.abs(hoursSaved))} of downtime`;
  const pays = `${costSaved >= 0 ? 'saves' : 'costs'} ${amount(Math.abs(costSaved), 2)} ${currency} on balance`;
  const joined = hoursSaved >= 0 === costSaved >= 0 ? 'and' : 'but';
  return `Beyond the proposal, with all intervals at ${percent(factor)}, each further replacement ${hours} ${joined} ${pays}.`;
}

/** "1.4 hours", "3 minutes". */
function shortWords(hours: number): string {
  return hours >= 1 ? `${amount(hours, 2)} hours` : count(Math.round(60 * hours), 'minute');
}

function layersOf({ points, today, proposed }: DowntimeFront): Layer[] {
  const all: DowntimePoint[] = [...points, today];
  const counts = all.map(({ replacementsPerYear }) => replacementsPerYear);
  const [fewest, most] = [Math.min(...counts), Math.max(...counts)];
  const margin = 0.09 * (most - fewest || 1);
  const domainX: [number, number] = [fewest - 1.3 * margin, most + margin];
  const ticksY = roundTicks(Math.max(1, ...all.map(({ hours }) => hours)), 4);
  const scaleX = { domain: domainX, nice: false, zero: false };
  const ticksX = spanTicks(...domainX, 5).filter((tick) => tick >= domainX[0] && tick <= domainX[1]);
  const scaleY = scaleTo(ticksY);
  const x = onScale('count', scaleX);
  const y = onScale('hours', scaleY);
  const row = ({ replacementsPerYear, hours }: DowntimePoint, words = '') => ({
    count: fine(replacementsPerYear),
    hours: fine(hours),
    label: words,
  });
  const path = points.map((point) => row(point, percent(point.factor)));
  const shorter = path.filter((_, i) => (points[i]?.factor ?? 1) < 1);
  const longer = path.filter((_, i) => (points[i]?.factor ?? 1) > 1);
  const [now, then] = [[row(today, 'today')], [row(proposed, 'proposed')]];
  const tips = ({ label: name, count: fitted, hours }: Record<string, unknown>): string =>
    `${name}: ${pieces(Number(fitted))} fitted, ${hourWords(Number(hours))} of downtime a year`;
  return [
    layer({ type: 'rule', opacity: 0 }, [{ count: fine(most), hours: 0 }], {
      x: {
        field: 'count',
        type: 'quantitative',
        scale: scaleX,
        axis: { values: ticksX, grid: false, labelExpr: tickText(), labelFlush: false },
      },
      y: { field: 'hours', type: 'quantitative', scale: scaleY, axis: countAxis(ticksY) },
    }),
    layer(
      { type: 'line', strokeWidth: 2, color: COLOUR.rule, opacity: 1 },
      path.map((each, order) => ({ ...each, order })),
      { x, y, order: { field: 'order', type: 'quantitative' } },
    ),
    tipped(circles([...shorter, ...longer], { x, y }, 22, COLOUR.rule), tips),
    tipped(circles(now, { x, y }, 60), tips),
    tipped(diamonds(then, { x, y }, 95), tips),
    ...labelLayers({ longer, shorter }, { now, then }, { x, y }, today.hours >= proposed.hours),
  ];
}

type Row = { count: number; hours: number; label: string };

/** Longer steps beside the falling line, shorter ones below it; today and the proposal on sides away from each other. */
function labelLayers(
  { longer, shorter }: { longer: Row[]; shorter: Row[] },
  { now, then }: { now: Row[]; then: Row[] },
  axes: { x: Record<string, unknown>; y: Record<string, unknown> },
  todayAbove: boolean,
): Layer[] {
  const quiet = { color: COLOUR.text, size: 11 };
  return [
    label(longer, axes, { ...quiet, align: 'right', dx: -7, dy: 7 }),
    label(shorter, axes, { ...quiet, align: 'center', dy: 14 }),
    label(now, axes, {
      align: todayAbove ? 'left' : 'center',
      dx: todayAbove ? 9 : 0,
      dy: todayAbove ? -8 : 32,
    }),
    label(then, axes, {
      align: 'center',
      dy: todayAbove ? 18 : -14,
      bold: true,
      color: COLOUR.rust,
    }),
  ];
}

function tableOf({ points, today, proposed }: DowntimeFront): Chart['table'] {
  const cells = (name: string, point: DowntimePoint): string[] => [
    name,
    pieces(point.replacementsPerYear),
    ...[point.hours, point.low, point.high, point.plannedHours, point.leakHours].map((hours) =>
      amount(hours, 3),
    ),
  ];
  return {
    columns: [
      COLUMN.intervals,
      COLUMN.diaphragmsFittedAYear,
      COLUMN.downtimeHAYear,
      COLUMN.low5Percent,
      COLUMN.high95Percent,
      COLUMN.ofItPlannedStops,
      COLUMN.leaks,
    ],
    rows: [
      cells('today', today),
      cells('proposed', proposed),
      ...points
        .filter(({ factor }) => factor !== 1)
        .map((point) => cells(`${percent(point.factor)} of the proposed`, point)),
    ],
  };
}
