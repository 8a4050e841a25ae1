/** Stock against service for one item: how many of its leaks find a piece, by the level kept; today and as advised. */
import type { ServiceByLevel, ServicePlace } from '../stock/money/serviceByLevel.js';
import { countAxis, decimalText, fine, roundTicks } from './axes.js';
import { framed, plotWidth } from './frame.js';
import { circles, diamonds, label, layer, onScale } from './marks.js';
import { AXIS, COLUMN } from './texts.js';
import { COLOUR } from './theme.js';
import { thinned } from './thinned.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, count, money, percent, plainName, slug } from './words.js';

const HEIGHT = 200;
const LEFT = 50;
const RIGHT = 34;
const MOST_POINTS = 80;
const MOST_ROWS = 20;
/** Room for a name beside its mark, px. */
const NAME_ROOM = 110;
const NEAR = 16;

/** `currency` as the site has it. */
export function stockServiceChart(service: ServiceByLevel, currency: string): Chart {
  const title = `${plainName(service.item)}: stock against service`;
  const finding = findingOf(service);
  const { least, price } = service;
  const worth = price === null ? '' : ` One piece more costs ${money(price, currency)}.`;
  const description = `${finding}. Target ${percent(service.target)}, met from ${count(least.level, 'piece')} on. ${amount(service.leaksPerYear, 2)} leaks a year are expected; of them find the shelf empty: today ${emptyText(service.today)}, as advised ${emptyText(service.advised)}.${worth}`;
  return {
    ...framed(`service-${slug(service.item)}`, {
      title,
      finding,
      description,
      unit: AXIS.shareOfLeaksServedAtOnce,
      across: AXIS.mostPiecesShelfOrder,
      height: HEIGHT,
      left: LEFT,
      right: RIGHT,
      layers: layersOf(service),
    }),
    table: tableOf(service, currency),
    leftOut: null,
  };
}

const emptyText = ({ leaksFindingShelfEmptyPerYear: leaks }: ServicePlace): string =>
  `${amount(leaks, 2)} a year`;

const placeText = ({ level, served }: ServicePlace): string =>
  `${percent(served)} with ${count(level, 'piece')}`;

function findingOf({ today, advised, least, target, leaksPerYear }: ServiceByLevel): string {
  if (!(leaksPerYear > 0)) return 'No leak is expected to ask for a piece';
  return `Leaks served at once: today ${placeText(today)}, as advised ${placeText(advised)}; ${percent(target)} takes ${amount(least.level, 9)}`;
}

function layersOf(service: ServiceByLevel): Layer[] {
  const { levels, target } = service;
  const shown = thinned(levels, MOST_POINTS);
  const most = Math.max(2, service.today.level, service.advised.level, ...levels.map(({ level }) => level));
  const ticksX = roundTicks(most, 6).filter(Number.isInteger);
  const ticksY = [0, 0.2, 0.4, 0.6, 0.8, 1];
  const scaleX = { domain: [0, ticksX[ticksX.length - 1] ?? most], nice: false, zero: false };
  const scaleY = { domain: [0, 1], nice: false, zero: false };
  const axes = { x: onScale('level', scaleX), y: onScale('served', scaleY) };
  const rows = shown.map(rowOf);
  const axisY = {
    ...countAxis(ticksY),
    labelExpr: `${decimalText("format(100 * datum.value, '.3~r')")} + '\u00a0%'`,
  };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ level: 0, served: 0 }], {
      x: {
        field: 'level',
        type: 'quantitative',
        scale: scaleX,
        axis: { values: ticksX, grid: false, labelFlush: false },
      },
      y: { field: 'served', type: 'quantitative', scale: scaleY, axis: axisY },
    }),
    layer(
      { type: 'rule', color: COLOUR.rule, strokeDash: [3, 3], strokeWidth: 1, opacity: 1 },
      [{ served: fine(target) }],
      { y: axes.y },
    ),
    layer({ type: 'line', color: COLOUR.ink, strokeWidth: 2, opacity: 1 }, rows, axes),
    tipped(
      layer(
        {
          type: 'point',
          shape: 'circle',
          filled: true,
          color: COLOUR.ink,
          size: rows.length > 40 ? 6 : 18,
          opacity: 1,
        },
        rows,
        axes,
      ),
      shown.map((place) => `${placeText(place)}; ${emptyText(place)} find the shelf empty`),
    ),
    ...placeLayers(service, axes, scaleX.domain[1] ?? most),
  ];
}

function rowOf({ level, served }: ServicePlace): { level: number; served: number } {
  return { level, served: fine(served) };
}

/** Today a circle, advised a diamond; their names below and right of them, where the curve never is, or apart where they are near. */
function placeLayers(
  { today, advised, target }: ServiceByLevel,
  axes: { x: Record<string, unknown>; y: Record<string, unknown> },
  last: number,
): Layer[] {
  const width = plotWidth({ left: LEFT, right: RIGHT });
  const [x, y] = [(level: number) => (width * level) / last, (share: number) => HEIGHT * (1 - share)];
  const near =
    Math.abs(x(today.level) - x(advised.level)) < NAME_ROOM &&
    Math.abs(y(today.served) - y(advised.served)) < NEAR;
  const named = (place: ServicePlace, words: string, second: boolean, bold: boolean): Layer => {
    const left = x(place.level) > width - NAME_ROOM;
    return label([{ ...rowOf(place), label: words }], axes, {
      align: left ? 'right' : 'left',
      dx: left ? -2 : 6,
      dy: second ? 30 : 14,
      bold,
      color: bold ? COLOUR.rust : COLOUR.ink,
    });
  };
  return [
    tipped(circles([rowOf(today)], axes, 60), [`today: ${placeText(today)}`]),
    tipped(diamonds([rowOf(advised)], axes, 95), [`as advised: ${placeText(advised)}`]),
    named(today, `today ${percent(today.served)}`, near, false),
    named(advised, `as advised ${percent(advised.served)}`, false, true),
    label(
      [{ label: `target ${percent(target)}` }],
      { x: { value: 4 }, y: { value: y(target) } },
      { dy: -7, size: 11, color: COLOUR.text },
    ),
  ];
}

function tableOf({ levels, price }: ServiceByLevel, currency: string): Chart['table'] {
  return {
    columns: [COLUMN.pieces, COLUMN.leaksServedAtOnce, COLUMN.leaksYearThatFindShelf, `Money, ${currency}`],
    rows: thinned(levels, MOST_ROWS).map(({ level, served, leaksFindingShelfEmptyPerYear }) => [
      level,
      percent(served),
      amount(leaksFindingShelfEmptyPerYear, 2),
      price === null ? 'no price' : amount(Math.round(level * price), 9),
    ]),
  };
}
