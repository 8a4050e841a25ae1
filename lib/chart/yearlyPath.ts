/** Cost and work year by year from now, today's practice against the proposal. */

import type { CostComparison, YearlyCost } from '../yearly/types.js';
import { countAxis, fine, roundTicks, scaleTo } from './axes.js';
import { framed, leftFor, spread } from './frame.js';
import { circles, diamonds, layer, onScale } from './marks.js';
import { moneyWords } from './money.js';
import { AXIS, COLUMN } from './texts.js';
import { COLOUR, LABEL_SIZE } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { pieces } from './words.js';

const HEIGHT = 190;
const LEFT = 60;
const RIGHT = 96;

type Year = YearlyCost['years'][number];
type Quantity = 'cost' | 'replacements';

/** Expected cost of each of the coming years. */
export function yearlyCostPath(cost: CostComparison, currency: string): Chart {
  return pathChart(cost, 'cost', {
    name: 'yearly-cost',
    title: 'Cost year by year',
    unit: AXIS.moneyAYear(currency),
    words: moneyWords(cost),
  });
}

/** Diaphragms fitted in each of the coming years, for whatever reason: the work of getting there. */
export function yearlyWorkPath(cost: CostComparison): Chart {
  return pathChart(cost, 'replacements', {
    name: 'yearly-work',
    title: 'Diaphragms fitted year by year',
    unit: AXIS.diaphragmsFittedAYear,
    words: pieces,
    kinds: true,
  });
}

interface Wording {
  name: string;
  title: string;
  unit: string;
  words: (value: number) => string;
  /** Says how many are fitted on schedule, after leaks and after openings. */
  kinds?: boolean;
}

function pathChart(cost: CostComparison, quantity: Quantity, wording: Wording): Chart {
  const { title, unit } = wording;
  const finding = findingOf(cost, quantity, wording);
  const description = descriptionOf(cost, quantity, wording);
  const frame = {
    title,
    finding,
    description,
    unit,
    across: AXIS.yearFromNow,
    height: HEIGHT,
    left: leftFor(ticksOf(cost, quantity), LEFT),
    right: RIGHT,
  };
  return {
    ...framed(wording.name, { ...frame, layers: layersOf(cost, quantity, wording.words) }),
    table: tableOf(cost, quantity, wording),
    leftOut: null,
  };
}

function findingOf({ today, proposed }: CostComparison, quantity: Quantity, wording: Wording): string {
  const { words, kinds = false } = wording;
  const [first, last] = [proposed.years[0], proposed.years[proposed.years.length - 1]];
  const now = today.years[0];
  if (first === undefined || last === undefined || now === undefined)
    return 'No year ahead could be worked out';
  const split = kinds ? ` (${kindsOf(first)})` : '';
  const start = `First year ${words(first[quantity])} proposed${split}, ${words(now[quantity])} by today’s practice`;
  return proposed.years.length > 1
    ? `${start}; year ${proposed.years.length}: ${words(last[quantity])} and ${words(lastOf(today.years)[quantity])}`
    : start;
}

const lastOf = (years: readonly Year[]): Year => years[years.length - 1] as Year;

function kindsOf({ scheduled, leaks, opened }: Year): string {
  return `${pieces(scheduled)} on schedule, ${pieces(leaks)} after leaks, ${pieces(opened)} after openings`;
}

function descriptionOf(cost: CostComparison, quantity: Quantity, wording: Wording): string {
  const { unit, words } = wording;
  const list = (years: Year[]): string =>
    years.map((year, i) => `year ${i + 1} ${words(year[quantity])}`).join(', ');
  return `${findingOf(cost, quantity, wording)}. ${unit}. Proposed: ${list(cost.proposed.years)}. Today’s practice: ${list(cost.today.years)}.`;
}

function ticksOf(
  { today, proposed }: Pick<CostComparison, 'today' | 'proposed'>,
  quantity: Quantity,
): number[] {
  return roundTicks(Math.max(1, ...[...today.years, ...proposed.years].map((year) => year[quantity])), 4);
}

function layersOf({ today, proposed }: CostComparison, quantity: Quantity, words: Wording['words']): Layer[] {
  const years = Math.max(today.years.length, proposed.years.length, 1);
  const ticks = ticksOf({ today, proposed }, quantity);
  const scaleX = { domain: [0.8, Math.max(years, 1.2)], nice: false, zero: false };
  const scaleY = scaleTo(ticks);
  const x = onScale('year', scaleX);
  const y = onScale('value', scaleY);
  const rows = (list: Year[]) => list.map((year, i) => ({ year: i + 1, value: fine(year[quantity]) }));
  const line = (list: Year[], color: string, dash: number[]): Layer =>
    layer({ type: 'line', strokeWidth: 2, color, strokeDash: dash, opacity: 1 }, rows(list), { x, y });
  const tips = (list: Year[], name: string): string[] =>
    list.map((year, i) => `year ${i + 1}, ${name}: ${words(year[quantity])}`);
  const axisX = {
    values: Array.from({ length: years }, (_, i) => i + 1).filter((year) => years <= 12 || year % 2 === 0),
    grid: false,
    format: 'd',
  };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ year: 1, value: 0 }], {
      x: { field: 'year', type: 'quantitative', scale: scaleX, axis: axisX },
      y: { field: 'value', type: 'quantitative', scale: scaleY, axis: countAxis(ticks) },
    }),
    line(today.years, COLOUR.ink, [5, 3]),
    line(proposed.years, COLOUR.rust, [1, 0]),
    tipped(circles(rows(today.years), { x, y }, 45), tips(today.years, 'today')),
    tipped(diamonds(rows(proposed.years), { x, y }, 60), tips(proposed.years, 'proposed')),
    ...endLabels(today.years, proposed.years, quantity, ticks, words, x),
  ];
}

/** Names and last values at the right end, moved apart where the lines end close together. */
function endLabels(
  today: Year[],
  proposed: Year[],
  quantity: Quantity,
  ticks: number[],
  words: Wording['words'],
  x: object,
): Layer[] {
  const top = ticks[ticks.length - 1] ?? 1;
  const ends = [
    { list: today, word: 'today', color: COLOUR.ink as string },
    { list: proposed, word: 'proposed', color: COLOUR.rust as string },
  ].filter(({ list }) => list.length > 0);
  const values = ends.map(({ list }) => (list[list.length - 1] as Year)[quantity]);
  const levels = spread(
    values.map((value) => HEIGHT * (1 - value / top)),
    31,
    10,
    HEIGHT - 22,
  );
  return ends.flatMap(({ list, word, color }, i) =>
    [word, words(values[i] as number)].map((text, line) =>
      layer(
        {
          type: 'text',
          align: 'left',
          baseline: 'middle',
          dx: 10,
          color,
          fontSize: LABEL_SIZE,
          fontWeight: line === 0 ? 'bold' : 'normal',
        },
        [{ year: list.length, label: text }],
        { x, y: { value: (levels[i] as number) + 14 * line }, text: { field: 'label', type: 'nominal' } },
      ),
    ),
  );
}

function tableOf(
  { today, proposed }: CostComparison,
  quantity: Quantity,
  { unit, words, kinds = false }: Wording,
): Chart['table'] {
  const years = Math.max(today.years.length, proposed.years.length);
  const split = (year: Year | undefined): (string | null)[] =>
    kinds ? [cell(year?.scheduled, words), cell(year?.leaks, words), cell(year?.opened, words)] : [];
  return {
    columns: [
      COLUMN.yearFromNow,
      `Today, ${unit}`,
      `Proposed, ${unit}`,
      ...(kinds ? [COLUMN.ofTheseOnSchedule, COLUMN.afterLeaks, COLUMN.afterOpenings] : []),
    ],
    rows: Array.from({ length: years }, (_, i) => [
      i + 1,
      cell(today.years[i]?.[quantity], words),
      cell(proposed.years[i]?.[quantity], words),
      ...split(proposed.years[i]),
    ]),
  };
}

function cell(value: number | undefined, words: Wording['words']): string | null {
  return value === undefined ? null : words(value);
}
