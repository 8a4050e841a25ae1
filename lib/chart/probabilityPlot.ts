/**
 * Fit against data of one group on Weibull paper: share leaked by age, on scales that make a Weibull a straight line
 * (cumulative hazard -ln(1 - p) against age, both logarithmic; IEC 61649). Two curves: what the group's own leaks say, and what
 * is planned on, own data and groups alike, with its bounds. Lives without a leak are ticks at the foot.
 */

import type { GroupResult } from '../group/resultTypes.js';
import { cumulativeHazard } from '../life/distribution/index.js';
import { at } from '../numeric/columns.js';
import { decimalText, fine, logTicks, tickText } from './axes.js';
import { fitKey, fitNotes, NOTE_LINE, OWN_WIDTH, PLANNED_WIDTH } from './fitKey.js';
import { fitDescription, fitFinding, fitTable } from './fitWords.js';
import { framed } from './frame.js';
import { circles, layer, onScale } from './marks.js';
import { AXIS } from './texts.js';
import { COLOUR } from './theme.js';
import { thinned } from './thinned.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, count, percent, plainName, slug } from './words.js';

const HEIGHT = 250;
const LEFT = 58;
const RIGHT = 18;
/** Where notes go when the left is taken, px. */
const NOTES_RIGHT = 250;
/** Shares that may be named on the axis, the most wanted first. */
const NAMED_SHARES = [
  63.2, 1, 10, 50, 90, 99, 0.1, 5, 2, 20, 30, 80, 95, 0.5, 0.2, 0.01, 0.05, 0.02, 70, 99.9,
];
const LEAST_GAP = 13;
/** The left edge is never below this age, days: a leak on the first day stands at half a day. */
const LEAST_AGE = 0.3;
/** A share this near to 1 has no place on a log scale of cumulative hazard. */
const WHOLE = 0.9995;
const LINE_POINTS = 40;
const EXTENSION_POINTS = 12;
/** Leaks, and ticks, that are drawn. */
const MOST_MARKS = 600;

type Encoding = Record<string, unknown>;

interface Paper {
  ages: [number, number];
  hazards: [number, number];
}

export function probabilityPlot(whole: GroupResult): Chart {
  const group = { ...whole, empirical: fewer(whole.empirical) };
  const title = `${plainName(group.group)}: fit against records`;
  const finding = fitFinding(group);
  const description = fitDescription(group);
  const paper = paperOf(group);
  return {
    ...framed(`fit-${slug(group.group)}`, {
      title,
      finding,
      description,
      height: HEIGHT,
      left: LEFT,
      right: RIGHT,
      unit: AXIS.shareLeakedThisAge,
      across: AXIS.daysSinceFittingBothScales,
      layers: layersOf(group, paper),
    }),
    table: fitTable(group),
    leftOut: leftOutWords(whole, group),
  };
}

type Points = GroupResult['empirical'];

function fewer({ age, failed, running }: Points): Points {
  const kept = thinned(
    age.map((_, i) => i),
    MOST_MARKS,
  );
  return {
    age: kept.map((i) => at(age, i)),
    failed: kept.map((i) => at(failed, i)),
    running: [...thinned(running, MOST_MARKS)],
  };
}

function leftOutWords({ empirical: all }: GroupResult, { empirical: drawn }: GroupResult): string | null {
  const part = (what: string, some: number, of: number): string[] =>
    some === of ? [] : [`${count(some, what)} drawn of ${amount(of, 9)}, evenly by age.`];
  const words = [
    ...part('leak', drawn.age.length, all.age.length),
    ...part('tick', drawn.running.length, all.running.length),
    ...(drawn.failed.some((share) => share >= WHOLE)
      ? ['The last point, where no life is left, has no place on these scales.']
      : []),
  ];
  return words.length === 0 ? null : words.join(' ');
}

const hazardOf = (share: number): number => -Math.log1p(-Math.min(share, 1 - 1e-12));

/** Ages and hazards that the paper spans: all points, 63.2 %, and the scale where it is not far beyond the data. */
function paperOf({ empirical, fitted, model }: GroupResult): Paper {
  const oldest = Math.max(...empirical.running, ...empirical.age, 30);
  const far = Math.min(Math.max(model.scale * 1.25, oldest * 1.15), oldest * 4);
  const shares = [
    ...empirical.failed,
    nearest(fitted, fitted.failed, oldest),
    nearest(fitted, fitted.planned.median, oldest),
  ].filter((share) => share > 0 && share < WHOLE);
  const least = Math.max(1e-4, Math.min(...shares, 0.05) / 2.5);
  const youngest = Math.min(...empirical.age, oldest / 8);
  return {
    ages: [Math.max(LEAST_AGE, youngest / 1.6), far],
    hazards: [hazardOf(least), Math.max(1.35, hazardOf(Math.max(...shares, 0)) * 1.3)],
  };
}

function nearest({ age }: GroupResult['fitted'], shares: readonly number[], where: number): number {
  const i = age.findIndex((each) => each >= where);
  return i < 0 ? (shares[shares.length - 1] ?? 0) : at(shares, i);
}

function layersOf(group: GroupResult, paper: Paper): Layer[] {
  const scaleX = { type: 'log', domain: paper.ages.map(fine), nice: false };
  const scaleY = { type: 'log', domain: paper.hazards.map(fine), nice: false };
  const x = onScale('age', scaleX);
  const y = onScale('hazard', scaleY);
  return [
    gridLayer(paper, scaleX, scaleY),
    bandLayer(group, x, scaleY),
    ...markLayers(group, paper, x, y),
    plannedLayer(group, x, y),
    ...(group.method === 'likelihood' ? [lineLayer(group, paper, x, y)] : []),
    tipped(circles(points(group), { x, y }, 38), pointText),
    footLayer(group, paper, x),
    ...noteLayers(group, paper),
  ];
}

/** Axes, with an invisible mark that carries them. */
function gridLayer(paper: Paper, scaleX: object, scaleY: object): Layer {
  const axisY = {
    values: shareTicks(paper).map((share) => hazardOf(share / 100)),
    labelExpr: `${decimalText("format(100 * (1 - exp(-datum.value)), '.3~r')")} + ' %'`,
    labelFontWeight: {
      condition: { test: 'abs(datum.value - 0.99967) < 0.001', value: 'bold' },
      value: 'normal',
    },
    ticks: false,
    domain: false,
  };
  const axisX = {
    values: logTicks(...paper.ages),
    labelExpr: tickText(),
    labelOverlap: true,
  };
  return layer({ type: 'rule', opacity: 0 }, [{ age: fine(paper.ages[0]), hazard: fine(paper.hazards[0]) }], {
    x: { field: 'age', type: 'quantitative', scale: scaleX, axis: axisX },
    y: { field: 'hazard', type: 'quantitative', scale: scaleY, axis: axisY },
  });
}

/** Distance of a hazard from the top of the plot, px. */
function heightOf(hazard: number, { hazards: [low, high] }: Paper): number {
  return HEIGHT * (1 - Math.log(hazard / low) / Math.log(high / low));
}

/** Shares to name: by rank of NAMED_SHARES, as long as their labels keep apart. */
function shareTicks(paper: Paper): number[] {
  const taken: number[] = [];
  const height = (share: number): number => heightOf(hazardOf(share / 100), paper);
  for (const share of NAMED_SHARES) {
    const y = height(share);
    if (y < 0 || y > HEIGHT) continue;
    if (taken.every((other) => Math.abs(height(other) - y) >= LEAST_GAP)) taken.push(share);
  }
  return taken.sort((a, b) => a - b);
}

function bandLayer({ fitted }: GroupResult, x: object, scaleY: object): Layer {
  const values = fitted.age
    .map((age, i) => ({
      age: fine(age),
      low: fineHazard(at(fitted.planned.low, i)),
      high: fineHazard(at(fitted.planned.high, i)),
    }))
    .filter(({ high }) => high > 0)
    .map((row) => ({ ...row, low: Math.max(row.low, 1e-9) }));
  return layer({ type: 'area', clip: true, color: COLOUR.band, opacity: 1 }, values, {
    x: { ...x },
    y: { field: 'low', type: 'quantitative', scale: scaleY, title: null },
    y2: { field: 'high' },
  });
}

const fineHazard = (share: number): number => fine(hazardOf(share));

/** What is planned on: the median of the draws, over the band of their bounds. */
function plannedLayer({ fitted }: GroupResult, x: Encoding, y: Encoding): Layer {
  const values = fitted.age.map((age, i) => ({
    age: fine(age),
    hazard: Math.max(fineHazard(at(fitted.planned.median, i)), 1e-9),
  }));
  return layer(
    { type: 'line', clip: true, strokeWidth: PLANNED_WIDTH, color: COLOUR.rust, opacity: 1 },
    values,
    { x, y },
  );
}

/** The own fit: solid as far as the records support it, dashed beyond. */
function lineLayer(group: GroupResult, paper: Paper, x: Encoding, y: Encoding): Layer {
  const [first, last] = paper.ages;
  const support = Math.min(Math.max(group.supportedAge ?? first, first), last);
  const line = (from: number, to: number, points: number, part: string) =>
    logSpaced(from, to, points).map((age) => ({
      age: fine(age),
      hazard: fine(Math.max(cumulativeHazard(group.model, age), 1e-9)),
      part,
    }));
  const values = [
    ...line(first, support, LINE_POINTS, 'supported'),
    ...line(support, last, EXTENSION_POINTS, 'beyond'),
  ];
  return layer({ type: 'line', clip: true, strokeWidth: OWN_WIDTH, color: COLOUR.ink, opacity: 1 }, values, {
    x,
    y,
    strokeDash: {
      field: 'part',
      type: 'nominal',
      scale: {
        domain: ['supported', 'beyond'],
        range: [
          [1, 0],
          [5, 4],
        ],
      },
    },
  });
}

function logSpaced(low: number, high: number, points: number): number[] {
  if (!(high > low)) return [];
  return Array.from({ length: points }, (_, i) => low * (high / low) ** (i / (points - 1)));
}

function points({ empirical }: GroupResult): Record<string, number>[] {
  return empirical.age
    .map((age, i) => ({ age: fine(age), hazard: fine(Math.max(hazardOf(at(empirical.failed, i)), 1e-9)) }))
    .filter((_, i) => at(empirical.failed, i) < WHOLE);
}

function pointText({ age, hazard }: Record<string, unknown>): string {
  return `${amount(Number(age))} days: ${percent(-Math.expm1(-Number(hazard)))} leaked by the records`;
}

/** 63.2 % across, and the planned scale down to the axis. */
function markLayers({ planned }: GroupResult, paper: Paper, x: Encoding, y: Encoding): Layer[] {
  const dash = { type: 'rule', strokeDash: [3, 3], color: COLOUR.rule, strokeWidth: 1, opacity: 1 };
  const across = layer(dash, [{ hazard: 1 }], { y });
  if (planned.scale.median >= paper.ages[1]) return [across];
  const foot = [{ age: fine(planned.scale.median), hazard: 1, foot: fine(paper.hazards[0]) }];
  return [across, layer(dash, foot, { x, y, y2: { field: 'foot' } })];
}

/** A key of both curves with their parameters, and what the leaks show, in words, where the curves leave room for them. */
function noteLayers(group: GroupResult, paper: Paper): Layer[] {
  const notes = fitNotes(group);
  const top = heightOf(1, paper);
  const { fitted } = group;
  const highest = Math.max(
    nearest(fitted, fitted.planned.high, paper.ages[0] * 1.5),
    nearest(fitted, fitted.failed, paper.ages[0] * 1.5),
  );
  const curveAtLeft = heightOf(Math.max(hazardOf(highest), 1e-9), paper);
  const room = NOTE_LINE * notes.length + 18;
  const [left, first] =
    curveAtLeft > top + room ? [8, top + 13] : [NOTES_RIGHT, HEIGHT - 12 - NOTE_LINE * notes.length];
  return fitKey(notes, left, first);
}

/** Ticks of lives that ended without a leak. */
function footLayer(group: GroupResult, paper: Paper, x: Encoding): Layer {
  const ages = group.empirical.running.filter((age) => age >= paper.ages[0] && age <= paper.ages[1]);
  return layer(
    { type: 'rule', color: COLOUR.ink, strokeWidth: 1, opacity: 0.7 },
    ages.map((age) => ({ age: fine(age) })),
    { x, y: { value: HEIGHT - 9 }, y2: { value: HEIGHT } },
  );
}
