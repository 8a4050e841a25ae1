/** The lives that can enter a fit, as columns, and the cells (material, size, duty) they belong to. */
import { lifeRow } from '../fleet/lifeRows.js';
import type { Fleet } from '../fleet/types.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';

export const FAILED = 0;
export const CENSORED = 1;
export const CONDITION = 2;
export const UNKNOWN = 3;
const KINDS = { failed: FAILED, censored: CENSORED, condition: CONDITION, unknown: UNKNOWN } as const;

/** A creased diaphragm that leaks within this age is known to have been fitted wrongly. Days. */
const CREASED_FAULT_DAYS = 180;

/** Leaks younger than this are early leaks: they identify fitting faults (METHODS 3.1). Days. */
export const EARLY_DAYS = 60;

/** Usable lives, one row a life. */
export interface History {
  length: number;
  /** FAILED, CENSORED, CONDITION or UNKNOWN. */
  kind: Uint8Array;
  lower: Float64Array;
  upper: Float64Array;
  entry: Float64Array;
  /** Age at removal or at the end of the data: where it is censored if it did not fail. */
  age: Float64Array;
  /** Where the four columns above count some lives on another clock than days (byUse/reAge.ts): the same in days. */
  inDays?: Pick<History, 'lower' | 'upper' | 'entry' | 'age'>;
  /** 1 where the finding points to a fitting fault. */
  creased: Uint8Array;
  /** Row of Fleet.lives. */
  life: Int32Array;
  position: Int32Array;
  material: Int32Array;
  /** Chance that it was a leak: 1 where one was seen, 0 where none was; between where the reason is not known. */
  leakWeight: Float64Array;
  /** Of an unknown reason, per day of age: hazard of removals that were no leaks, of those for condition, of known fitting faults. */
  otherHazard: Float64Array;
  conditionHazard: Float64Array;
  faultHazard: Float64Array;
  /** Variance of the log of `otherHazard`, whole as it may be off by the same at every age. */
  otherVariance: Float64Array;
}

/**
 * Every life of the fleet that can enter a fit, as a life until it leaks: whatever event the site asks for, plan and prices
 * rest on leaks (METHODS 1.3). `leakWeight` and the hazards of an unknown reason are 0 until they are set.
 */
export function readHistory(fleet: Fleet): History {
  const size = fleet.lives.length;
  const history: History = {
    length: 0,
    kind: new Uint8Array(size),
    lower: new Float64Array(size),
    upper: new Float64Array(size),
    entry: new Float64Array(size),
    age: new Float64Array(size),
    creased: new Uint8Array(size),
    life: new Int32Array(size),
    position: new Int32Array(size),
    material: new Int32Array(size),
    leakWeight: new Float64Array(size),
    otherHazard: new Float64Array(size),
    conditionHazard: new Float64Array(size),
    faultHazard: new Float64Array(size),
    otherVariance: new Float64Array(size),
  };
  let rows = 0;
  for (let i = 0; i < size; i++) {
    const row = lifeRow(fleet, i, 'leak');
    if (row.kind === 'set aside') continue;
    history.kind[rows] = KINDS[row.kind];
    history.lower[rows] = row.lower;
    history.upper[rows] = row.upper;
    history.entry[rows] = row.entry;
    history.age[rows] = row.age;
    history.creased[rows] = row.fittingFault ? 1 : 0;
    history.life[rows] = i;
    history.position[rows] = at(fleet.lives.position, i);
    history.material[rows] = at(fleet.lives.material, i);
    history.leakWeight[rows] = row.kind === 'failed' || row.kind === 'condition' ? 1 : 0;
    rows++;
  }
  history.length = rows;
  return history;
}

/** A leak whose finding says that it was the fitting. */
export function isKnownFault(history: History, row: number): boolean {
  return (
    at(history.kind, row) === FAILED &&
    at(history.creased, row) === 1 &&
    ageInDays(history, row) <= CREASED_FAULT_DAYS
  );
}

/** Age of a row in days, whatever clock its group is told on: what faulty fittings and the calendar go by. */
export function ageInDays(history: History, row: number): number {
  return floatAt((history.inDays ?? history).age, row);
}

/** Rows of each material, by index of the material. */
export function rowsByMaterial(history: History, materials: number): number[][] {
  const rows: number[][] = Array.from({ length: materials }, () => []);
  for (let i = 0; i < history.length; i++) itemAt(rows, at(history.material, i)).push(i);
  return rows;
}

/** Duty of the position of a life. */
export function dutyOf(fleet: Fleet, life: number): string {
  return itemAt(fleet.positions, at(fleet.lives.position, life)).duty;
}

/** True for a life that ended: a removal, not a running one. */
export function isRemoval(fleet: Fleet, life: number): boolean {
  return !Number.isNaN(floatAt(fleet.lives.removed, life));
}
