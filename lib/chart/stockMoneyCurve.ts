/** Money in stock against leaks a year that find the shelf empty: the best there is, today, as advised, and the best mix. */

import type { StockMoney, StockPlace } from '../stock/money/types.js';
import { countAxis, fine, logTicks, roundTicks, tickText } from './axes.js';
import { framed, plotWidth } from './frame.js';
import { circles, diamonds, label, layer, onScale } from './marks.js';
import { type Box, markBox, placeName } from './placing.js';
import { AXIS, COLUMN, TITLE } from './texts.js';
import { COLOUR } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, listed, money, percent, plainName, range } from './words.js';

const HEIGHT = 230;
const LEFT = 50;
const RIGHT = 34;
/** The axis of leaks reaches down to this share of all. */
const LOWEST_SHARE = 2e-4;
const MOST_ROWS = 18;

/** The curve of a plan; `currency` as the site has it. */
export function stockMoneyCurve(stock: StockMoney, currency: string): Chart {
  const title = TITLE.moneyStockAgainstLeaksThat;
  const finding = findingOf(stock, currency);
  const description = descriptionOf(stock, finding);
  return {
    ...framed('stock-money', {
      title,
      finding,
      description,
      unit: AXIS.leaksYearThatFindShelf,
      across: AXIS.moneyStockLeaksOpeningsMoney(currency),
      height: HEIGHT,
      left: LEFT,
      right: RIGHT,
      layers: layersOf(stock),
    }),
    table: tableOf(stock, currency),
    leftOut: leftOutWords(stock),
  };
}

/** What the best mix stands for: the budget, or as many leaks served as advised. */
function bestName({ budget }: StockMoney): string {
  return budget === null ? 'best mix' : 'best for the budget';
}

function findingOf(stock: StockMoney, currency: string): string {
  const { today, advised, best } = stock;
  const place = (each: StockPlace): string =>
    `${money(each.money, currency)}, ${percent(each.served)} of leaks served at once`;
  const name = bestName(stock);
  return `${name.charAt(0).toUpperCase()}${name.slice(1)}: ${place(best)}; as advised ${place(advised)}; today ${place(today)}`;
}

function descriptionOf({ today, advised, best, levels }: StockMoney, finding: string): string {
  const empty = ({ leaksFindingShelfEmptyPerYear: leaks, range: span }: StockPlace): string =>
    `${amount(leaks, 2)}${span === null ? '' : ` (${range(...span, (each) => amount(each, 2))})`}`;
  const steps = levels.map((level) => `${amount(100 * level.served, 4)} % for ${amount(level.money)}`);
  return `${finding}. Leaks a year that find the shelf empty, with 5 % to 95 %: best ${empty(best)}, as advised ${empty(advised)}, today ${empty(today)}. Least money by share served: ${listed(steps)}.`;
}

function leftOutWords({ leftOut }: StockMoney): string | null {
  if (leftOut.length === 0) return null;
  const names = leftOut.map(({ item, because }) => `${plainName(item)} (${because})`);
  return `Left out: ${listed(names, 5)}.`;
}

interface Scales {
  x: Record<string, unknown>;
  y: Record<string, unknown>;
  lowest: number;
  top: number;
  most: number;
}

function layersOf(stock: StockMoney): Layer[] {
  const { leaksPerYear, curve } = stock;
  const lowest = Math.max(leaksPerYear * LOWEST_SHARE, 1e-9);
  const shown = curve.filter(({ leaksFindingShelfEmptyPerYear: leaks }) => leaks >= lowest);
  const top = Math.max(lowest * 10, leaksPerYear, ...shown.map((each) => each.range?.[1] ?? 0));
  const places = [stock.today, stock.advised, stock.best];
  const ticksX = roundTicks(Math.max(1, ...[...places, ...shown].map((each) => each.money)), 5);
  const most = ticksX.at(-1) ?? 1;
  const scaleX = { domain: [0, most], nice: false, zero: false };
  const scaleY = { type: 'log', domain: [fine(lowest), fine(top)], nice: false };
  const scales = { x: onScale('money', scaleX), y: onScale('leaks', scaleY), lowest, top, most };
  const ticksY = logTicks(lowest, top).filter((tick) => /^[1.0]+$/.test(String(tick)) || top / lowest < 100);
  const rows = shown.map((each) => rowOf(each, scales));
  return [
    layer({ type: 'rule', opacity: 0 }, [{ money: 0, leaks: fine(top) }], {
      x: {
        field: 'money',
        type: 'quantitative',
        scale: scaleX,
        axis: { values: ticksX, grid: false, labelExpr: tickText(), labelFlush: false },
      },
      y: { field: 'leaks', type: 'quantitative', scale: scaleY, axis: countAxis(ticksY) },
    }),
    layer(
      { type: 'area', color: COLOUR.band, opacity: 1 },
      rows.filter(({ low }) => low !== null),
      { x: scales.x, y: onScale('low', scaleY), y2: { field: 'high' } },
    ),
    layer({ type: 'line', strokeWidth: 2, color: COLOUR.ink, opacity: 1 }, rows, {
      x: scales.x,
      y: scales.y,
    }),
    ...placeLayers(stock, scales),
  ];
}

function rowOf(place: StockPlace, { lowest }: Pick<Scales, 'lowest'>, words = '') {
  const shown = (leaks: number): number => fine(Math.max(lowest, leaks));
  return {
    money: fine(place.money),
    leaks: shown(place.leaksFindingShelfEmptyPerYear),
    low: place.range === null ? null : shown(place.range[0]),
    high: place.range === null ? null : shown(place.range[1]),
    label: words,
  };
}

function placeTip({ label: name, money: at, leaks }: Record<string, unknown>): string {
  return `${name}: ${amount(Number(at))} in stock, ${amount(Number(leaks), 2)} leaks a year find the shelf empty`;
}

/** Today and the advised stock as circles, the best mix as a diamond, each with its name. */
function placeLayers(stock: StockMoney, scales: Scales): Layer[] {
  const axes = { x: scales.x, y: scales.y };
  const { today, advised, best, budget } = stock;
  const width = plotWidth({ left: LEFT, right: RIGHT });
  const span = Math.log(scales.top / scales.lowest);
  const place = ({ money: at, leaks }: { money: number; leaks: number }): [number, number] => [
    (width * at) / scales.most,
    (HEIGHT * Math.log(scales.top / Math.min(leaks, scales.top))) / span,
  ];
  const named = [rowOf(today, scales, 'today'), rowOf(advised, scales, 'as advised')];
  const mix = rowOf(best, scales, budget === null ? 'best mix' : 'at the budget');
  const taken = [mix, ...named].map((row) => markBox(...place(row)));
  const within: Box = { left: 2, right: width + RIGHT - 2, top: -4, bottom: HEIGHT - 4 };
  const mixPlace = placeName(mix.label, place(mix), taken, within, true);
  return [
    tipped(circles(named, axes, 60), placeTip),
    tipped(diamonds([mix], axes, 95), placeTip),
    label([mix], axes, { ...mixPlace, bold: true, color: COLOUR.rust }),
    ...named.map((row) => label([row], axes, placeName(row.label, place(row), taken, within))),
  ];
}

function tableOf({ curve, today, advised, best }: StockMoney, currency: string): Chart['table'] {
  const cells = (name: string, place: StockPlace): string[] => [
    name,
    amount(Math.round(place.money), 9),
    percent(place.served),
    amount(place.leaksFindingShelfEmptyPerYear, 2),
    place.range === null ? '' : range(...place.range, (each) => amount(each, 2)),
    place.shortageCostPerYear === null ? 'no price' : amount(place.shortageCostPerYear, 2),
  ];
  const every = Math.max(1, Math.ceil(curve.length / MOST_ROWS));
  return {
    columns: [
      COLUMN.stock,
      `Money, ${currency}`,
      COLUMN.leaksServedAtOnce,
      COLUMN.leaksYearThatFindShelf,
      COLUMN.of5Percent95Percent,
      `Expected cost of them, ${currency} a year`,
    ],
    rows: [
      cells('today', today),
      cells('as advised', advised),
      cells('best mix', best),
      ...curve
        .filter((_, i) => i % every === 0)
        .map((point) =>
          cells(point.item === null ? 'nothing kept' : `${plainName(point.item)} at ${point.level}`, point),
        ),
    ],
  };
}
