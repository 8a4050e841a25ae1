/** The plane of a cost curve: how far its axes reach and where its marks stand. */
import type { GroupResult } from '../group/resultTypes.js';
import type { IntervalAdvice } from '../interval/types.js';
import { at } from '../numeric/columns.js';
import { fine, roundTicks, scaleTo } from './axes.js';
import { onScale } from './marks.js';
import { monthsFromDays } from './words.js';

export interface Canvas {
  group: GroupResult | null;
  /** Months at the right edge, amount at the top. */
  months: number;
  ticks: number[];
  x: Record<string, unknown>;
  y: (field: string) => Record<string, unknown>;
  scaleX: Record<string, unknown>;
  scaleY: Record<string, unknown>;
}

/** The part of the curve worth showing: to well past every age that the reader compares. */
export function canvasOf(interval: IntervalAdvice, group: GroupResult | null): Canvas {
  const { curve, days, today, within2percent } = interval;
  const last = curve.ageDays[curve.ageDays.length - 1] ?? 365;
  const compared = Math.max(
    days ?? 0,
    today ?? 0,
    within2percent?.[1] ?? 0,
    (group?.supportedAge ?? 0) * 1.1,
  );
  const months = monthsFromDays(Math.min(last, Math.max(compared * 1.45, 180)));
  const marked = [...(days === null ? [] : [days]), ...(today === null ? [] : [today])];
  const ticks = roundTicks(highestShown(interval, months, marked), 5);
  const scaleX = { domain: [0, fine(months)], nice: false, zero: false };
  const scaleY = scaleTo(ticks);
  return {
    group,
    months,
    ticks,
    scaleX,
    scaleY,
    x: onScale('months', scaleX),
    y: (field) => onScale(field, scaleY),
  };
}

/** Short intervals cost without limit: the top is set by the right half of the curve and the marked ages. */
function highestShown({ curve }: IntervalAdvice, months: number, marked: number[]): number {
  const least = Math.min(...curve.mean);
  const right = curve.high.filter((_, i) => {
    const age = monthsFromDays(at(curve.ageDays, i));
    return age >= months * 0.4 && age <= months;
  });
  const points = marked.map((age) => meanAt(curve, age) * 1.15);
  const top = Math.max(least * 1.8, ...right.map((value) => Math.min(value, least * 6)), ...points);
  return top * 1.12;
}

/** Mean cost at an age, by straight lines between the points of the curve. */
export function meanAt(curve: IntervalAdvice['curve'], age: number): number {
  return valueAt(curve.ageDays, curve.mean, age);
}

/** A column of a curve at an age, by straight lines between its points; its end values beyond them. */
export function valueAt(ageDays: readonly number[], column: readonly number[], age: number): number {
  const i = ageDays.findIndex((each) => each >= age);
  if (i < 0) return column[column.length - 1] ?? 0;
  if (i === 0) return at(column, 0);
  const [a, b] = [at(ageDays, i - 1), at(ageDays, i)];
  const part = b > a ? (age - a) / (b - a) : 1;
  return at(column, i - 1) * (1 - part) + at(column, i) * part;
}
