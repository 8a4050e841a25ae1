/** Cost of the whole plant a year with all proposed intervals made shorter or longer, by cause. */

import { at, itemAt } from '../numeric/columns.js';
import type { CostByInterval } from '../yearly/outlookTypes.js';
import type { CostComparison } from '../yearly/types.js';
import { countAxis, fine, roundTicks } from './axes.js';
import { framed, leftFor, plotWidth, spread } from './frame.js';
import { circles, diamonds, label, layer, onScale } from './marks.js';
import { moneyWords } from './money.js';
import { AXIS, COLUMN } from './texts.js';
import { COLOUR } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { count, listed, percent, range } from './words.js';

const HEIGHT = 250;
const LEFT = 66;
const RIGHT = 118;
const LINE_GAP = 15;

interface Cause {
  name: string;
  values: number[];
  dash: number[];
  color: string;
}

export function costByIntervalChart(cost: CostComparison, currency: string): Chart {
  const title = `Cost against interval, whole plant${cost.covers === 'downtime only' ? ' (downtime only)' : ''}`;
  const finding = findingOf(cost, currency);
  const description = descriptionOf(cost, currency);
  return {
    ...framed('cost-by-interval', {
      title,
      finding,
      description,
      unit: AXIS.moneyYearLongRun(currency),
      across: AXIS.intervalsAsShareProposedOnes,
      height: HEIGHT,
      left: leftFor(ticksOf(cost), LEFT),
      right: RIGHT,
      layers: layersOf(cost),
    }),
    table: tableOf(cost, currency),
    leftOut: leftOut(cost.outlook.byInterval),
  };
}

/** "150 %". */
const shareWords = (factor: number): string => percent(factor);

function findingOf(cost: CostComparison, currency: string): string {
  const { factor, plant } = cost.outlook.byInterval;
  const money = moneyWords(cost);
  const last = factor.length - 1;
  const [shortest, longest] = [shareWords(at(factor, 0)), shareWords(at(factor, last))];
  const ends = `with all intervals at ${shortest} of these ${money(at(plant.perYear, 0))}, at ${longest} ${money(at(plant.perYear, last))}`;
  return `${money(cost.proposed.perYear)} ${currency} a year as proposed, ${money(cost.today.perYear)} today; ${ends}`;
}

function descriptionOf(cost: CostComparison, currency: string): string {
  const { factor, plant } = cost.outlook.byInterval;
  const money = moneyWords(cost);
  const causes = causesOf(cost).map(
    ({ name, values }) =>
      `${name} ${money(at(values, 0))}, ${money(at(values, factor.indexOf(1)))} and ${money(at(values, values.length - 1))}`,
  );
  const middle = factor.indexOf(1);
  const band = range(at(plant.low, middle), at(plant.high, middle), money);
  const span = `${shareWords(at(factor, 0))}, 100 % and ${shareWords(at(factor, factor.length - 1))}`;
  return `${findingOf(cost, currency)}. At ${span} of the proposed intervals, ${currency} a year: ${causes.join('; ')}. Band: 5 % to 95 %, at the proposal ${band}.`;
}

function causesOf({ outlook, covers }: CostComparison): Cause[] {
  const { plant } = outlook.byInterval;
  const cash = plant.parts.map((parts, i) => parts + at(plant.labour, i));
  const causes: Cause[] = [
    { name: 'leaks: downtime', values: plant.leakDowntime, dash: [1, 0], color: COLOUR.navy },
    { name: 'parts and labour', values: cash, dash: [6, 3], color: COLOUR.navy },
    { name: 'planned stops', values: plant.plannedStop, dash: [2, 2], color: COLOUR.navy },
    { name: 'lost batches', values: plant.lostBatches, dash: [1, 4], color: COLOUR.navy },
  ];
  return causes.filter(({ name }) => name !== 'lost batches' || covers !== 'downtime only');
}

function layersOf(cost: CostComparison): Layer[] {
  const { factor, plant } = cost.outlook.byInterval;
  const ticks = ticksOf(cost);
  const scaleX = {
    type: 'log',
    base: 2,
    domain: [at(factor, 0), at(factor, factor.length - 1)],
    nice: false,
  };
  const scaleY = { domain: [0, topOf(cost)], nice: false, zero: false };
  const x = onScale('factor', scaleX);
  const y = (field: string) => onScale(field, scaleY);
  const rows = (values: readonly number[]) =>
    factor.map((each, i) => ({ factor: each, value: fine(at(values, i)) }));
  const line = (values: readonly number[], color: string, strokeWidth: number, dash: number[]): Layer =>
    layer(
      { type: 'line', interpolate: 'monotone', strokeWidth, color, strokeDash: dash, opacity: 1 },
      rows(values),
      { x, y: y('value') },
    );
  const band = factor.map((each, i) => ({
    factor: each,
    low: fine(at(plant.low, i)),
    high: fine(at(plant.high, i)),
  }));
  const axisX = {
    values: [...factor],
    grid: false,
    labelFlush: false,
    labelExpr: "format(datum.value * 100, 'd') + '\u00a0%'",
  };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ factor: 1, value: 0 }], {
      x: { field: 'factor', type: 'quantitative', scale: scaleX, axis: axisX },
      y: { field: 'value', type: 'quantitative', scale: scaleY, axis: countAxis(ticks) },
    }),
    layer({ type: 'area', interpolate: 'monotone', color: COLOUR.band, opacity: 0.85 }, band, {
      x,
      y: y('low'),
      y2: { field: 'high' },
    }),
    ...causesOf(cost).map(({ values, color, dash }) => line(values, color, 1.5, dash)),
    line(plant.perYear, COLOUR.rust, 2.5, [1, 0]),
    tipped(
      circles(
        rows(plant.perYear).filter((row) => row.factor !== 1),
        { x, y: y('value') },
        22,
        COLOUR.rust,
      ),
      ({ factor: share, value }) => `${shareWords(Number(share))}: ${moneyWords(cost)(Number(value))} a year`,
    ),
    ...pointLayers(cost, { x, y: y('value') }),
    ...endLabels(cost, topOf(cost)),
  ];
}

/** A little above all that is drawn. */
function topOf({ today, outlook }: CostComparison): number {
  return 1.04 * Math.max(1, today.perYear, ...outlook.byInterval.plant.high);
}

function ticksOf(cost: CostComparison): number[] {
  return roundTicks(topOf(cost), 5).filter((tick) => tick <= topOf(cost));
}

/** Today above or below the proposal, each with its name on the side away from the other. */
function pointLayers(
  cost: CostComparison,
  axes: { x: Record<string, unknown>; y: Record<string, unknown> },
): Layer[] {
  const { today, proposed, outlook } = cost;
  const { factor, todayFactor } = outlook.byInterval;
  const money = moneyWords(cost);
  const place = Math.min(at(factor, factor.length - 1), Math.max(at(factor, 0), todayFactor ?? 1));
  const now = [
    {
      factor: fine(place),
      value: fine(today.perYear),
      label: `today ${money(today.perYear)}`,
    },
  ];
  const then = [{ factor: 1, value: fine(proposed.perYear), label: `proposed ${money(proposed.perYear)}` }];
  const todayAbove = today.perYear >= proposed.perYear;
  const side = { align: 'center' as const };
  const beside = { align: 'left' as const, dx: 11, dy: -2 };
  const nearAxis = proposed.perYear < 0.12 * topOf(cost);
  const own = { bold: true, color: COLOUR.rust };
  return [
    circles(now, axes, 60),
    diamonds(then, axes, 95),
    label(now, axes, { ...side, dy: todayAbove ? -14 : 16 }),
    label(then, axes, { ...(nearAxis ? beside : { ...side, dy: todayAbove ? 16 : -14 }), ...own }),
  ];
}

/** Names at the right end of each line, moved apart. */
function endLabels(cost: CostComparison, top: number): Layer[] {
  const { plant } = cost.outlook.byInterval;
  const lines = [
    { name: 'all causes', values: plant.perYear, color: COLOUR.rust as string, bold: true },
    ...causesOf(cost).map(({ name, values, color }) => ({ name, values, color, bold: false })),
  ];
  const levels = spread(
    lines.map(({ values }) => HEIGHT * (1 - at(values, values.length - 1) / top)),
    LINE_GAP,
    6,
    HEIGHT - 4,
  );
  return lines.map(({ name, color, bold }, i) =>
    layer(
      {
        type: 'text',
        align: 'left',
        baseline: 'middle',
        dx: 0,
        color,
        fontWeight: bold ? 'bold' : 'normal',
      },
      [{ label: name }],
      {
        x: { value: plotWidth({ left: leftFor(ticksOf(cost), LEFT), right: RIGHT }) + 8 },
        y: { value: itemAt(levels, i) },
        text: { field: 'label', type: 'nominal' },
      },
    ),
  );
}

function tableOf(cost: CostComparison, currency: string): Chart['table'] {
  const { factor, plant } = cost.outlook.byInterval;
  const money = moneyWords(cost);
  const columns = [
    plant.perYear,
    plant.low,
    plant.high,
    plant.parts,
    plant.labour,
    plant.plannedStop,
    plant.leakDowntime,
    plant.lostBatches,
  ];
  return {
    columns: [
      COLUMN.intervalsOfTheProposed,
      `Cost, ${currency} a year`,
      COLUMN.low5Percent,
      COLUMN.high95Percent,
      COLUMN.parts,
      COLUMN.labour,
      COLUMN.plannedStops,
      COLUMN.leaksDowntimeCleanUp,
      COLUMN.lostBatches,
    ],
    rows: factor.map((each, i) => [shareWords(each), ...columns.map((column) => money(at(column, i)))]),
  };
}

/** What stretching all intervals passes over. */
function leftOut({ factor, beyondLimit, beyondRecords }: CostByInterval): string | null {
  const last = factor.length - 1;
  const parts = [
    [at(beyondLimit, last), 'beyond the maker’s limit'],
    [at(beyondRecords, last), 'beyond the age that the records speak of'],
  ] as const;
  const said = parts
    .filter(([number]) => number > 0)
    .map(([number, words], i) => `${i === 0 ? `${count(number, 'position')} would be` : number} ${words}`);
  if (said.length === 0) return null;
  return `Longer intervals are shown to be understood, not to be done: at ${shareWords(at(factor, last))}, ${listed(said)}.`;
}
