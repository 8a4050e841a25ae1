/**
 * Early leak or wear-out: what each row of a sample adds to the fit of either, at given laws. A fitting is faulty with chance p; a
 * faulty one leaks early at an age of law Fe, any one wears out at an age of law Fw, and the first of the two shows. Of a life
 *
 *     sound at a           faulty with chance z(a) = p Se(a) / (1 - p Fe(a))
 *     leaked at t          early with chance r = p fe(t) / [p fe(t) + (1 - p Fe(t)) hw(t)]
 *     leaked in (a, b]     either early in it, wear-out later than a:              p [Fe(b) - Fe(a)]
 *                          or worn out in it, no early leak by b:                  (1 - p Fe(b)) [1 - Sw(b) / Sw(a)]
 *     watched from e on    stands for g = p Fe(e) / (1 - p Fe(e)) lives more that leaked early before e, unseen
 */
import { floatAt } from '../../numeric/columns.js';
import { isFailure, ownClusters } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';

export interface Law {
  shape: number;
  scale: number;
}

export interface FaultLaws {
  share: number;
  early: Law;
  wear: Law;
}

/** What the rows add up to: two samples of weighted rows, and lives that were faulty and lives in all, the unseen included. */
export interface FaultSplit {
  wear: LifeSample;
  early: LifeSample;
  faulty: number;
  lives: number;
}

/** A sample that grows row by row. */
interface Growing {
  lower: number[];
  upper: number[];
  entry: number[];
  count: number[];
}

/** Splits each row of a merged sample into its ways, each with its weight. */
export function splitFaults(rows: LifeSample, laws: FaultLaws): FaultSplit {
  const { share, early } = laws;
  const [wearRows, earlyRows] = [noRows(), noRows()];
  let [faulty, lives] = [0, 0];
  const stillFaulty = (age: number, count: number): void => {
    const weight = (count * share * (1 - failedBy(early, age))) / (1 - share * failedBy(early, age));
    add(earlyRows, age, Infinity, 0, weight);
    faulty += weight;
  };
  for (let i = 0; i < rows.lower.length; i++) {
    const [a, b] = [startOf(rows, i), floatAt(rows.upper, i)];
    const [entry, count] = [floatAt(rows.entry, i), floatAt(rows.count, i)];
    const chance = earlyChance(rows, i, laws);
    lives += count;
    add(wearRows, a, Infinity, entry, b === Infinity ? count : count * chance);
    if (b === Infinity) stillFaulty(a, count);
    else {
      add(wearRows, a, b, entry, count * (1 - chance));
      add(earlyRows, a, b, 0, count * chance);
      faulty += count * chance;
      stillFaulty(b, count * (1 - chance));
    }
    if (entry > 0) {
      const unseen = (count * share * failedBy(early, entry)) / (1 - share * failedBy(early, entry));
      add(earlyRows, 0, entry, 0, unseen);
      faulty += unseen;
      lives += unseen;
    }
  }
  return { wear: sampleOf(wearRows), early: sampleOf(earlyRows), faulty, lives };
}

/** Chance that the leak of row i was early: 0 for a life still sound. */
export function earlyChance(rows: LifeSample, i: number, { share, early, wear }: FaultLaws): number {
  if (!isFailure(rows, i)) return 0;
  const [a, b] = [startOf(rows, i), floatAt(rows.upper, i)];
  const whole = 1 - share * failedBy(early, b);
  const [isEarly, isWear] =
    a === b
      ? [share * densityTimesAge(early, b), whole * wear.shape * power(wear, b)]
      : [share * between(early, a, b), whole * -Math.expm1(power(wear, a) - power(wear, b))];
  return isEarly > 0 ? isEarly / (isEarly + isWear) : 0;
}

function noRows(): Growing {
  return { lower: [], upper: [], entry: [], count: [] };
}

function add(rows: Growing, lower: number, upper: number, entry: number, count: number): void {
  if (!(count > 0)) return;
  rows.lower.push(lower);
  rows.upper.push(upper);
  rows.entry.push(entry);
  rows.count.push(count);
}

function sampleOf({ lower, upper, entry, count }: Growing): LifeSample {
  return {
    lower: Float64Array.from(lower),
    upper: Float64Array.from(upper),
    entry: Float64Array.from(entry),
    count: Float64Array.from(count),
    cluster: ownClusters(lower.length),
  };
}

function startOf(rows: LifeSample, i: number): number {
  return Math.max(floatAt(rows.lower, i), floatAt(rows.entry, i));
}

function power({ shape, scale }: Law, t: number): number {
  return (t / scale) ** shape;
}

function failedBy(law: Law, t: number): number {
  return -Math.expm1(-power(law, t));
}

function densityTimesAge(law: Law, t: number): number {
  return law.shape * power(law, t) * Math.exp(-power(law, t));
}

/** F(b) - F(a), without cancellation. */
function between(law: Law, a: number, b: number): number {
  return -Math.exp(-power(law, a)) * Math.expm1(power(law, a) - power(law, b));
}
