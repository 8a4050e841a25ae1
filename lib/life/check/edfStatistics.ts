/** The classical distances between a law and the steps of a complete sample. */
import { UsageError } from '../../errors.js';
import { floatAt } from '../../numeric/columns.js';
import { lawOf } from '../distribution/functions.js';
import type { LifeModel } from '../model.js';
import type { LifeSample } from '../sampleTypes.js';

export interface EdfStatistics {
  /** A²: weighs both tails as much as the middle. */
  andersonDarling: number;
  /** W². */
  cramerVonMises: number;
  /** D: the largest distance either way. */
  kolmogorovSmirnov: number;
  /** D+ and D-: by how much the steps lie above the law at most, and below. */
  above: number;
  below: number;
  lives: number;
}

/**
 * Distances of a law from lives that all failed at known ages, for comparison with tables and other programs (Stephens 1974, from memory).
 * Tables hold for a law given beforehand; for a fitted one take the chance from `goodnessOfFit`, which also takes censored lives.
 * @throws UsageError for a life that did not fail, failed inside an interval or was watched late (row from 1)
 */
export function edfStatistics(sample: LifeSample, model: LifeModel): EdfStatistics {
  const law = lawOf(model);
  const order = completeRows(sample);
  const lives = sample.count.reduce((total, count) => total + count, 0);
  const out = { andersonDarling: -lives, cramerVonMises: 1 / (12 * lives), above: 0, below: 0 };
  let before = 0;
  for (const i of order) {
    const hazard = law.cumulativeHazard(model, floatAt(sample.upper, i));
    const share = -Math.expm1(-hazard);
    const count = floatAt(sample.count, i);
    out.above = Math.max(out.above, (before + count) / lives - share);
    out.below = Math.max(out.below, share - before / lives);
    for (let k = 1; k <= count; k++) {
      const rank = 2 * (before + k) - 1;
      out.cramerVonMises += (share - rank / (2 * lives)) ** 2;
      out.andersonDarling -= (rank * Math.log(share) - (2 * lives - rank) * hazard) / lives;
    }
    before += count;
  }
  return { ...out, kolmogorovSmirnov: Math.max(out.above, out.below), lives };
}

/** Rows in order of age. */
function completeRows({ lower, upper, entry }: LifeSample): number[] {
  const rows = Array.from(lower.keys());
  for (const i of rows) {
    const [a, b] = [floatAt(lower, i), floatAt(upper, i)];
    if (a === b && floatAt(entry, i) === 0) continue;
    const rule = `row ${i + 1}: every life must have failed at a known age, watched from new; use goodnessOfFit.`;
    throw new UsageError('edfStatistics', rule, `${a} to ${b}, entry ${floatAt(entry, i)}`);
  }
  return rows.sort((i, j) => floatAt(upper, i) - floatAt(upper, j));
}
