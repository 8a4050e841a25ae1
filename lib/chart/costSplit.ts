/** Where the yearly cost comes from, today and proposed: cash, planned line time, and leaks on average. */

import type { CostComparison, YearlyCost } from '../yearly/types.js';
import { fine, roundTicks, tickText } from './axes.js';
import { frameSpec } from './frame.js';
import { label, layer, onScale } from './marks.js';
import { moneyWords } from './money.js';
import { rowAxes } from './rows.js';
import { AXIS, COLUMN } from './texts.js';
import { textWidth } from './textWidth.js';
import { COLOUR, LABEL_SIZE } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';

type Part = 'parts' | 'labour' | 'plannedStop' | 'leakDowntime' | 'lostBatches';

/**
 * Three kinds of cost: cash that is paid for certain, line time of stops that are planned (certain as well), and what
 * leaks cost, which is an average over good and bad years.
 */
export type CostKind = 'cash' | 'planned line time' | 'leaks, on average';

/** Name, kind and field of each part. */
export const COST_PARTS: readonly { field: Part; name: string; kind: CostKind }[] = [
  { field: 'parts', name: 'Parts', kind: 'cash' },
  { field: 'labour', name: 'Labour', kind: 'cash' },
  { field: 'plannedStop', name: 'Planned stops with re-sterilising', kind: 'planned line time' },
  { field: 'leakDowntime', name: 'Downtime and clean-up after leaks', kind: 'leaks, on average' },
  { field: 'lostBatches', name: 'Lost batches', kind: 'leaks, on average' },
];

const ROW = 40;

/** Short names beside the rows. */
const BESIDE: Readonly<Record<CostKind, string>> = {
  cash: 'cash',
  'planned line time': 'stops',
  'leaks, on average': 'leaks',
};

export function costSplit(cost: CostComparison, currency: string): Chart {
  const parts = COST_PARTS.filter(({ field }) => field !== 'lostBatches' || cost.covers !== 'downtime only');
  const title = `Where the money goes${cost.covers === 'downtime only' ? ' (downtime only, no batch value given)' : ''}`;
  const finding = findingOf(cost, parts, currency);
  const description = descriptionOf(cost, parts, currency);
  return {
    name: 'cost-split',
    title,
    finding,
    description,
    spec: specOf(cost, parts, { title, finding, description, currency }),
    table: tableOf(cost, currency),
    leftOut: null,
  };
}

function findingOf(cost: CostComparison, parts: typeof COST_PARTS, currency: string): string {
  const largest = [...parts].sort((a, b) => change(cost, b.field) - change(cost, a.field))[0];
  const money = moneyWords(cost);
  const totals = `${money(cost.today.perYear)} ${currency} a year today, ${money(cost.proposed.perYear)} proposed`;
  if (largest === undefined || change(cost, largest.field) === 0) return totals;
  const { [largest.field]: now } = cost.today;
  const { [largest.field]: then } = cost.proposed;
  return `${totals}; most of the change is in ${largest.name.toLowerCase()} (${money(now)} to ${money(then)})`;
}

const change = ({ today, proposed }: CostComparison, field: Part): number =>
  Math.abs(proposed[field] - today[field]);

function descriptionOf(cost: CostComparison, parts: typeof COST_PARTS, currency: string): string {
  const money = moneyWords(cost);
  const each = parts.map(
    ({ field, name }) => `${name} ${money(cost.today[field])} to ${money(cost.proposed[field])}`,
  );
  return `${findingOf(cost, parts, currency)}. Today to proposed, ${currency} a year in the long run: ${each.join(', ')}.`;
}

function specOf(
  cost: CostComparison,
  parts: typeof COST_PARTS,
  texts: { title: string; finding: string; description: string; currency: string },
): Chart['spec'] {
  const { today, proposed } = cost;
  const money = moneyWords(cost);
  const rows = rowAxes(
    parts.map(({ name }) => name),
    ROW,
  );
  const left = rows.left + 14;
  const highest = Math.max(1, ...parts.flatMap(({ field }) => [today[field], proposed[field]]));
  const ticks = roundTicks(highest, 4);
  const scale = {
    domain: [0, Math.max(highest * 1.02, (ticks[ticks.length - 2] ?? 0) * 1.02)],
    nice: false,
    zero: false,
  };
  const right = Math.ceil(textWidth(money(highest), LABEL_SIZE, true)) + 22;
  const axis = {
    values: ticks,
    grid: true,
    labelExpr: tickText(),
    labelOverlap: true,
    labelFlush: false,
  };
  return frameSpec({
    ...texts,
    height: rows.height,
    across: AXIS.moneyYearLongRun(texts.currency),
    left,
    right,
    layers: [
      layer({ type: 'rule', opacity: 0 }, [{ value: 0 }], {
        x: { field: 'value', type: 'quantitative', scale, axis },
      }),
      ...bars(today, parts, { from: 0.14, to: 0.47 }, COLOUR.rule, scale, rows.y, money),
      ...bars(proposed, parts, { from: 0.51, to: 0.84 }, COLOUR.rust, scale, rows.y, money, true),
      ...rows.names,
      ...kindLayers(parts, left),
      ...keyLayers(),
    ],
  });
}

function bars(
  cost: YearlyCost,
  parts: typeof COST_PARTS,
  edge: { from: number; to: number },
  color: string,
  scale: Record<string, unknown>,
  y: (field: string) => Record<string, unknown>,
  money: (value: number) => string,
  bold = false,
): Layer[] {
  const values = parts.map(({ field }, i) => ({
    value: fine(cost[field]),
    zero: 0,
    from: i + edge.from,
    to: i + edge.to,
    row: i + (edge.from + edge.to) / 2,
    label: money(cost[field]),
  }));
  return [
    tipped(
      layer({ type: 'rect', color, opacity: 1 }, values, {
        x: onScale('zero', scale),
        x2: { field: 'value' },
        y: y('from'),
        y2: { field: 'to' },
      }),
      parts.map(({ field, name }) => `${name}: ${money(cost[field])}, ${bold ? 'proposed' : 'today'}`),
    ),
    label(
      values,
      { x: onScale('value', scale), y: y('row') },
      { dx: 5, bold, color: bold ? COLOUR.rust : COLOUR.ink },
    ),
  ];
}

/** The kinds beside the rows they hold, each along a line. */
function kindLayers(parts: typeof COST_PARTS, left: number): Layer[] {
  const kinds = [...new Set(parts.map(({ kind }) => kind))];
  const spans = kinds.map((kind) => {
    const first = parts.findIndex((part) => part.kind === kind);
    const rows = parts.filter((part) => part.kind === kind).length;
    return { label: BESIDE[kind], from: first * ROW + 3, to: (first + rows) * ROW - 3 };
  });
  return spans.flatMap((span) => [
    layer({ type: 'rule', color: COLOUR.rule, strokeWidth: 1, opacity: 1 }, [{}], {
      x: { value: -left + 17 },
      y: { value: span.from },
      y2: { value: span.to },
    }),
    layer(
      { type: 'text', angle: 270, align: 'center', baseline: 'middle', color: COLOUR.text, fontSize: 11 },
      [{ label: span.label }],
      {
        x: { value: -left + 9 },
        y: { value: (span.from + span.to) / 2 },
        text: { field: 'label', type: 'nominal' },
      },
    ),
  ]);
}

function keyLayers(): Layer[] {
  const key = (words: string, x: number, color: string): Layer =>
    layer(
      { type: 'text', align: 'left', baseline: 'middle', color, fontSize: 11, fontWeight: 'bold' },
      [{ label: words }],
      {
        x: { value: x },
        y: { value: -6 },
        text: { field: 'label', type: 'nominal' },
      },
    );
  return [key('today', 0, COLOUR.text), key('proposed', 44, COLOUR.rust)];
}

function tableOf(cost: CostComparison, currency: string): Chart['table'] {
  const { today, proposed } = cost;
  const money = moneyWords(cost);
  const rows = COST_PARTS.map(({ field, name, kind }): (string | number)[] => [
    name,
    kind,
    money(today[field]),
    money(proposed[field]),
  ]);
  rows.push(['All', '', money(today.perYear), money(proposed.perYear)]);
  return {
    columns: [COLUMN.part, COLUMN.kind, `Today, ${currency} a year`, `Proposed, ${currency} a year`],
    rows,
  };
}
