/** Mean cumulative number of leaks per position by calendar, line by line: those that differ by name, the others grey, the plant's band. */
import type { LeakCurve, LineLeaks } from '../group/recurrence/types.js';
import { at, itemAt } from '../numeric/columns.js';
import { dayFromText, textFromDay } from '../numeric/day.js';
import { countAxis, fine, roundTicks, scaleTo } from './axes.js';
import { framed, labelRoom, plotWidth, spread } from './frame.js';
import { descriptionOf, endOf, findingOf, type LeaksSeen, lineName, tableOf } from './leaksByLineWords.js';
import { label, layer, onScale } from './marks.js';
import { AXIS, TITLE } from './texts.js';
import { fitText } from './textWidth.js';
import { COLOUR, LABEL_SIZE } from './theme.js';
import { thinned } from './thinned.js';
import { calendarAxis } from './timeAxis.js';
import { pointer } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, count, dateWords } from './words.js';

const HEIGHT = 230;
const LEFT = 40;
const MOST_ROOM = 130;
/** Lines with their name in the picture; lines drawn grey; steps drawn of a line. */
const MOST_NAMED = 7;
const MOST_GREY = 60;
const MOST_STEPS = 40;
const PLANT_STEPS = 120;
const LABEL_GAP = 14;

/** Lines drawn and how. */
interface Shown {
  plant: LeakCurve;
  /** Those that leak more often first, then by how clear it is. */
  differ: readonly LineLeaks[];
  grey: readonly LineLeaks[];
  right: number;
}

/** The chart of a plan's recurrence; every line of it is in the table beside. */
export function leaksByLine(recurrence: LeaksSeen): Chart {
  const title = TITLE.leaksPerPositionByLine;
  const finding = findingOf(recurrence);
  const shown = shownOf(recurrence);
  return {
    ...framed('leaks-by-line', {
      title,
      finding,
      description: descriptionOf(recurrence, finding),
      unit: AXIS.leaksPerPositionSoFar,
      height: HEIGHT,
      left: LEFT,
      right: shown?.right ?? LEFT,
      bottom: 38,
      layers: shown === null ? emptyLayers() : layersOf(shown),
    }),
    table: tableOf(recurrence),
    leftOut: leftOutWords(recurrence, shown),
  };
}

function shownOf({ plant, lines }: LeaksSeen): Shown | null {
  if (plant.curve === null) return null;
  const watched = lines.length < 2 ? [] : lines.filter(({ curve }) => curve !== null);
  const differ = watched
    .filter(({ differs }) => differs === 'more' || differs === 'less')
    .sort((a, b) => rankOf(a) - rankOf(b));
  const rest = watched
    .filter((line) => !differ.includes(line))
    .sort((a, b) => endOf(a.curve) - endOf(b.curve));
  const grey = thinned(rest, MOST_GREY);
  const named = differ.slice(0, MOST_NAMED).map(labelOf);
  return {
    plant: plant.curve,
    differ,
    grey,
    right: labelRoom([...named, ...plantWords(plant.curve)], LABEL_SIZE, MOST_ROOM, true) + 8,
  };
}

/** Lines that leak more often have their name first, the clearest of each kind before the others. */
function rankOf({ differs, p }: LineLeaks): number {
  return (differs === 'more' ? 0 : 2) + (p ?? 1);
}

function labelOf(line: LineLeaks): string {
  return `${fitText(lineName(line), MOST_ROOM - 50, LABEL_SIZE, true)} ${amount(endOf(line.curve), 2)}`;
}

/** The plant's label, and that of its band where it has one. */
function plantWords(curve: LeakCurve): string[] {
  const band = curve.low.some((low) => low !== null) ? ['90 % range grey'] : [];
  return [`plant ${amount(endOf(curve), 2)}`, ...band];
}

interface Row extends Record<string, unknown> {
  line: string;
  day: number;
  mean: number;
  low: number | null;
  high: number | null;
}

/** Steps of a curve in days since the chart begins: from 0 at its own start to its end, thinned by rank. */
function rowsOf(name: string, curve: LeakCurve, origin: number, most: number): Row[] {
  const place = (text: string): number => (dayFromText(text) ?? origin) - origin;
  const steps = curve.day.map((day, i): Row => {
    const [low, high] = [itemAt(curve.low, i), itemAt(curve.high, i)];
    return {
      line: name,
      day: place(day),
      mean: fine(itemAt(curve.mean, i)),
      low: low === null ? null : fine(low),
      high: high === null ? null : fine(high),
    };
  });
  const first: Row = { line: name, day: place(curve.from), mean: 0, low: 0, high: 0 };
  const last = { ...(steps.at(-1) ?? first), day: place(curve.until) };
  return [first, ...thinned(steps, most), last];
}

function layersOf({ plant, differ, grey, right }: Shown): Layer[] {
  const origin = dayFromText(plant.from) ?? 0;
  const span = Math.max(1, (dayFromText(plant.until) ?? origin) - origin);
  const band = rowsOf('plant', plant, origin, PLANT_STEPS);
  const greyRows = grey.flatMap((line, i) => lineRows(`${i}`, line, origin));
  const coloured = differ.map((line, i) => ({ line, rows: lineRows(`d${i}`, line, origin) }));
  const means = [...band, ...greyRows, ...coloured.flatMap(({ rows }) => rows)].map(({ mean }) => mean);
  const highest = [...means, ...band.map(({ high }) => high ?? 0)].reduce((a, b) => Math.max(a, b), 0);
  const ticks = roundTicks(highest > 0 ? highest : 1, 5);
  const width = plotWidth({ left: LEFT, right });
  const [scaleX, scaleY] = [{ domain: [0, span], nice: false, zero: false }, scaleTo(ticks)];
  const axes = { x: onScale('day', scaleX), y: onScale('mean', scaleY) };
  const lineOf = (rows: Row[], color: string, strokeWidth: number): Layer =>
    layer({ type: 'line', interpolate: 'step-after', color, strokeWidth, opacity: 1 }, rows, {
      ...axes,
      detail: { field: 'line', type: 'nominal' },
    });
  const ofKind = (how: string): Row[] =>
    coloured.flatMap(({ line, rows }) => (line.differs === how ? rows : []));
  return [
    layer({ type: 'rule', opacity: 0 }, [{ day: 0, mean: 0 }], {
      x: { field: 'day', type: 'quantitative', scale: scaleX, axis: calendarAxis(plant.from, span, width) },
      y: { field: 'mean', type: 'quantitative', scale: scaleY, axis: countAxis(ticks) },
    }),
    layer(
      { type: 'area', interpolate: 'step-after', color: COLOUR.band, opacity: 1 },
      band.filter(({ low }) => low !== null),
      { x: axes.x, y: onScale('low', scaleY), y2: { field: 'high' } },
    ),
    lineOf(greyRows, COLOUR.fill, 1),
    lineOf(ofKind('less'), COLOUR.navy, 2),
    lineOf(ofKind('more'), COLOUR.rust, 2),
    layer(
      {
        type: 'line',
        interpolate: 'step-after',
        color: COLOUR.ink,
        strokeWidth: 2,
        strokeDash: [5, 3],
        opacity: 1,
      },
      band,
      axes,
    ),
    ...endLabels(plant, differ.slice(0, MOST_NAMED), width, at(ticks, ticks.length - 1)),
    ...[
      { name: 'plant', rows: band },
      ...coloured.slice(0, MOST_NAMED).map(({ line, rows }) => ({ name: lineName(line), rows })),
    ].map(({ name, rows }) =>
      pointer(rows, axes, ({ day, mean }) => stepText(name, origin + Number(day), Number(mean))),
    ),
  ];
}

function stepText(name: string, day: number, mean: number): string {
  return `${name}, ${dateWords(textFromDay(day))}: ${amount(mean, 2)} leaks per position`;
}

function lineRows(name: string, { curve }: LineLeaks, origin: number): Row[] {
  return curve === null ? [] : rowsOf(name, curve, origin, MOST_STEPS);
}

/** Names with their last values to the right of where lines end, moved apart. */
function endLabels(plant: LeakCurve, named: readonly LineLeaks[], width: number, top: number): Layer[] {
  const words = [
    ...plantWords(plant).map((text, i) => ({
      text,
      value: endOf(plant) - i * 1e-6 * top,
      color: (i === 0 ? COLOUR.ink : COLOUR.text) as string,
    })),
    ...named.map((line) => ({
      text: labelOf(line),
      value: endOf(line.curve),
      color: line.differs === 'more' ? COLOUR.rust : COLOUR.navy,
    })),
  ];
  const places = spread(
    words.map(({ value }) => HEIGHT * (1 - value / top)),
    LABEL_GAP,
    4,
    HEIGHT - 4,
  );
  return words.map(({ text, color }, i) =>
    label([{ label: text }], { x: { value: width + 8 }, y: { value: at(places, i) } }, { color, bold: true }),
  );
}

/** A frame without a line, where nothing was watched. */
function emptyLayers(): Layer[] {
  const scale = { domain: [0, 1], nice: false, zero: false };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ day: 0, mean: 0 }], {
      x: { field: 'day', type: 'quantitative', scale, axis: { values: [], grid: false } },
      y: { field: 'mean', type: 'quantitative', scale, axis: countAxis([0, 1]) },
    }),
  ];
}

function leftOutWords({ lines }: Pick<LeaksSeen, 'lines'>, shown: Shown | null): string | null {
  if (shown === null) return null;
  const words: string[] = [];
  const rest = lines.filter(({ curve }) => curve !== null).length - shown.differ.length;
  if (lines.length > 1 && shown.grey.length < rest)
    words.push(`${shown.grey.length} grey lines drawn of ${rest}, evenly by their last value.`);
  if (shown.differ.length > MOST_NAMED)
    words.push(
      `${MOST_NAMED} of ${shown.differ.length} lines that differ have their name; all are in the numbers.`,
    );
  const late = [...shown.differ, ...shown.grey].filter(
    ({ curve }) => curve !== null && curve.from > shown.plant.from,
  );
  if (late.length > 0)
    words.push(`${count(late.length, 'line begins', 'lines begin')} later than the plant and from 0 then.`);
  return words.length === 0 ? null : words.join(' ');
}
