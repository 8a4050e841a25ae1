/** Histories of covariates that change in steps: checked, sorted by life and age, and cut where the life ends. */
import { UsageError } from '../../../errors.js';
import { at, columnOf, floatAt } from '../../../numeric/columns.js';
import { isFailure } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import type { Covariate, Covariates } from '../regression/types.js';

const WHERE = 'fitSteppedExposure';

/** Columns of equal length, one row a step, in any order. */
export interface ExposureSteps {
  /** Which life a step belongs to: its row in the sample, from 0. */
  life: ArrayLike<number>;
  /** Age from which the values hold, until the next step of the life; the first of each life is 0. */
  from: ArrayLike<number>;
  /** One column a covariate. */
  values: Covariates;
}

/** Steps by life and age, without those that begin when the life is over. */
export interface SortedSteps {
  /** Row of the first step of each life, and one more for the end. */
  first: Int32Array;
  from: Float64Array;
  covariates: Covariates;
  /** Lives by step. */
  life: Int32Array;
}

/**
 * @throws UsageError for columns of unequal length, a life that the sample does not have, an age that is negative or not a number,
 * a life without a step at age 0, and two steps of one life at one age
 */
export function readSteps(sample: LifeSample, { life, from, values }: ExposureSteps): SortedSteps {
  requireLengths(life, from, values);
  for (let k = 0; k < life.length; k++) requireStep(sample, at(life, k), at(from, k), k);
  const kept = Array.from({ length: life.length }, (_, k) => k).filter(
    (k) => at(from, k) === 0 || at(from, k) < lastAge(sample, at(life, k)),
  );
  kept.sort((a, b) => at(life, a) - at(life, b) || at(from, a) - at(from, b));
  const lives = Int32Array.from(kept, (k) => at(life, k));
  const ages = columnOf(kept, (k) => at(from, k));
  return {
    first: firstOf(lives, ages, sample.lower.length),
    from: ages,
    covariates: Object.fromEntries(
      Object.entries(values).map(([name, column]) => [name, picked(column, kept)]),
    ),
    life: lives,
  };
}

/** Age at which a life ended, or was last seen sound. */
export function lastAge(sample: LifeSample, i: number): number {
  return isFailure(sample, i) ? floatAt(sample.upper, i) : floatAt(sample.lower, i);
}

function requireLengths(life: ArrayLike<number>, from: ArrayLike<number>, values: Covariates): void {
  // A covariate may be called from as well.
  const columns: [string, ArrayLike<unknown>][] = [['from', from], ...Object.entries(values)];
  for (const [name, column] of columns) {
    if (column.length !== life.length) {
      throw new UsageError(WHERE, `column ${name} must be as long as life (${life.length}).`, column.length);
    }
  }
}

function requireStep(sample: LifeSample, life: number, from: number, k: number): void {
  const lives = sample.lower.length;
  if (!Number.isInteger(life) || life < 0 || life >= lives) {
    throw new UsageError(WHERE, `step ${k + 1}: life must be a row of the sample, 0 to ${lives - 1}.`, life);
  }
  if (!(from >= 0 && from < Infinity)) {
    throw new UsageError(WHERE, `step ${k + 1}: from must be a finite age at or above 0.`, from);
  }
}

function firstOf(life: Int32Array, from: Float64Array, lives: number): Int32Array {
  const first = new Int32Array(lives + 1).fill(life.length);
  for (let k = life.length - 1; k >= 0; k--) first[at(life, k)] = k;
  for (let i = 0; i < lives; i++) {
    const k = at(first, i);
    if (k === life.length || at(life, k) !== i || floatAt(from, k) !== 0) {
      const rule = `life ${i} (from 0) has no step at age 0: say what it was exposed to from the start.`;
      throw new UsageError(WHERE, rule);
    }
  }
  for (let k = 1; k < life.length; k++) {
    if (at(life, k) === at(life, k - 1) && floatAt(from, k) === floatAt(from, k - 1)) {
      throw new UsageError(WHERE, `life ${at(life, k)} has two steps at one age.`, floatAt(from, k));
    }
  }
  return first;
}

function picked(column: Covariate, kept: readonly number[]): Covariate {
  return kept.map((k) => column[k]) as unknown as Covariate;
}
