/** Likelihood of a sample under any life law, prepared for many evaluations. */
import { columnOf, floatAt } from '../../numeric/columns.js';
import { lawOf } from '../distribution/functions.js';
import type { LifeLaw } from '../distribution/law.js';
import { mergeSample } from '../mergeSample.js';
import type { LifeModel } from '../model.js';
import { isFailure, otherHazardOf } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { chebyshevNodes } from './chebyshevNodes.js';
import { logOneMinusExp } from './weibull/weibullLikelihood.js';

/** Rows of a merged sample, with every distinct age above 0 once. */
interface LawRows {
  age: Float64Array;
  /** How often H of the age counts against the likelihood: sums of counts where lives were watched from or to it. */
  weight: Float64Array;
  exact: { place: Int32Array; count: Float64Array; other: Float64Array };
  /** Places of the ends in `age`; -1 for age 0, where H is 0. */
  interval: { low: Int32Array; high: Int32Array; count: Float64Array; other: Float64Array };
}

/** With more distinct ages than this the likelihood may be taken at nodes. */
export const MANY_AGES = 8192;

/**
 * The log likelihood (METHODS 1.2) as a function of the model: what `logLikelihood` gives, but the cumulative hazard is worked out
 * once for each distinct age. -Infinity where a row is impossible.
 * @throws UsageError for parameters out of range
 */
export function lawLikelihood(sample: LifeSample): (model: LifeModel) => number {
  return lawLikelihoods(sample)();
}

/**
 * The same, rows made ready once for several. With `cell` more than `MANY_AGES` ages are replaced by nodes in cells of so much log age:
 * right for laws whose functions are smooth over it (chebyshevNodes.ts).
 */
export function lawLikelihoods(sample: LifeSample): (cell?: number) => (model: LifeModel) => number {
  const whole = lawRows(mergeSample(sample));
  return (cell) => likelihoodOf(cell === undefined ? whole : atNodes(whole, cell));
}

function likelihoodOf(rows: LawRows): (model: LifeModel) => number {
  const hazard = new Float64Array(rows.age.length);
  return (model) => {
    const law = lawOf(model);
    let total = 0;
    for (let k = 0; k < hazard.length; k++) {
      hazard[k] = law.cumulativeHazard(model, floatAt(rows.age, k));
      const weight = floatAt(rows.weight, k);
      if (weight !== 0) total -= weight * floatAt(hazard, k);
    }
    total += exactTerms(rows, law, model) + intervalTerms(rows, hazard);
    return Number.isNaN(total) ? Number.NEGATIVE_INFINITY : total;
  };
}

function exactTerms({ age, exact }: LawRows, law: LifeLaw<LifeModel>, model: LifeModel): number {
  let total = 0;
  for (let i = 0; i < exact.place.length; i++) {
    const logHazard = law.logHazard(model, floatAt(age, exact.place[i] as number));
    const other = floatAt(exact.other, i);
    total += floatAt(exact.count, i) * (other === 0 ? logHazard : Math.log(Math.exp(logHazard) + other));
  }
  return total;
}

function intervalTerms({ interval }: LawRows, hazard: Float64Array): number {
  let total = 0;
  for (let i = 0; i < interval.low.length; i++) {
    const low = interval.low[i] as number;
    const within = floatAt(hazard, interval.high[i] as number) - (low < 0 ? 0 : floatAt(hazard, low));
    total += floatAt(interval.count, i) * logOneMinusExp(within + floatAt(interval.other, i));
  }
  return total;
}

/** Ends of intervals are left as they are, and all rows where some failures are of unknown cause. */
function atNodes(rows: LawRows, cell: number): LawRows {
  const { age, weight, exact, interval } = rows;
  if (age.length <= MANY_AGES || exact.other.some((other) => other !== 0)) return rows;
  const needed = new Set<number>([...interval.low, ...interval.high].filter((k) => k >= 0));
  const kept = Array.from(needed).sort((j, k) => j - k);
  const failed = new Float64Array(age.length);
  exact.place.forEach((k, i) => {
    failed[k] = floatAt(failed, k) + floatAt(exact.count, i);
  });
  const free = Array.from(age.keys()).filter((k) => !needed.has(k));
  const taken = (column: Float64Array, list: number[]): Float64Array =>
    columnOf(list, (k) => floatAt(column, k));
  const nodes = chebyshevNodes(
    { age: taken(age, free), first: taken(weight, free), second: taken(failed, free) },
    cell,
  );
  const join = (column: Float64Array, more: Float64Array): Float64Array =>
    Float64Array.of(...taken(column, kept), ...more);
  const count = join(failed, nodes.second);
  const exactPlaces = Array.from(count.keys()).filter((k) => floatAt(count, k) !== 0);
  const places = new Map(kept.map((k, place) => [k, place]));
  const moved = (column: Int32Array): Int32Array => column.map((k) => places.get(k) ?? -1);
  return {
    age: join(age, nodes.age),
    weight: join(weight, nodes.first),
    exact: {
      place: Int32Array.from(exactPlaces),
      count: taken(count, exactPlaces),
      other: new Float64Array(exactPlaces.length),
    },
    interval: { ...interval, low: moved(interval.low), high: moved(interval.high) },
  };
}

function lawRows(merged: LifeSample): LawRows {
  const start = (i: number): number => Math.max(floatAt(merged.lower, i), floatAt(merged.entry, i));
  const rows = Array.from(merged.lower.keys());
  const failed = rows.filter((i) => isFailure(merged, i));
  const exact = failed.filter((i) => floatAt(merged.upper, i) === start(i));
  const interval = failed.filter((i) => floatAt(merged.upper, i) !== start(i));
  const weights = new Map<number, number>();
  const add = (age: number, weight: number): void => {
    if (age > 0) weights.set(age, (weights.get(age) ?? 0) + weight);
  };
  for (const i of rows) {
    add(start(i), floatAt(merged.count, i));
    add(floatAt(merged.entry, i), -floatAt(merged.count, i));
  }
  for (const i of interval) add(floatAt(merged.upper, i), 0);
  const age = Float64Array.from(weights.keys()).sort();
  const places = new Map(Array.from(age, (t, k) => [t, k]));
  const placesOf = (list: number[], ageOf: (i: number) => number): Int32Array =>
    Int32Array.from(list, (i) => places.get(ageOf(i)) ?? -1);
  const count = (i: number): number => floatAt(merged.count, i);
  const other = (i: number): number => otherHazardOf(merged, i);
  const upper = (i: number): number => floatAt(merged.upper, i);
  return {
    age,
    weight: columnOf(age, (t) => weights.get(t) as number),
    exact: { place: placesOf(exact, upper), count: columnOf(exact, count), other: columnOf(exact, other) },
    interval: {
      low: placesOf(interval, start),
      high: placesOf(interval, upper),
      count: columnOf(interval, count),
      other: columnOf(interval, other),
    },
  };
}
