/** Cost per position and year against the replacement interval of one group, with its 2 % span. */

import type { GroupResult } from '../group/resultTypes.js';
import { isChange, isKept } from '../interval/adviceKind.js';
import type { IntervalAdvice } from '../interval/types.js';
import { DAYS_PER_MONTH } from '../numeric/day.js';
import { canvasOf, valueAt } from './costCanvas.js';
import { costLayers, HEIGHT, LEFT, RIGHT } from './costLayers.js';
import { type Frame, framed } from './frame.js';
import { AXIS, COLUMN } from './texts.js';
import type { Chart } from './types.js';
import { ageSpan, amount, chanceWords, monthsText, plainName, range, slug, spanWords } from './words.js';

/** Rows of the table of numbers, at most. */
const MOST_ROWS = 18;

/** `group` adds the age up to which the records speak; null where it is not known. */
export function costRateChart(interval: IntervalAdvice, group: GroupResult | null, currency: string): Chart {
  const title = `${plainName(interval.group)}: cost against interval`;
  const finding = findingOf(interval);
  const description = descriptionOf(interval, group, currency);
  const frame: Frame = {
    title,
    finding,
    description,
    height: HEIGHT,
    left: LEFT,
    right: RIGHT,
    unit: AXIS.moneyPerPositionYear(currency),
    across: AXIS.replacedEveryMonths,
    layers: costLayers(interval, canvasOf(interval, group)),
  };
  return {
    ...framed(`cost-${slug(interval.group)}`, frame),
    table: tableOf(interval, currency),
    leftOut: null,
  };
}

function findingOf(interval: IntervalAdvice): string {
  const { action, days, within2percent, today } = interval;
  const now = today === null ? 'no schedule today' : `today ${spanWords(today)}`;
  if (action === 'run') return `Run until it leaks; ${now}`;
  if (days === null) return `No interval can be named yet; ${now}`;
  const span = within2percent === null ? '' : `; ${ageSpan(within2percent)} cost within 2 % of the least`;
  return `${isKept(interval) ? 'Keep' : 'Replace at'} ${spanWords(days)}, ${now}${span}`;
}

function descriptionOf(interval: IntervalAdvice, group: GroupResult | null, currency: string): string {
  const cost = `${amount(interval.costPerYear)} ${currency} per position and year (${range(...interval.costRange)})`;
  const change = `against ${amount(interval.costPerYearToday)} today`;
  const better = isChange(interval)
    ? `; chance that it costs less: ${chanceWords(interval.chanceBetter)}`
    : '';
  const age = group?.supportedAge ?? null;
  const support =
    age === null
      ? ''
      : ` The records speak up to ${spanWords(age)}; beyond that the curve is an extrapolation.`;
  return `${findingOf(interval)}. Expected cost ${cost} ${change}${better}. Band: 5 % to 95 %.${support}`;
}

function tableOf({ curve }: IntervalAdvice, currency: string): Chart['table'] {
  return {
    columns: [
      COLUMN.intervalMonths,
      `Cost, ${currency} per position and year`,
      COLUMN.low5Percent,
      COLUMN.high95Percent,
      COLUMN.ofItEarlyLeaks,
    ],
    rows: tableAges(curve.ageDays).map((age) => [
      monthsText(age),
      ...[curve.mean, curve.low, curve.high, curve.early].map((column) =>
        amount(valueAt(curve.ageDays, column, age)),
      ),
    ]),
  };
}

/** Whole numbers of months that a curve covers, evenly apart. */
function tableAges(ageDays: readonly number[]): number[] {
  const [first, last] = [ageDays[0] ?? 0, ageDays[ageDays.length - 1] ?? 0];
  const step =
    [1, 2, 3, 6, 12, 24].find((months) => last - first <= MOST_ROWS * months * DAYS_PER_MONTH) ?? 60;
  const ages = Array.from({ length: MOST_ROWS + 2 }, (_, i) => i * step * DAYS_PER_MONTH);
  return ages.filter((age) => age > 0 && age >= first && age <= last);
}
