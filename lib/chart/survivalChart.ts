/** Share still tight by age on plain scales: the records without a model and their bounds, and what is planned on. */
import type { GroupResult } from '../group/resultTypes.js';
import type { SurvivalCurve } from '../life/empirical/kaplanMeier.js';
import { at, floatAt } from '../numeric/columns.js';
import { countAxis, fine, monthTicks, spanTicks, tickText } from './axes.js';
import { framed, plotWidth, spread } from './frame.js';
import { label, layer, onScale } from './marks.js';
import { AXIS } from './texts.js';
import { COLOUR } from './theme.js';
import { pointer } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, count, monthsFromDays, monthsText, percent, plainName, range, slug } from './words.js';

const HEIGHT = 210;
const LEFT = 46;
const RIGHT = 104;
const ROWS = 10;

/** `curve` is groupSurvival of the same group; null where no life was watched. `level` is that of its bounds. */
export function survivalChart(group: GroupResult, curve: SurvivalCurve | null, level = 0.9): Chart {
  const title = `${plainName(group.group)}: how many are still tight`;
  const oldest = oldestAge(group, curve);
  const named = Math.min(365.25, oldest);
  const finding = findingOf(group, curve, named, level);
  const more = [0.5, 1, 2].map((years) => years * 365.25).filter((age) => age <= oldest && age !== named);
  const description = [finding, ...more.map((age) => `T${ageText(group, curve, age).slice(1)}`)].join('. ');
  return {
    ...framed(`tight-${slug(group.group)}`, {
      title,
      finding,
      description: `${description}. ${supportText(group)}`,
      unit: AXIS.shareStillTight,
      across: AXIS.monthsSinceFitting,
      height: HEIGHT,
      left: LEFT,
      right: RIGHT,
      layers: layersOf(group, curve, oldest, level),
    }),
    table: tableOf(group, curve, oldest, level),
    leftOut: curve !== null && curve.start > 0.5 ? startText(curve) : null,
  };
}

function startText({ start }: SurvivalCurve): string {
  return `Records watch too few lives before ${monthsText(start)} months: the step line counts from there on.`;
}

function supportText({ supportedAge }: GroupResult): string {
  return supportedAge === null
    ? 'The records support no statement about age.'
    : `The records support statements up to ${monthsText(supportedAge)} months.`;
}

/** Where the picture ends: a little beyond the oldest life. */
function oldestAge({ fitted }: GroupResult, curve: SurvivalCurve | null): number {
  const last = fitted.age[fitted.age.length - 1] ?? 365;
  return Math.max(60, Math.min(last, 1.08 * (curve?.end ?? last / 1.4)));
}

interface Share {
  middle: number;
  low: number;
  high: number;
}

/** By the records at an age; null before the curve begins or after the last life. */
function recordedAt(curve: SurvivalCurve | null, age: number): Share | null {
  if (curve === null || age > curve.end || age < curve.start) return null;
  let i = curve.age.length - 1;
  while (i >= 0 && floatAt(curve.age, i) > age) i--;
  if (i < 0) return { middle: 1, low: 1, high: 1 };
  return { middle: floatAt(curve.survival, i), low: floatAt(curve.low, i), high: floatAt(curve.high, i) };
}

/** As planned on, between the points of its curve. */
function plannedAt({ fitted: { age, planned } }: GroupResult, days: number): Share {
  const i = Math.max(
    1,
    age.findIndex((each) => each >= days),
  );
  const part = Math.min(1, Math.max(0, (days - at(age, i - 1)) / (at(age, i) - at(age, i - 1))));
  const between = (values: readonly number[]): number =>
    1 - (at(values, i - 1) + part * (at(values, i) - at(values, i - 1)));
  return { middle: between(planned.median), low: between(planned.high), high: between(planned.low) };
}

const shareWords = ({ middle, low, high }: Share): string =>
  middle === 1 ? 'all, with no leak' : `${percent(middle)} (${range(low, high, percent)})`;

function findingOf(group: GroupResult, curve: SurvivalCurve | null, age: number, level: number): string {
  const lives = `${count(group.lives, 'life', 'lives')}, ${count(Math.round(group.failures), 'leak')}`;
  return `${lives}; ${ageText(group, curve, age)}; ${percent(level)} bounds`;
}

function ageText(group: GroupResult, curve: SurvivalCurve | null, age: number): string {
  const seen = recordedAt(curve, age);
  const recorded = seen === null ? 'not on record' : `${shareWords(seen)} by the records`;
  return `tight after ${monthsText(age)} months: ${recorded}, ${shareWords(plannedAt(group, age))} as planned on`;
}

function layersOf(group: GroupResult, curve: SurvivalCurve | null, oldest: number, level: number): Layer[] {
  const least = Math.min(
    plannedAt(group, oldest).low,
    curve === null || curve.low.length === 0 ? 1 : floatAt(curve.low, curve.low.length - 1),
  );
  const ticks = spanTicks(Math.max(0, least - 0.02), 1, 5).filter((tick) => tick <= 1);
  const foot = at(ticks, 0);
  const scaleX = { domain: [0, fine(monthsFromDays(oldest))], nice: false, zero: false };
  const scaleY = { domain: [foot, 1], nice: false, zero: false };
  const x = onScale('months', scaleX);
  const y = (field: string) => onScale(field, scaleY);
  const steps = stepRows(curve);
  const planned = plannedRows(group, oldest);
  const axisY = {
    ...countAxis(ticks),
    tickCount: ticks.length,
    labelExpr: "format(100 * datum.value, '.3~r') + '\u00a0%'",
  };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ months: 0, tight: 1 }], {
      x: {
        field: 'months',
        type: 'quantitative',
        scale: scaleX,
        axis: { values: monthTicks(monthsFromDays(oldest)), grid: false, labelExpr: tickText() },
      },
      y: { field: 'tight', type: 'quantitative', scale: scaleY, axis: axisY },
    }),
    layer({ type: 'area', interpolate: 'step-after', clip: true, color: COLOUR.band, opacity: 1 }, steps, {
      x,
      y: y('low'),
      y2: { field: 'high' },
    }),
    layer(
      { type: 'line', interpolate: 'step-after', clip: true, color: COLOUR.ink, strokeWidth: 2, opacity: 1 },
      steps,
      { x, y: y('tight') },
    ),
    ...['low', 'high'].map((field) =>
      layer(
        { type: 'line', clip: true, color: COLOUR.rust, strokeWidth: 1, strokeDash: [3, 3], opacity: 1 },
        planned,
        { x, y: y(field) },
      ),
    ),
    layer({ type: 'line', clip: true, color: COLOUR.rust, strokeWidth: 2, opacity: 1 }, planned, {
      x,
      y: y('tight'),
    }),
    pointer(planned, { x, y: y('tight') }, ({ months, tight, low, high }) =>
      pointText(Number(months), { middle: Number(tight), low: Number(low), high: Number(high) }),
    ),
    ...supportLayers(group, x, oldest),
    ...endLayers(plannedAt(group, oldest).middle, recordedAt(curve, curve?.end ?? 0), foot, level),
  ];
}

function pointText(months: number, share: Share): string {
  return `${amount(months, 2)} months: ${shareWords(share)} tight as planned on`;
}

/** The step line from new to the end of watching. */
function stepRows(curve: SurvivalCurve | null): Record<string, number>[] {
  if (curve === null) return [];
  const row = (age: number, { middle, low, high }: Share) => ({
    months: fine(monthsFromDays(age)),
    tight: fine(middle),
    low: fine(low),
    high: fine(high),
  });
  const whole = { middle: 1, low: 1, high: 1 };
  const rows = Array.from(curve.age, (age, i) =>
    row(age, {
      middle: floatAt(curve.survival, i),
      low: floatAt(curve.low, i),
      high: floatAt(curve.high, i),
    }),
  );
  const last = recordedAt(curve, curve.end) ?? whole;
  return [row(curve.start, whole), ...rows, row(curve.end, last)];
}

function plannedRows(group: GroupResult, oldest: number): Record<string, number>[] {
  const ages = [...group.fitted.age.filter((age) => age < oldest), oldest];
  const rows = ages.map((age) => {
    const { middle, low, high } = plannedAt(group, age);
    return { months: fine(monthsFromDays(age)), tight: fine(middle), low: fine(low), high: fine(high) };
  });
  return [{ months: 0, tight: 1, low: 1, high: 1 }, ...rows];
}

/** How far the records speak, as a dashed line with its words at the foot. */
function supportLayers({ supportedAge }: GroupResult, x: Record<string, unknown>, oldest: number): Layer[] {
  if (supportedAge === null || supportedAge > oldest) return [];
  const months = fine(monthsFromDays(supportedAge));
  const left = supportedAge > 0.5 * oldest;
  return [
    layer(
      { type: 'rule', color: COLOUR.rule, strokeDash: [3, 3], strokeWidth: 1, opacity: 1 },
      [{ months }],
      {
        x,
      },
    ),
    label(
      [{ months, label: 'records speak up to here' }],
      { x, y: { value: HEIGHT - 10 } },
      {
        align: left ? 'right' : 'left',
        dx: left ? -5 : 5,
        size: 11,
        color: COLOUR.text,
      },
    ),
  ];
}

function endLayers(planned: number, seen: Share | null, foot: number, level: number): Layer[] {
  const width = plotWidth({ left: LEFT, right: RIGHT });
  const height = (share: number): number => HEIGHT * (1 - (Math.max(share, foot) - foot) / (1 - foot));
  const words: [number, string, string, boolean][] = [
    [height(planned), `planned on ${percent(planned)}`, COLOUR.rust, true],
    ...(seen === null
      ? []
      : ([
          [height(seen.middle), `records ${percent(seen.middle)}`, COLOUR.ink, true],
          [height(seen.middle) + 14, `${percent(level)} bounds grey`, COLOUR.text, false],
        ] as [number, string, string, boolean][])),
  ];
  const places = spread(
    words.map(([y]) => y),
    14,
    4,
    HEIGHT - 4,
  );
  return words.map(([, text, color, bold], i) =>
    label([{ label: text }], { x: { value: width + 8 }, y: { value: at(places, i) } }, { color, bold }),
  );
}

function tableOf(
  group: GroupResult,
  curve: SurvivalCurve | null,
  oldest: number,
  level: number,
): Chart['table'] {
  const step = Math.max(30.4375, oldest / ROWS);
  const ages = Array.from({ length: Math.max(1, Math.floor(oldest / step)) }, (_, i) => (i + 1) * step);
  return {
    columns: ['Months', `Tight by the records (${percent(level)} bounds)`, 'As planned on (90 % bounds)'],
    rows: ages.map((age) => {
      const seen = recordedAt(curve, age);
      return [
        monthsText(age),
        seen === null ? 'not on record' : shareWords(seen),
        shareWords(plannedAt(group, age)),
      ];
    }),
  };
}
