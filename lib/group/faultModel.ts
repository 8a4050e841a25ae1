/** Fitting faults of a plant: one early-leak law, and a share per material with its posterior. */

import { mergeSample } from '../life/mergeSample.js';
import type { FittingFault } from '../life/model.js';
import { failureCount } from '../life/sample.js';
import type { LifeSample } from '../life/sampleTypes.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { localNumber } from '../numeric/localWords.js';
import { amount } from '../numeric/words.js';
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
  type SharedLaw,
  type SharePosterior,
  shareMean,
  sharePosterior,
  shareQuantile,
  shownShare,
} from './fittingFaults.js';
import { ageInDays, EARLY_DAYS, FAILED, type History, isKnownFault } from './history.js';
import { materialWear } from './materialWear.js';
import { leakWeightOf, type Reading, sampleOf } from './samples.js';

const MOST_ROUNDS = 12;
/** Rounds end when no parameter moves by more than this share. */
const SETTLED = 0.005;

export interface FaultModel {
  law: EarlyLaw;
  /** Per material. */
  shares: SharePosterior[];
  /** Of the plant as a whole: for a material that has not been fitted yet. */
  plant: SharePosterior;
  /** Per material: posterior mean of the share, with the law. */
  faults: FittingFault[];
  /** Share of early leaks whose finding gives the faulty fitting away. */
  shown: number;
  /** Per material: leaks before EARLY_DAYS. */
  early: number[];
  /** Per material: log prior of the log share. */
  priors: ((logShare: number) => number)[];
}

/** Recorded leaks younger than 60 days. */
export function earlyLeaksOf(history: History, rows: readonly number[]): number {
  return rows.filter((i) => at(history.kind, i) === FAILED && ageInDays(history, i) < EARLY_DAYS).length;
}

/**
 * Law and shares in turn with the wear-out of each material, until neither moves: a law too short leaves its late leaks to
 * the wear-out, whose shape then comes out too low, which shortens the law again. `cells` are, per material, the rows of
 * each size and duty.
 */
export function findFittingFaults(
  history: History,
  cells: readonly (readonly (readonly number[])[])[],
  reading: Reading,
): FaultModel {
  const byMaterial = cells.map((each) => each.flat());
  const early = byMaterial.map((rows) => earlyLeaksOf(history, rows));
  const inPlant = early.reduce((sum, count) => sum + count, 0);
  const enough = inPlant >= EARLY_LEAKS_NEEDED;
  const lives = cells.map((each) => each.map((rows) => cellLives(history, rows, reading)));
  let law: SharedLaw = { ...DEFAULT_EARLY_LAW, share: 0.02 };
  let faults: FittingFault[] = byMaterial.map(() => ({
    ...law,
    share: enough ? Math.min(0.5, (1.2 * inPlant) / Math.max(history.length, 1)) : SHARE_PRIOR.median,
  }));
  let shares: SharePosterior[] = [];
  let priors: FaultModel['priors'] = [];
  let shown = shownAtFirst(history, byMaterial.flat());
  let plant = sharePosterior([], law, shown, printedPrior);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const rows = lives.map((one, m) => withWear(one, hiddenPart(itemAt(faults, m), shown)));
    const plantRows = rows.flat();
    const [before, shownBefore] = [faults, shown];
    if (enough) law = fitEarlyLaw(plantRows, law, shown);
    plant = sharePosterior(plantRows, law, shown, enough ? openPrior : printedPrior);
    const around = priorAround(shareQuantile(plant, 0.5));
    priors = early.map((count) => {
      if (!enough) return printedPrior;
      return count >= EARLY_LEAKS_NEEDED ? openPrior : around;
    });
    shares = rows.map((list, m) => (enough ? sharePosterior(list, law, shown, itemAt(priors, m)) : plant));
    faults = shares.map((share) => ({ ...law, share: shareMean(share) }));
    shown = shownShare(
      rows.map((list, m) => ({ rows: list, share: itemAt(faults, m).share })),
      law,
      shown,
    );
    const settled = Math.abs(shown - shownBefore) < SETTLED;
    if (settled && faults.every((fault, m) => alike(fault, itemAt(before, m)))) break;
  }
  const { shape, scale } = law;
  return {
    law: { shape, scale },
    shares,
    plant,
    faults,
    shown,
    early,
    priors,
  };
}

/** Before anything is fitted: among leaks so young that nearly all of them are faulty fittings. */
function shownAtFirst(history: History, rows: readonly number[]): number {
  const early = earlyLeaksOf(history, rows);
  const known = rows.filter((i) => isKnownFault(history, i) && ageInDays(history, i) < EARLY_DAYS).length;
  return early === 0 ? 0 : known / (early + 1);
}

/** The part of the faulty fittings that hides among leaks that are not known to be theirs. */
export function hiddenPart(fault: FittingFault, shown: number): FittingFault {
  return { ...fault, share: fault.share * (1 - shown) };
}

function alike(a: FittingFault, b: FittingFault): boolean {
  const near = (x: number, y: number): boolean => Math.abs(Math.log(x / y)) < SETTLED;
  return near(a.share, b.share) && near(a.shape, b.shape) && near(a.scale, b.scale);
}

/** Lives of one size and duty of a material, made ready once: merged for the wear-out, and as rows of the fault likelihood. */
interface CellLives {
  /** Null where nothing leaked but known faults. */
  wearSample: LifeSample | null;
  rows: FaultRow[];
}

function cellLives(history: History, rows: readonly number[], reading: Reading): CellLives {
  const sample = sampleOf(history, rows, reading);
  return {
    wearSample: failureCount(sample) === 0 ? null : mergeSample(sample),
    rows: faultRows(history, rows, reading),
  };
}

/**
 * Rows alike are one. Leaks of a chance between 0 and 1 stand twice: what faulty fittings took is told by leaks of the
 * first weeks, and their chance does not hang on the share that is looked for. Without wear-out so far.
 */
export function faultRows(history: History, rows: readonly number[], reading: Reading): FaultRow[] {
  const days = history.inDays ?? history;
  const merged = new Map<string, FaultRow>();
  const add = (row: Omit<FaultRow, 'wearHazard'>): void => {
    const { sound, leakedBy, entry, known, worn } = row;
    const key = `${sound}/${leakedBy}/${entry}/${known}/${worn?.join('/')}`;
    const other = merged.get(key);
    if (other === undefined) merged.set(key, { ...row, wearHazard: 0 });
    else other.count += row.count;
  };
  for (const i of rows) {
    const weight = leakWeightOf(history, i, reading);
    const entry = floatAt(days.entry, i);
    const sound = Math.max(floatAt(days.lower, i), entry);
    const known = isKnownFault(history, i);
    const leak = { sound, leakedBy: floatAt(days.upper, i), entry, count: weight, known };
    if (weight > 0) add(history.inDays === undefined ? leak : { ...leak, worn: wornInterval(history, i) });
    if (weight < 1)
      add({ sound: floatAt(days.age, i), leakedBy: Infinity, entry, count: 1 - weight, known: false });
  }
  return [...merged.values()];
}

/** Between which ages it leaked, on the clock that its wear-out is told on. */
function wornInterval(history: History, i: number): [number, number] {
  return [Math.max(floatAt(history.lower, i), floatAt(history.entry, i)), floatAt(history.upper, i)];
}

/** The rows of a material with the wear-out of their size and duty under the present fault law. */
function withWear(cells: readonly CellLives[], fault: FittingFault): FaultRow[] {
  const worn = cells.flatMap(({ wearSample }) => (wearSample === null ? [] : [wearSample]));
  if (worn.length === 0) return cells.flatMap(({ rows }) => rows);
  const wear = materialWear(worn, fault);
  return cells.flatMap(({ wearSample, rows }) => {
    if (wearSample === null) return rows;
    const { shape, scale } = itemAt(wear, worn.indexOf(wearSample));
    const hazard = (age: number): number => (age / scale) ** shape;
    return rows.map((row) =>
      row.leakedBy === Infinity ? row : { ...row, wearHazard: hazard(row.leakedBy) - hazard(row.sound) },
    );
  });
}

/** What was found, in sentences; `shares` are those of the materials, with the wear-out integrated over. */
export function faultNotes(
  materials: readonly string[],
  { law, early }: FaultModel,
  shares: readonly SharePosterior[],
): string[] {
  const inPlant = early.reduce((sum, count) => sum + count, 0);
  const lawText = `Weibull with shape ${amount(law.shape, 2)} and scale ${amount(law.scale, 2)} days`;
  if (inPlant < EARLY_LEAKS_NEEDED) {
    return [
      `Fitting faults: ${inPlant} leaks before ${EARLY_DAYS} days in the whole plant, too few to tell. Taken: early leaks by ` +
        `${lawText}; a share of faulty fittings of 1 % (95 % within ${localNumber(0.1)} to 5 %) before the plant’s own lives are counted in.`,
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
  return `${amount(100 * share, 2)} %`;
}
