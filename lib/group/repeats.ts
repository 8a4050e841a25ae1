/**
 * How much less the lives of a plant say because positions repeat themselves. With H the information of a fit and J the
 * variance of its scores summed by position, trace(H^-1 J) / 2 is 1 where lives are independent and larger where the
 * lives of one position are alike. A log-likelihood divided by it is as flat as the data deserve (magnitude adjustment of
 * composite likelihoods: Pauli, Racugno & Ventura 2011; scores by cluster: Lin & Wei 1989; both from memory).
 */
import { weibullDerivatives } from '../life/estimate/weibull/weibullDerivatives.js';
import type { PreparedRows } from '../life/estimate/weibull/weibullLikelihood.js';
import type { FittingFault } from '../life/model.js';
import { otherHazardOf } from '../life/sample.js';
import type { LifeSample } from '../life/sampleTypes.js';
import { at, floatAt } from '../numeric/columns.js';

export interface Repetition {
  /** trace(H^-1 J) / 2 of one fit; NaN where the information is not that of a maximum. */
  factor: number;
  /** Leaks it rests on: its weight when factors are averaged. */
  leaks: number;
}

/** `rows` are the sample prepared with the fault; (shape, scale) is where its likelihood is best. */
export function repetition(
  sample: LifeSample,
  rows: PreparedRows,
  fault: FittingFault,
  place: { shape: number; scale: number },
  leaks: number,
): Repetition {
  const [hSS, hSE, hEE] = weibullDerivatives(rows, place.shape, place.scale).hessian;
  const determinant = hSS * hEE - hSE * hSE;
  if (!(hSS < 0 && determinant > 0)) return { factor: Number.NaN, leaks };
  const byPosition = scoresByPosition(sample, fault, place);
  let [jSS, jSE, jEE] = [0, 0, 0];
  for (const [bySh, bySc] of byPosition.values()) {
    jSS += bySh * bySh;
    jSE += bySh * bySc;
    jEE += bySc * bySc;
  }
  const positions = byPosition.size;
  const small = positions > 1 ? positions / (positions - 1) : 1;
  const trace = (-(hEE * jSS - 2 * hSE * jSE + hSS * jEE) / determinant) * small;
  return { factor: trace / 2, leaks };
}

/** Mean of the factors by leaks, at least 1. */
export function inflationOf(repetitions: readonly Repetition[]): number {
  let sum = 0;
  let weight = 0;
  for (const { factor, leaks } of repetitions) {
    if (!Number.isFinite(factor)) continue;
    sum += factor * leaks;
    weight += leaks;
  }
  return weight === 0 ? 1 : Math.max(1, sum / weight);
}

/** Derivatives of the log-likelihood by (log shape, log scale), summed by position. */
function scoresByPosition(
  sample: LifeSample,
  fault: FittingFault,
  { shape, scale }: { shape: number; scale: number },
): Map<number, [number, number]> {
  const sums = new Map<number, [number, number]>();
  const hazard = (age: number): [number, number] => {
    if (age <= 0) return [0, 0];
    const w = shape * Math.log(age / scale);
    const h = Math.exp(w);
    return [w * h, -shape * h];
  };
  const faultSound = (age: number): number =>
    1 - fault.share * -Math.expm1(-((Math.max(age, 0) / fault.scale) ** fault.shape));
  for (let i = 0; i < sample.lower.length; i++) {
    const entry = floatAt(sample.entry, i);
    const lower = Math.max(floatAt(sample.lower, i), entry);
    const upper = floatAt(sample.upper, i);
    const start = hazard(lower);
    const before = hazard(entry);
    let score: [number, number] = [before[0] - start[0], before[1] - start[1]];
    if (upper !== Infinity) {
      const end = hazard(upper);
      // Chance that something else ended it, where the cause is not known: see prepareRows.ts.
      const other = -Math.expm1(-otherHazardOf(sample, i));
      const ratio = (faultSound(lower) / faultSound(upper) - 1 + other) / (1 - other);
      const width = (upper / scale) ** shape - (lower / scale) ** shape;
      const pull = Math.exp(-width) / (ratio - Math.expm1(-width) || Number.MIN_VALUE);
      score = [score[0] + pull * (end[0] - start[0]), score[1] + pull * (end[1] - start[1])];
    }
    const count = floatAt(sample.count, i);
    const known = sums.get(at(sample.cluster, i)) ?? [0, 0];
    sums.set(at(sample.cluster, i), [known[0] + count * score[0], known[1] + count * score[1]]);
  }
  return sums;
}
