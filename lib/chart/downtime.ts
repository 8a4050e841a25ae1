/** Hours of downtime a year against diaphragms fitted a year, as intervals go from long to short. */
import type { DowntimeFront, DowntimePoint } from '../yearly/outlookTypes.js';
import { countAxis, fine, roundTicks, scaleTo, spanTicks, TICK_TEXT } from './axes.js';
import { frameSpec } from './frame.js';
import { circles, diamonds, label, layer, onScale } from './marks.js';
import { COLOUR } from './theme.js';
import type { Chart, Layer } from './types.js';
import { amount, percent, pieces, range } from './words.js';

const HEIGHT = 230;
const LEFT = 50;
const RIGHT = 30;

const hourWords = (hours: number): string => `${amount(hours, 3)} h`;

export function downtimeChart(front: DowntimeFront, currency: string): Chart {
  const title = 'Downtime against replacements';
  const finding = findingOf(front);
  const description = `${finding}. ${moreWords(front, currency)} Hours are those of each line by itself: stops made for replacements (proposed ${hourWords(front.proposed.plannedHours)}) and leaks (${hourWords(front.proposed.leakHours)}); range of the proposal ${range(front.proposed.low, front.proposed.high, hourWords)}.`;
  return {
    name: 'downtime',
    title,
    finding,
    description,
    spec: frameSpec({
      title,
      finding,
      description,
      unit: 'Hours of downtime a year, all lines',
      across: 'Diaphragms fitted a year',
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
  return `Proposed: ${pieces(proposed.replacementsPerYear)} fitted, ${hourWords(proposed.hours)} of downtime a year; today: ${pieces(today.replacementsPerYear)} and ${hourWords(today.hours)}`;
}

/** What one more replacement buys, in a sentence. */
function moreWords({ oneMore }: DowntimeFront, currency: string): string {
  if (oneMore === null) return 'Shorter intervals than proposed would ask for no more replacements.';
  const money = (value: number): string => amount(Math.abs(value), 2);
  const { factor, hoursSaved, costSaved } = oneMore;
  const hours =
    hoursSaved >= 0
      ? `saves ${amount(hoursSaved, 2)} h of downtime`
      : `adds ${amount(-hoursSaved, 2)} h of downtime`;
  const pays = costSaved >= 0 ? `saves ${money(costSaved)}` : `costs ${money(costSaved)}`;
  return `Beyond the proposal, at ${percent(factor)} of its intervals, each further replacement a year ${hours} and ${pays} ${currency} on balance.`;
}

function layersOf({ points, today, proposed }: DowntimeFront): Layer[] {
  const all: DowntimePoint[] = [...points, today];
  const counts = all.map(({ replacementsPerYear }) => replacementsPerYear);
  const ticksX = spanTicks(Math.min(...counts), Math.max(...counts, Math.min(...counts) + 1), 5);
  const ticksY = roundTicks(Math.max(1, ...all.map(({ hours }) => hours)), 4);
  const scaleX = { domain: [ticksX[0] ?? 0, ticksX[ticksX.length - 1] ?? 1], nice: false, zero: false };
  const scaleY = scaleTo(ticksY);
  const x = onScale('count', scaleX);
  const y = onScale('hours', scaleY);
  const row = ({ replacementsPerYear, hours }: DowntimePoint, words = '') => ({
    count: fine(replacementsPerYear),
    hours: fine(hours),
    label: words,
  });
  const path = points.map((point) => row(point, percent(point.factor)));
  const steps = path.filter((_, i) => points[i]?.factor !== 1);
  const [now, then] = [[row(today, 'today')], [row(proposed, 'proposed')]];
  return [
    layer({ type: 'rule', opacity: 0 }, [{ count: scaleX.domain[0], hours: 0 }], {
      x: {
        field: 'count',
        type: 'quantitative',
        scale: scaleX,
        axis: { values: ticksX, grid: false, labelExpr: TICK_TEXT, labelFlush: false },
      },
      y: { field: 'hours', type: 'quantitative', scale: scaleY, axis: countAxis(ticksY) },
    }),
    layer(
      { type: 'line', strokeWidth: 2, color: COLOUR.rule, opacity: 1 },
      path.map((each, order) => ({ ...each, order })),
      { x, y, order: { field: 'order', type: 'quantitative' } },
    ),
    circles(steps, { x, y }, 22, COLOUR.rule),
    circles(now, { x, y }, 60),
    diamonds(then, { x, y }, 95),
    ...labelLayers(steps, { now, then }, { x, y }, today.hours >= proposed.hours),
  ];
}

type Row = { count: number; hours: number; label: string };

/** Steps below their points, today and the proposal on sides away from each other. */
function labelLayers(
  steps: Row[],
  { now, then }: { now: Row[]; then: Row[] },
  axes: { x: Record<string, unknown>; y: Record<string, unknown> },
  todayAbove: boolean,
): Layer[] {
  return [
    label(steps, axes, { align: 'center', dy: 14, color: COLOUR.text, size: 11 }),
    label(now, axes, { align: 'center', dy: todayAbove ? -14 : 32 }),
    label(then, axes, { align: 'center', dy: todayAbove ? 16 : -14, bold: true, color: COLOUR.rust }),
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
      'Intervals',
      'Diaphragms fitted a year',
      'Downtime, h a year',
      'Low (5 %)',
      'High (95 %)',
      'Of it planned stops',
      'Leaks',
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
