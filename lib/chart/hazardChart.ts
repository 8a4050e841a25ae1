/** Leaks per hundred diaphragms a year by age: what the records show, and the two parts of the law that is planned on. */
import type { GroupResult } from '../group/resultTypes.js';
import { hazard } from '../life/distribution/index.js';
import type { ObservedRate } from '../life/empirical/observedRate.js';
import type { WeibullModel } from '../life/model.js';
import { at } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { countAxis, fine, monthTicks, roundTicks, scaleTo, tickText } from './axes.js';
import { framed, plotWidth, spread } from './frame.js';
import { circles, label, layer, onScale } from './marks.js';
import { AXIS } from './texts.js';
import { COLOUR } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, count, monthsFromDays, monthsText, plainName, range, slug } from './words.js';

const HEIGHT = 200;
const LEFT = 44;
const RIGHT = 104;
const POINTS = 80;
/** Spans with less time at risk in all are not drawn. */
const LEAST_YEARS = 3;
const PER_HUNDRED_YEARS = 100 * DAYS_PER_YEAR;

const perYear = (rate: number): number => rate * PER_HUNDRED_YEARS;
const rateWords = (rate: number): string => amount(rate, 2);

/** Spans of age for `observedRate`, in days: short where fitting faults show, longer where few lives are left. */
export function hazardSpans(oldestDays: number): number[] {
  const months = [0, 1, 3, 6, 9, 12, 15, 18, 24, 36, 48, 60, 84, 120];
  const days = months.map((each) => each * (DAYS_PER_YEAR / 12));
  const inside = days.filter((day) => day < oldestDays);
  return [...inside, days.find((day) => day >= oldestDays) ?? Math.max(oldestDays, 1)];
}

/** `observed`: observedRate of the group's lives (ages in days) over `hazardSpans`. */
export function hazardChart(group: GroupResult, observed: readonly ObservedRate[]): Chart {
  const title = `${plainName(group.group)}: leaks by age`;
  const law = plannedLaw(group);
  const shown = observed.filter(({ atRisk }) => atRisk >= LEAST_YEARS * DAYS_PER_YEAR);
  const finding = findingOf(law, shown);
  const seen = shown.map(spanText);
  const description = `${finding}. Leaks per 100 diaphragms a year on record, with 90 % bounds: ${seen.join('; ') || 'none'}.`;
  return {
    ...framed(`leaks-by-age-${slug(group.group)}`, {
      title,
      finding,
      description,
      unit: AXIS.leaksPer100DiaphragmsYear,
      across: AXIS.monthsSinceFitting,
      height: HEIGHT,
      left: LEFT,
      right: RIGHT,
      layers: layersOf(law, shown),
    }),
    table: tableOf(law, observed),
    leftOut:
      shown.length < observed.length
        ? `Ages at which under ${LEAST_YEARS} years of life were watched in all are in the table only.`
        : null,
  };
}

/** The planning medians as one law. */
function plannedLaw({ planned, model }: GroupResult): WeibullModel {
  return { ...model, shape: planned.shape.median, scale: planned.scale.median };
}

/** Leaks per 100 diaphragms a year by wear-out alone, and all. */
function ratesAt(law: WeibullModel, days: number): { wear: number; all: number } {
  const { kind, shape, scale } = law;
  return { wear: perYear(hazard({ kind, shape, scale }, days)), all: perYear(hazard(law, days)) };
}

function spanText({ from, to, failures, rate, low, high }: ObservedRate): string {
  return `${monthsText(from)} to ${monthsText(to)} months ${rateWords(perYear(rate))} (${range(perYear(low), perYear(high), rateWords)}) from ${count(Math.round(failures * 10) / 10, 'leak')}`;
}

function findingOf(law: WeibullModel, observed: readonly ObservedRate[]): string {
  const [young, year] = [ratesAt(law, 7), ratesAt(law, DAYS_PER_YEAR)];
  const last = observed[observed.length - 1];
  const old = last === undefined ? null : ratesAt(law, (last.from + last.to) / 2);
  const end =
    old === null || last === undefined || last.from <= DAYS_PER_YEAR
      ? ''
      : `, ${rateWords(old.all)} at ${monthsText((last.from + last.to) / 2)} months`;
  return `Planned on: ${rateWords(young.all)} leaks per 100 diaphragms a year in the first week, ${rateWords(year.all)} at 12 months${end}; faulty fittings first, wear-out later`;
}

function layersOf(law: WeibullModel, observed: readonly ObservedRate[]): Layer[] {
  const oldest = Math.max(180, ...observed.map(({ to }) => to));
  const ages = Array.from({ length: POINTS }, (_, i) => 2 + ((oldest - 2) * i) / (POINTS - 1));
  const rows = ages.map((days) => {
    const { wear, all } = ratesAt(law, days);
    return { months: fine(monthsFromDays(days)), wear: fine(wear), all: fine(all), zero: 0 };
  });
  const ticks = roundTicks(highest(rows, observed), 5);
  const top = ticks[ticks.length - 1] ?? 1;
  const scaleX = { domain: [0, fine(monthsFromDays(oldest))], nice: false, zero: false };
  const scaleY = scaleTo(ticks);
  const x = onScale('months', scaleX);
  const y = (field: string) => onScale(field, scaleY);
  return [
    layer({ type: 'rule', opacity: 0 }, [{ months: 0, all: 0 }], {
      x: {
        field: 'months',
        type: 'quantitative',
        scale: scaleX,
        axis: { values: monthTicks(monthsFromDays(oldest)), grid: false, labelExpr: tickText() },
      },
      y: {
        field: 'all',
        type: 'quantitative',
        scale: scaleY,
        axis: { ...countAxis(ticks), tickCount: ticks.length },
      },
    }),
    layer({ type: 'area', clip: true, color: COLOUR.soft, opacity: 1 }, rows, {
      x,
      y: y('wear'),
      y2: { field: 'all' },
    }),
    layer(
      { type: 'line', clip: true, color: COLOUR.text, strokeDash: [4, 3], strokeWidth: 1.5, opacity: 1 },
      rows,
      { x, y: y('wear') },
    ),
    layer({ type: 'line', clip: true, color: COLOUR.rust, strokeWidth: 2, opacity: 1 }, rows, {
      x,
      y: y('all'),
    }),
    ...observedLayers(observed, scaleX, scaleY, top),
    ...endLayers(rows[rows.length - 1] ?? { wear: 0, all: 0 }, top),
  ];
}

/** Top of the axis: all that was seen and the law at a month and at the end; the first days and a wide last bound may run out. */
function highest(
  rows: readonly { months: number; all: number }[],
  observed: readonly ObservedRate[],
): number {
  const seen = observed.map(({ rate }) => perYear(rate));
  const most = Math.max(...seen, ...rows.filter(({ months }) => months >= 1).map(({ all }) => all), 1e-9);
  const widest = Math.max(0, ...observed.map(({ high }) => perYear(high)));
  return Math.max(most, Math.min(2 * most, widest));
}

/** Each span as a bar from end to end, its bounds upright; what runs out of the picture ends at its edge. */
function observedLayers(
  observed: readonly ObservedRate[],
  scaleX: object,
  scaleY: object,
  top: number,
): Layer[] {
  const rows = observed.map(({ from, to, rate, low, high }) => ({
    from: fine(monthsFromDays(from)),
    to: fine(monthsFromDays(to)),
    months: fine(monthsFromDays((from + to) / 2)),
    rate: fine(perYear(rate)),
    low: fine(Math.min(perYear(low), top)),
    high: fine(Math.min(perYear(high), top)),
  }));
  const x = (field: string) => onScale(field, scaleX as Record<string, unknown>);
  const y = (field: string) => onScale(field, scaleY as Record<string, unknown>);
  return [
    layer({ type: 'rule', color: COLOUR.rule, strokeWidth: 1.5, opacity: 1 }, rows, {
      x: x('months'),
      y: y('low'),
      y2: { field: 'high' },
    }),
    layer({ type: 'rule', color: COLOUR.ink, strokeWidth: 1.5, opacity: 1 }, rows, {
      x: x('from'),
      x2: { field: 'to' },
      y: y('rate'),
    }),
    tipped(circles(rows, { x: x('months'), y: y('rate') }, 38), observed.map(spanText)),
  ];
}

function endLayers({ wear, all }: { wear: number; all: number }, top: number): Layer[] {
  const width = plotWidth({ left: LEFT, right: RIGHT });
  const height = (value: number): number => HEIGHT * (1 - Math.min(value, top) / top);
  const words: [number, string, string, boolean][] = [
    [height(all), `all, planned on`, COLOUR.rust, true],
    [height(wear) + 1, 'dashed: wear-out', COLOUR.text, false],
    [height(wear) + 30, 'shaded: faulty', COLOUR.text, false],
    [height(wear) + 44, 'fittings', COLOUR.text, false],
  ];
  const places = spread(
    words.map(([y]) => y),
    14,
    4,
    HEIGHT - 4,
  );
  const key = [{ label: 'circles: records, with 90 % bounds' }];
  return [
    label(key, { x: { value: width + RIGHT - 4 }, y: { value: -16 } }, { align: 'right', size: 11 }),
    ...words.map(([, text, color, bold], i) =>
      label([{ label: text }], { x: { value: width + 8 }, y: { value: at(places, i) } }, { color, bold }),
    ),
  ];
}

function tableOf(law: WeibullModel, observed: readonly ObservedRate[]): Chart['table'] {
  return {
    columns: ['Months', 'Leaks', 'Years at risk', 'Per 100 a year (90 % bounds)', 'Planned on'],
    rows: observed.map(({ from, to, failures, atRisk, rate, low, high }) => [
      `${monthsText(from)} to ${monthsText(to)}`,
      amount(failures, 3),
      amount(atRisk / DAYS_PER_YEAR, 3),
      `${rateWords(perYear(rate))} (${range(perYear(low), perYear(high), rateWords)})`,
      rateWords(ratesAt(law, (from + to) / 2).all),
    ]),
  };
}
