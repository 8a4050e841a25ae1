/** Cost per position and year against the replacement interval of one group, with its 2 % span. */
import type { GroupResult } from '../group/resultTypes.js';
import type { IntervalAdvice } from '../interval/types.js';
import { at } from '../numeric/columns.js';
import { canvasOf } from './costCanvas.js';
import { costLayers, HEIGHT, LEFT, RIGHT } from './costLayers.js';
import { type Frame, frameSpec } from './frame.js';
import { isChange } from './intervalsOverview.js';
import type { Chart } from './types.js';
import { amount, chanceWords, monthsText, plainName, range, slug, spanWords } from './words.js';

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
    unit: `${currency} per position and year`,
    across: 'Replaced every … months',
    layers: costLayers(interval, canvasOf(interval, group)),
  };
  return {
    name: `cost-${slug(interval.group)}`,
    title,
    finding,
    description,
    spec: frameSpec(frame),
    table: tableOf(interval, currency),
    leftOut: null,
  };
}

function findingOf({ action, days, within2percent, today }: IntervalAdvice): string {
  const now = today === null ? 'no schedule today' : `today ${spanWords(today)}`;
  if (action === 'run') return `Run until it leaks; ${now}`;
  if (days === null) return `No interval can be named yet; ${now}`;
  const span =
    within2percent === null ? '' : `; ${spanText(within2percent)} months cost within 2 % of the least`;
  return `${action === 'keep' ? 'Keep' : 'Replace at'} ${spanWords(days)}, ${now}${span}`;
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

function spanText([low, high]: [number, number]): string {
  return range(low, high, monthsText);
}

function tableOf({ curve }: IntervalAdvice, currency: string): Chart['table'] {
  const step = Math.max(1, Math.floor(curve.ageDays.length / 14));
  return {
    columns: [
      'Interval, months',
      `Cost, ${currency} per position and year`,
      'Low (5 %)',
      'High (95 %)',
      'Of it early leaks',
    ],
    rows: curve.ageDays
      .map((age, i) => [
        monthsText(age),
        amount(at(curve.mean, i)),
        amount(at(curve.low, i)),
        amount(at(curve.high, i)),
        amount(at(curve.early, i)),
      ])
      .filter((_, i) => i % step === 0),
  };
}
