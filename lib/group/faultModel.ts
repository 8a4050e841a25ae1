/** Fitting faults of a plant: one early-leak law, and a share per material with its posterior. */

import { DEFAULT_SHAPE_PRIOR } from '../life/estimate/fitTypes.js';
import { maximiseWeibull } from '../life/estimate/maximiseWeibull.js';
import { prepareRows } from '../life/estimate/weibullLikelihood.js';
import type { FittingFault } from '../life/model.js';
import { failureCount } from '../life/sample.js';
import { at, itemAt } from '../numeric/columns.js';
import { significant } from '../numeric/round.js';
import {
  DEFAULT_EARLY_LAW,
  EARLY_LEAKS_NEEDED,
  type EarlyLaw,
  type FaultRow,
  fitEarlyLaw,
  openPrior,
  printedPrior,
  priorAround,
  SHARE_PRIOR,
  type SharePosterior,
  shareMean,
  sharePosterior,
  shareQuantile,
} from './fittingFaults.js';
import { EARLY_DAYS, FAILED, type History } from './history.js';
import { leakWeightOf, type Reading, sampleOf } from './samples.js';

/** A creased diaphragm that leaks within this age is known to have been fitted wrongly. Days. */
const CREASED_FAULT_DAYS = 180;
const ROUNDS = 2;

export interface FaultModel {
  law: EarlyLaw;
  /** Per material. */
  shares: SharePosterior[];
  /** Of the plant as a whole: for a material that has not been fitted yet. */
  plant: SharePosterior;
  /** Per material: posterior mean of the share, with the law. */
  faults: FittingFault[];
  notes: string[];
}

/** Wear-out of a material as far as fitting faults need it. */
interface MaterialWear {
  shape: number;
  scale: number;
}

/** A leak whose finding says that it was the fitting. */
export function isKnownFault(history: History, row: number): boolean {
  return (
    at(history.kind, row) === FAILED &&
    at(history.creased, row) === 1 &&
    at(history.age, row) <= CREASED_FAULT_DAYS
  );
}

/** Recorded leaks younger than 60 days. */
export function earlyLeaksOf(history: History, rows: readonly number[]): number {
  return rows.filter((i) => at(history.kind, i) === FAILED && at(history.age, i) < EARLY_DAYS).length;
}

export function findFittingFaults(
  history: History,
  byMaterial: readonly (readonly number[])[],
  materials: readonly string[],
  reading: Reading,
): FaultModel {
  const early = byMaterial.map((rows) => earlyLeaksOf(history, rows));
  const inPlant = early.reduce((sum, count) => sum + count, 0);
  let law: EarlyLaw = DEFAULT_EARLY_LAW;
  let faults: FittingFault[] = byMaterial.map(() => ({ ...law, share: SHARE_PRIOR.median }));
  let shares: SharePosterior[] = [];
  let plant = sharePosterior([], law, printedPrior);
  for (let round = 0; round < ROUNDS; round++) {
    const rows = byMaterial.map((list, m) => faultRows(history, list, reading, itemAt(faults, m)));
    const plantRows = rows.flat();
    if (inPlant >= EARLY_LEAKS_NEEDED) law = fitEarlyLaw(plantRows);
    const plantPrior = inPlant >= EARLY_LEAKS_NEEDED ? openPrior : printedPrior;
    plant = sharePosterior(plantRows, law, plantPrior);
    const around = priorAround(shareQuantile(plant, 0.5));
    shares = rows.map((list, m) => {
      if (inPlant < EARLY_LEAKS_NEEDED) return plant;
      const own = itemAt(early, m) >= EARLY_LEAKS_NEEDED;
      return sharePosterior(list, law, own ? openPrior : around);
    });
    faults = shares.map((share) => ({ ...law, share: shareMean(share) }));
  }
  return { law, shares, plant, faults, notes: notesOf(materials, early, inPlant, law, shares) };
}

/** Rows for the fault likelihood, alike ones in one. Leaks of a chance between 0 and 1 stand twice. */
function faultRows(
  history: History,
  rows: readonly number[],
  reading: Reading,
  fault: FittingFault,
): FaultRow[] {
  const wear = wearOf(history, rows, reading, fault);
  const hazard = (age: number): number => (wear === null ? 0 : (age / wear.scale) ** wear.shape);
  const merged = new Map<string, FaultRow>();
  const add = (sound: number, leakedBy: number, entry: number, count: number, known: boolean): void => {
    const key = `${sound}/${leakedBy}/${entry}/${known}`;
    const row = merged.get(key);
    if (row !== undefined) {
      row.count += count;
      return;
    }
    const wearHazard = leakedBy === Infinity ? 0 : hazard(leakedBy) - hazard(sound);
    merged.set(key, { sound, leakedBy, entry, count, wearHazard, known });
  };
  for (const i of rows) {
    const weight = leakWeightOf(history, i, reading);
    const entry = at(history.entry, i);
    const sound = Math.max(at(history.lower, i), entry);
    if (weight > 0) add(sound, at(history.upper, i), entry, weight, isKnownFault(history, i));
    if (weight < 1) add(at(history.age, i), Infinity, entry, 1 - weight, false);
  }
  return [...merged.values()];
}

/** Wear-out of a whole material, or null where nothing in it leaked. */
function wearOf(
  history: History,
  rows: readonly number[],
  reading: Reading,
  fault: FittingFault,
): MaterialWear | null {
  const sample = sampleOf(history, rows, reading, (i) => isKnownFault(history, i));
  if (failureCount(sample) === 0) return null;
  return maximiseWeibull(prepareRows(sample, fault), { prior: DEFAULT_SHAPE_PRIOR });
}

function notesOf(
  materials: readonly string[],
  early: readonly number[],
  inPlant: number,
  law: EarlyLaw,
  shares: readonly SharePosterior[],
): string[] {
  const lawText = `Weibull with shape ${significant(law.shape, 2)} and scale ${significant(law.scale, 2)} days`;
  if (inPlant < EARLY_LEAKS_NEEDED) {
    return [
      `Fitting faults: ${inPlant} leaks before ${EARLY_DAYS} days in the whole plant, too few to tell. Taken: early leaks by ` +
        `${lawText}; a share of faulty fittings of 1 % (95 % within 0.1 to 5 %) before the plant’s own lives are counted in.`,
    ];
  }
  return [
    `Fitting faults: ${inPlant} leaks before ${EARLY_DAYS} days; early leaks of faulty fittings follow a ${lawText}.`,
    ...shares.map((share, m) => {
      const count = itemAt(early, m);
      const source =
        count >= EARLY_LEAKS_NEEDED
          ? `from ${count} early leaks`
          : `${count} early leaks, held near the plant’s share`;
      return `${itemAt(materials, m)}: ${percent(shareQuantile(share, 0.5))} of fittings faulty (${percent(
        shareQuantile(share, 0.05),
      )} to ${percent(shareQuantile(share, 0.95))}), ${source}.`;
    }),
  ];
}

function percent(share: number): string {
  return `${significant(100 * share, 2)} %`;
}
