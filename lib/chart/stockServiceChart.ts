/** Stock against service for one item: how many of its leaks find a piece, by the level kept; today and as advised. */
import type { ServiceByLevel, ServicePlace } from '../stock/money/serviceByLevel.js';
import { countAxis, decimalText, fine, roundTicks, spanTicks, tickText } from './axes.js';
import { framed, plotWidth } from './frame.js';
import { circles, diamonds, label, layer, onScale } from './marks.js';
import { type Box, markBox, nameBox, placeName } from './placing.js';
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
    leftOut: lotWords(service),
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

interface Axes {
  x: Record<string, unknown>;
  y: Record<string, unknown>;
}

/** Where the axes end: the largest level, and the share at the foot. */
interface Ends {
  last: number;
  foot: number;
}

/** Why the advised stock is off the line. */
function lotWords({ lot, advisedLot, advised }: ServiceByLevel): string | null {
  if (advised.level === 0 || advisedLot === lot) return null;
  return `The line orders ${count(lot, 'piece')} at a time, the smallest order; as advised ${amount(advisedLot, 9)} at a time, which takes a higher level for the same service and fewer orders.`;
}

function layersOf(service: ServiceByLevel): Layer[] {
  const { target, today, advised } = service;
  const kept = service.levels.filter(({ level }) => level > 0);
  const shown = thinned(kept, MOST_POINTS);
  const most = Math.max(2, today.level, advised.level, ...kept.map(({ level }) => level));
  const ticksX = roundTicks(most, 6).filter(Number.isInteger);
  const lowest = Math.min(target, today.served, advised.served, ...kept.map(({ served }) => served));
  const ticksY = spanTicks(Math.max(0, lowest - 0.01), 1, 5).filter((tick) => tick <= 1);
  const ends = { last: ticksX[ticksX.length - 1] ?? most, foot: ticksY[0] ?? 0 };
  const scaleX = { domain: [0, ends.last], nice: false, zero: false };
  const scaleY = { domain: [ends.foot, 1], nice: false, zero: false };
  const axes = { x: onScale('level', scaleX), y: onScale('served', scaleY) };
  const rows = shown.map((each) => rowOf(each, ends.foot));
  const shareText = `${decimalText("format(100 * datum.value, '.3~r')")} + '\u00a0%'`;
  const axisY = { ...countAxis(ticksY), tickCount: ticksY.length, labelExpr: shareText };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ level: 0, served: 1 }], {
      x: {
        field: 'level',
        type: 'quantitative',
        scale: scaleX,
        axis: {
          values: ticksX,
          tickCount: ticksX.length,
          grid: false,
          labelFlush: false,
          labelExpr: tickText(),
        },
      },
      y: { field: 'served', type: 'quantitative', scale: scaleY, axis: axisY },
    }),
    layer(
      { type: 'rule', color: COLOUR.rule, strokeDash: [3, 3], strokeWidth: 1, opacity: 1 },
      [{ served: fine(target) }],
      { y: axes.y },
    ),
    layer({ type: 'line', color: COLOUR.ink, strokeWidth: 2, opacity: 1 }, rows, { ...axes }),
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
        { ...axes },
      ),
      shown.map((place) => `${placeText(place)}; ${emptyText(place)} find the shelf empty`),
    ),
    ...placeLayers(service, axes, ends),
  ];
}

function rowOf({ level, served }: ServicePlace, foot: number): { level: number; served: number } {
  return { level, served: fine(Math.max(served, foot)) };
}

/** Today a circle, as advised a diamond, each with its share; the target named at the left end of its line. */
function placeLayers({ today, advised, target }: ServiceByLevel, axes: Axes, { last, foot }: Ends): Layer[] {
  const width = plotWidth({ left: LEFT, right: RIGHT });
  const height = (share: number): number => (HEIGHT * (1 - share)) / (1 - foot);
  const place = ({ level, served }: ServicePlace): [number, number] => [
    (width * level) / last,
    height(Math.max(served, foot)),
  ];
  const words = {
    today: `today ${percent(today.served)}`,
    advised: `as advised ${percent(advised.served)}`,
    target: `target ${percent(target)}`,
  };
  const targetPlace = { align: 'left', dx: 4, dy: height(target) < 20 ? 9 : -8 } as const;
  const taken: Box[] = [
    markBox(...place(today)),
    markBox(...place(advised)),
    nameBox(words.target, 0, height(target), targetPlace),
  ];
  const within: Box = { left: 2, right: width + RIGHT - 2, top: -10, bottom: HEIGHT - 4 };
  const [advisedRow, todayRow] = [rowOf(advised, foot), rowOf(today, foot)];
  const advisedName = placeName(words.advised, place(advised), taken, within, true);
  return [
    tipped(circles([todayRow], axes, 60), [`today: ${placeText(today)}`]),
    tipped(diamonds([advisedRow], axes, 95), [`as advised: ${placeText(advised)}`]),
    label([{ ...advisedRow, label: words.advised }], axes, {
      ...advisedName,
      bold: true,
      color: COLOUR.rust,
    }),
    label([{ ...todayRow, label: words.today }], axes, placeName(words.today, place(today), taken, within)),
    label(
      [{ label: words.target }],
      { x: { value: 0 }, y: { value: height(target) } },
      { ...targetPlace, color: COLOUR.text },
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
