/** One group's data made ready for the pooling model: its samples, its likelihood, and which way doubtful rows are read. */

import { quantile } from '../life/distribution/index.js';
import { failuresOf } from '../life/estimate/weibull/wearColumn.js';
import { type PreparedRows, prepareRows } from '../life/estimate/weibull/weibullLikelihood.js';
import type { FittingFault, WeibullModel } from '../life/model.js';
import { failureCount } from '../life/sample.js';
import type { LifeSample } from '../life/sampleTypes.js';
import { at, floatAt } from '../numeric/columns.js';
import type { GroupCell } from './cells.js';
import { earlyLeaksOf, hiddenPart } from './faultModel.js';
import { ageInDays, CONDITION, EARLY_DAYS, type History, isKnownFault, UNKNOWN } from './history.js';
import { heldMaximum, OWN_LEAKS, ownMaximum } from './ownFit.js';
import { type Repetition, repetition } from './repeats.js';
import { leakWeightOf, type Reading, sampleOf, wearRows, weighedSample } from './samples.js';

export const PLAN_READING: Reading = { condition: 'leak', unknownOdds: 1, faultsCensored: true };

/** Removals for condition, read both ways: age by which 10 % leak, days. */
export interface ConditionReadings {
  removals: number;
  asLeaks: number;
  asCensored: number | null;
}

export interface CellFit {
  cell: GroupCell;
  fault: FittingFault;
  /** The part of it among leaks that are not known faults: what the wear-out is fitted beside. */
  hiddenFault: FittingFault;
  reading: Reading;
  /** Every leak a leak, whatever its cause, those of unknown reason by their chance: what is shown and counted. */
  sample: LifeSample;
  /** Known fitting faults censored, unknown reasons beside all else that may have ended them: what the wear-out is fitted to. */
  wearSample: LifeSample;
  rows: PreparedRows;
  failures: number;
  earlyLeaks: number;
  /** Leaks that tell about wear-out: not known faults, and not younger than 60 days. */
  wearLeaks: number;
  /** Best place of the group alone, or null with under 5 wear-out leaks or a shape at its limit. */
  own: { shape: number; scale: number } | null;
  repeats: Repetition | null;
  /** At least 1: the log-likelihood is divided by it, as what else ended lives of unknown reason is itself an estimate. */
  unsure: number;
  unknownRows: number;
  unknownLeaks: number;
  condition: ConditionReadings | null;
}

/** `shown`: share of early leaks whose finding gives the faulty fitting away; they are censored in the wear-out. */
export function fitCell(history: History, cell: GroupCell, fault: FittingFault, shown: number): CellFit {
  const hiddenFault = hiddenPart(fault, shown);
  const condition = conditionReadings(history, cell, hiddenFault);
  const pessimistic =
    condition === null || condition.asCensored === null || condition.asLeaks <= condition.asCensored;
  const reading: Reading = { ...PLAN_READING, condition: pessimistic ? 'leak' : 'censored' };
  const sample = weighedSample(history, cell.rows, reading);
  const wearSample = sampleOf(history, cell.rows, reading);
  const rows = wearRows(history, cell.rows, wearSample, hiddenFault);
  const wearLeaks = wearLeaksOf(history, cell.rows, reading);
  const own = wearLeaks >= OWN_LEAKS ? ownMaximum(rows) : null;
  const unknown = cell.rows.filter((row) => at(history.kind, row) === UNKNOWN);
  return {
    cell,
    fault,
    hiddenFault,
    reading,
    sample,
    wearSample,
    rows,
    failures: failureCount(sample),
    earlyLeaks: earlyLeaksOf(history, cell.rows),
    wearLeaks,
    own,
    repeats: own === null ? null : repetition(wearSample, rows, hiddenFault, own, wearLeaks),
    unsure: unsureOf(history, cell.rows, reading),
    unknownRows: unknown.length,
    unknownLeaks: unknown.reduce((sum, row) => sum + floatAt(history.leakWeight, row), 0),
    condition,
  };
}

/** Leaks that tell about wear-out under a reading, weights included. */
export function wearLeaksOf(history: History, rows: readonly number[], reading: Reading): number {
  return rows
    .filter((row) => ageInDays(history, row) >= EARLY_DAYS && !isKnownFault(history, row))
    .reduce((sum, row) => sum + leakWeightOf(history, row, reading), 0);
}

/**
 * Variance of the log hazard with what else ended lives estimated, over that with it known: 1 + S² v / I, of information
 * I = sum(w²), slope S = sum(w (1 - w)) by the log of the other hazard and its variance v. Near 1 unless most reasons are lost.
 */
function unsureOf(history: History, rows: readonly number[], reading: Reading): number {
  let information = 0;
  let shift = 0;
  for (const row of rows) {
    const weight = leakWeightOf(history, row, reading);
    information += weight * weight;
    shift += weight * (1 - weight) * Math.sqrt(floatAt(history.otherVariance, row));
  }
  return information > 0 ? 1 + shift ** 2 / information : 1;
}

/** Fits with removals for condition as leaks and as censored; null where the group has none. */
function conditionReadings(history: History, cell: GroupCell, fault: FittingFault): ConditionReadings | null {
  const removals = cell.rows.filter((row) => at(history.kind, row) === CONDITION).length;
  if (removals === 0) return null;
  const b10 = (condition: Reading['condition']): number | null => {
    const model = modelUnder(history, cell, { ...PLAN_READING, condition }, fault);
    return model === null ? null : quantile({ kind: 'weibull', shape: model.shape, scale: model.scale }, 0.1);
  };
  return { removals, asLeaks: b10('leak') ?? Infinity, asCensored: b10('censored') };
}

/** Maximum likelihood of a group under a reading, shape held near 2 under 5 leaks; null where nothing leaked. */
export function modelUnder(
  history: History,
  cell: GroupCell,
  reading: Reading,
  fault: FittingFault,
): WeibullModel | null {
  const rows = prepareRows(sampleOf(history, cell.rows, reading), fault);
  if (failuresOf(rows) <= 0) return null;
  const enough = wearLeaksOf(history, cell.rows, reading) >= OWN_LEAKS;
  const place = (enough ? ownMaximum(rows) : null) ?? heldMaximum(rows);
  return { kind: 'weibull', ...place, fault };
}
