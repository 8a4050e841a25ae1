/** Which shapes and scales the lives of a group allow together: nested regions of the likelihood, drawn as curved as they are. */
import type { Drawn } from '../group/types.js';
import type { LikelihoodContour, LikelihoodRegion } from '../life/estimate/likelihoodRegion.js';
import { fine, logTicks, spanTicks, tickText } from './axes.js';
import { framed, labelRoom, plotWidth } from './frame.js';
import {
  daysText,
  type PlannedPair,
  regionDescription,
  regionFinding,
  regionTable,
  shapeText,
} from './likelihoodRegionWords.js';
import { circles, diamonds, label, layer, onScale } from './marks.js';
import { type Box, markBox, nameBox, placeName } from './placing.js';
import { AXIS, KEY } from './texts.js';
import { COLOUR, LABEL_SIZE } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { listed, percent, plainName, range, slug } from './words.js';

const HEIGHT = 250;
const LEFT = 58;
/** The picture reaches no further from the best scale, in either direction; a region may. */
const FURTHEST = 20;
/** Fills from the outermost region inwards. */
const FILLS = [COLOUR.band, COLOUR.fill] as const;

export interface LikelihoodRegionWords {
  /** What the lives are of: a group. */
  name: string;
  /** What the group is planned on, own data and groups alike; left out of the picture where not given. */
  planned?: PlannedPair | null;
}

/** `region` is likelihoodRegion of a fit of ages in days. */
export function likelihoodRegionChart(
  region: LikelihoodRegion,
  { name, planned }: LikelihoodRegionWords,
): Chart {
  const title = `${plainName(name)}: shape and scale together`;
  const finding = regionFinding(region);
  const contours = [...region.contours].sort((a, b) => b.level - a.level);
  const ends = contours.map(({ level }) => percent(level));
  const frame = { left: LEFT, right: labelRoom(ends, LABEL_SIZE, 60) + 6 };
  const spans = spansOf(region, contours, planned ?? null);
  return {
    ...framed(`region-${slug(name)}`, {
      title,
      finding,
      description: regionDescription(region, planned ?? null, finding),
      unit: AXIS.scaleEtaDays,
      across: AXIS.shapeBeta,
      height: HEIGHT,
      ...frame,
      layers: layersOf(region, contours, planned ?? null, { ...spans, width: plotWidth(frame) }),
    }),
    table: regionTable(region.contours),
    leftOut: leftOutWords(contours, spans),
  };
}

interface Spans {
  shape: [number, number];
  scale: [number, number];
}

interface Paper extends Spans {
  width: number;
}

/** What the axes span: the outermost region, what is planned on, a little room, and no more than FURTHEST times the best scale. */
function spansOf(
  { shape, scale }: LikelihoodRegion,
  contours: readonly LikelihoodContour[],
  planned: PlannedPair | null,
): Spans {
  const ends = (middle: number, ranges: [number, number][], drawn?: Drawn): [number, number] => {
    const all = [middle, ...ranges.flat(), ...(drawn === undefined ? [] : [drawn.median])];
    const [low, high] = [Math.min(...all), Math.max(...all)];
    const room = Math.max((high / low) ** 0.07, 1.02);
    return [low / room, high * room];
  };
  const wide = ends(
    scale,
    contours.map(({ scaleRange }) => scaleRange),
    planned?.scale,
  );
  return {
    shape: ends(
      shape,
      contours.map(({ shapeRange }) => shapeRange),
      planned?.shape,
    ),
    scale: [Math.max(wide[0], scale / FURTHEST), Math.min(wide[1], scale * FURTHEST)],
  };
}

function leftOutWords(contours: readonly LikelihoodContour[], { scale }: Spans): string | null {
  const outside = contours.filter(({ scaleRange: [low, high] }) => low < scale[0] || high > scale[1]);
  if (outside.length === 0) return null;
  const ends = outside.map(
    ({ level, scaleRange }) => `${percent(level)} reaches ${range(...scaleRange, daysText)} days`,
  );
  return `The picture is cut at ${range(...scale, daysText)} days: ${listed(ends)}.`;
}

function layersOf(
  region: LikelihoodRegion,
  contours: readonly LikelihoodContour[],
  planned: PlannedPair | null,
  paper: Paper,
): Layer[] {
  const scaleX = { type: 'log', domain: paper.shape.map(fine), nice: false };
  const scaleY = { type: 'log', domain: paper.scale.map(fine), nice: false };
  const axes = { x: onScale('shape', scaleX), y: onScale('scale', scaleY) };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ shape: fine(paper.shape[0]), scale: fine(paper.scale[0]) }], {
      x: { field: 'shape', type: 'quantitative', scale: scaleX, axis: axisOf(paper.shape) },
      y: {
        field: 'scale',
        type: 'quantitative',
        scale: scaleY,
        axis: { ...axisOf(paper.scale), ticks: false, domain: false },
      },
    }),
    ...contours.map((contour, i) => contourLayer(contour, i, axes)),
    ...chanceLayers(paper, axes.x),
    ...namedLayers(region, contours, planned, paper, axes),
  ];
}

/** Ticks at 1, 2, 5 and so on; closer, and at last at even steps, where the axis is too short for these. */
function axisOf([low, high]: [number, number]): Record<string, unknown> {
  const inside = (tick: number): boolean => tick >= low && tick <= high;
  const closer = [1, 1.5, 2, 3, 4, 5, 7].flatMap((factor) =>
    logTicks(low / 10, high)
      .filter((tick) => /^[0.]*1[0.]*$/.test(String(tick)))
      .map((tick) => Number((tick * factor).toPrecision(6))),
  );
  const even = [5, 8].map((wanted) => spanTicks(low, high, wanted));
  const ticks = [logTicks(low, high), closer.sort((a, b) => a - b), ...even].map((each) =>
    each.filter(inside),
  );
  const most = [...ticks].sort((a, b) => b.length - a.length)[0] ?? [];
  const values = ticks.find(({ length }) => length >= FEWEST_TICKS) ?? most;
  return { values, tickCount: values.length, grid: true, labelExpr: tickText(), labelOverlap: true };
}

const FEWEST_TICKS = 4;

function contourLayer(
  { shape, scale }: LikelihoodContour,
  rank: number,
  axes: { x: Record<string, unknown>; y: Record<string, unknown> },
): Layer {
  const values = shape.map((each, i) => ({ shape: fine(each), scale: fine(scale[i] ?? each), order: i }));
  const fill = FILLS[Math.min(rank, FILLS.length - 1)];
  return layer(
    {
      type: 'line',
      interpolate: 'linear-closed',
      clip: true,
      fill,
      stroke: COLOUR.text,
      strokeWidth: 1.5,
      opacity: 1,
    },
    values,
    { ...axes, order: { field: 'order', type: 'quantitative' } },
  );
}

/** Shape 1: leaks by chance, whatever the age; named at the foot, which the regions leave free at the left. */
function chanceLayers({ shape, width }: Paper, x: Record<string, unknown>): Layer[] {
  if (shape[0] >= 1 || shape[1] <= 1) return [];
  const place = (width * Math.log(1 / shape[0])) / Math.log(shape[1] / shape[0]);
  const left = place > CHANCE_ROOM;
  return [
    layer(
      { type: 'rule', strokeDash: [3, 3], color: COLOUR.text, strokeWidth: 1, opacity: 1 },
      [{ shape: 1 }],
      { x },
    ),
    label(
      [{ shape: 1, label: KEY.shape1LeaksByChance }],
      { x, y: { value: HEIGHT - 9 } },
      { align: left ? 'right' : 'left', dx: left ? -5 : 5, size: 11, color: COLOUR.text },
    ),
  ];
}

/** Room that the name of shape 1 takes, px. */
const CHANCE_ROOM = 150;

type Axes = { x: Record<string, unknown>; y: Record<string, unknown> };

/** The best pair, what is planned on, and the levels of the regions, each with a name that lies on no other. */
function namedLayers(
  region: LikelihoodRegion,
  contours: readonly LikelihoodContour[],
  planned: PlannedPair | null,
  paper: Paper,
  axes: Axes,
): Layer[] {
  const within: Box = { left: 2, right: paper.width + RIGHT_OF_PLOT, top: 2, bottom: HEIGHT - 2 };
  const [best, plan] = [placeOf(region, paper), planned ? plannedPlace(planned, paper) : null];
  const taken = [markBox(...best), ...(plan === null ? [] : [markBox(...plan)])];
  const levels = contours.map((contour) => levelLabel(contour, paper, taken, axes));
  const own = { shape: fine(region.shape), scale: fine(region.scale), label: 'own leaks' };
  const marks = [
    tipped(circles([own], axes, 60), [
      `best pair: shape ${shapeText(region.shape)}, scale ${daysText(region.scale)} days`,
    ]),
  ];
  if (!planned || plan === null) return [...levels, ...marks];
  const all = { shape: fine(planned.shape.median), scale: fine(planned.scale.median), label: 'planned on' };
  const tip = `planned on: shape ${shapeText(planned.shape.median)}, scale ${daysText(planned.scale.median)} days`;
  const planPlace = placeName(all.label, plan, taken, within, true);
  return [
    ...levels,
    ...marks,
    tipped(diamonds([all], axes), [tip]),
    label([all], axes, { ...planPlace, bold: true, color: COLOUR.rust }),
    label([own], axes, placeName(own.label, best, taken, within)),
  ];
}

/** Room for names right of the plot, px. */
const RIGHT_OF_PLOT = 30;

/** px from the upper left corner of the plot. */
function placeOf(
  { shape, scale }: { shape: number; scale: number },
  { shape: [left, right], scale: [low, high], width }: Paper,
): [number, number] {
  const part = (value: number, from: number, to: number): number =>
    Math.min(1, Math.max(0, Math.log(value / from) / Math.log(to / from)));
  return [width * part(shape, left, right), HEIGHT * (1 - part(scale, low, high))];
}

function plannedPlace({ shape, scale }: PlannedPair, paper: Paper): [number, number] {
  return placeOf({ shape: shape.median, scale: scale.median }, paper);
}

/** The level of a region right of its right end, or inside where another region ends too near. */
function levelLabel(
  { level, shape, scale }: LikelihoodContour,
  paper: Paper,
  taken: Box[],
  axes: Axes,
): Layer {
  const text = percent(level);
  const i = shape.indexOf(Math.max(...shape));
  const end = { shape: shape[i] ?? 1, scale: scale[i] ?? 1 };
  const [x, y] = placeOf(end, paper);
  taken.push(nameBox(text, x, y, LEVEL_PLACE));
  return label([{ shape: fine(end.shape), scale: fine(end.scale), label: text }], axes, {
    ...LEVEL_PLACE,
    color: COLOUR.text,
  });
}

const LEVEL_PLACE = { align: 'left', dx: 6, dy: 0 } as const;
