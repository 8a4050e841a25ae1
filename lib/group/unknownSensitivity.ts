/**
 * What would follow for a group if removals without a reason had been leaks less or more often than known ones of the same
 * age (METHODS 3.4). Costs are not known in this room: the age by which 10 % have leaked stands for the interval, and the
 * group's own leaks for the pooled draws.
 */
import type { Fleet } from '../fleet/types.js';
import { hazard, quantile } from '../life/distribution/index.js';
import { DEFAULT_SHAPE_PRIOR } from '../life/estimate/fitTypes.js';
import { weibullDerivatives } from '../life/estimate/weibull/weibullDerivatives.js';
import { type PreparedRows, prepareRows } from '../life/estimate/weibull/weibullLikelihood.js';
import { at, floatAt } from '../numeric/columns.js';
import { type CellFit, wearLeaksOf } from './fitCell.js';
import { ageInDays, type History, UNKNOWN } from './history.js';
import { heldMaximum, LEAST_WEAR_LEAKS, OWN_LEAKS, ownMaximum } from './ownFit.js';
import { sampleOf } from './samples.js';
import type { UnknownRemoval, UnknownSensitivity } from './types.js';

/** Factors on the odds of a leak: none, half, as found, double, all. */
export const ODDS_FACTORS: readonly number[] = [0, 0.5, 1, 2, Infinity];
const SPAN = 0.05;
const MOST_ROWS = 20;
const TENTH = 0.1;

interface Place {
  shape: number;
  scale: number;
}

/** Null where every reason is known. */
export function unknownSensitivity(fleet: Fleet, history: History, fit: CellFit): UnknownSensitivity | null {
  if (fit.unknownRows === 0) return null;
  const b10 = ODDS_FACTORS.map((k) => tenthOf(placeUnder(history, fit, k), fit));
  const now = b10[ODDS_FACTORS.indexOf(1)] ?? null;
  const parts = b10.some(
    (age) => (age === null) !== (now === null) || Math.abs((age ?? 1) / (now ?? 1) - 1) > SPAN,
  );
  return {
    removals: fit.unknownRows,
    leaks: fit.unknownLeaks,
    k: ODDS_FACTORS,
    b10,
    parts,
    rows: parts ? removalsThatMatter(fleet, history, fit, now) : [],
  };
}

/** Whether the shape is free is decided once, by the leaks at k = 1, so that the five ages differ by their leaks only. */
function placeUnder(history: History, fit: CellFit, k: number): Place | null {
  const reading = { ...fit.reading, unknownOdds: k };
  if (wearLeaksOf(history, fit.cell.rows, reading) < LEAST_WEAR_LEAKS) return null;
  if (k === 1) return placeOf(fit.rows, fit);
  const sample = sampleOf(history, fit.cell.rows, reading);
  return placeOf(prepareRows(sample, fit.hiddenFault), fit);
}

function placeOf(rows: PreparedRows, fit: CellFit): Place {
  return (fit.wearLeaks >= OWN_LEAKS ? ownMaximum(rows) : null) ?? heldMaximum(rows);
}

function tenthOf(place: Place | null, { fault }: CellFit): number | null {
  return place === null ? null : quantile({ kind: 'weibull', ...place, fault }, TENTH);
}

/** Those whose reason would tell most: effect times the standard deviation of a leak with that chance; ties as in the records. */
function removalsThatMatter(
  fleet: Fleet,
  history: History,
  fit: CellFit,
  b10: number | null,
): UnknownRemoval[] {
  if (b10 === null) return [];
  const effectAt = effectOfLeak(fit, placeOf(fit.rows, fit), b10);
  return fit.cell.rows
    .filter((row) => at(history.kind, row) === UNKNOWN)
    .map((row) => ({
      position: at(history.position, row),
      age: ageInDays(history, row),
      removed: floatAt(fleet.lives.removed, at(history.life, row)),
      chance: floatAt(history.leakWeight, row),
      effect: effectAt(floatAt(history.age, row)),
    }))
    .filter(({ chance }) => chance > 0 && chance < 1)
    .sort((a, b) => toldBy(b) - toldBy(a))
    .slice(0, MOST_ROWS);
}

function toldBy({ chance, effect }: UnknownRemoval): number {
  return Math.abs(effect) * Math.sqrt(chance * (1 - chance));
}

/**
 * Days by which the age at which 10 % have leaked moves when one life that ended at an age is a leak instead of sound: one
 * Newton step. A leak adds the log hazard of wear-out and faulty fittings together to the log-likelihood; its slopes by log
 * shape and log scale are 1 + shape log(t / scale) and -shape, times the part that wear-out has in the hazard.
 */
function effectOfLeak(fit: CellFit, { shape, scale }: Place, b10: number): (age: number) => number {
  const [hSS, hSE, hEE] = weibullDerivatives(fit.rows, shape, scale).hessian;
  const held = fit.wearLeaks >= OWN_LEAKS && fit.own !== null ? 0 : 1 / DEFAULT_SHAPE_PRIOR.sdLog ** 2;
  const [iSS, iSE, iEE] = [held - hSS, -hSE, -hEE];
  const determinant = iSS * iEE - iSE * iSE;
  if (!(iSS > 0 && determinant > 0)) return () => 0;
  const byShape = -Math.log(b10 / scale);
  return (age) => {
    const wear = wearPart(age, { shape, scale }, fit);
    const [sS, sE] = [wear * (1 + shape * Math.log(age / scale)), -wear * shape];
    const moveShape = (iEE * sS - iSE * sE) / determinant;
    const moveScale = (iSS * sE - iSE * sS) / determinant;
    return b10 * (byShape * moveShape + moveScale);
  };
}

/** Part of the hazard at an age that is wear-out. */
function wearPart(age: number, place: Place, { hiddenFault }: CellFit): number {
  const wear = hazard({ kind: 'weibull', ...place }, age);
  return wear / hazard({ kind: 'weibull', ...place, fault: hiddenFault }, age);
}
