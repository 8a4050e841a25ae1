/**
 * What a removal of unknown reason may have been (METHODS 3.4, k = 1), by the removals of known reason of the same material and
 * duty at that age (removalCauses.ts), as if reasons were lost by chance. The fits take the hazard of removals that were no
 * leaks beside their own hazard of a leak (samples.ts); counts take the share of leaks. A removal for condition counts as a
 * leak, as the plan reads it.
 */
import { type Fleet, REASONS } from '../fleet/types.js';
import { at, columnOf, floatAt, itemAt } from '../numeric/columns.js';
import {
  CONDITION,
  dutyOf,
  FAILED,
  type History,
  isKnownFault,
  isRemoval,
  rowsByMaterial,
  UNKNOWN,
} from './history.js';
import { type Cause, type LeakPart, type RemovalCauses, removalCauses } from './removalCauses.js';

/** With fewer known removals of a material and duty, all duties of the material are asked. */
const FEWEST_OF_DUTY = 40;
/** With fewer of a material, every material. */
const FEWEST_OF_MATERIAL = 10;
/** Taken where the reason of no removal at all is known. */
const NOTHING_KNOWN = 0.5;

/** Outcome: weights and hazards are written into the history; openings per unknown row beside them. */
export interface UnknownReasons {
  /** Removals of unknown reason that entered the fits. */
  rows: number;
  /** Leaks that their weights add up to. */
  leaks: number;
  /** Chance per life (row of Fleet.lives) that an unknown removal was an opening for other work. */
  openedChance: Map<number, number>;
}

export function weighUnknownReasons(fleet: Fleet, history: History): UnknownReasons {
  const all = Array.from({ length: history.length }, (_, i) => i);
  const unknown = all.filter((i) => at(history.kind, i) === UNKNOWN);
  const result: UnknownReasons = { rows: unknown.length, leaks: 0, openedChance: new Map() };
  if (unknown.length === 0) return result;
  const likeOf = alike(fleet, history, all);
  for (const i of unknown) {
    const like = likeOf(i);
    const age = floatAt(history.age, i);
    const { leak, opened } = like.at(age);
    const chance = like.known === 0 ? NOTHING_KNOWN : leak;
    history.leakWeight[i] = chance;
    history.otherHazard[i] = like.otherHazard(age);
    history.conditionHazard[i] = like.partHazard('condition', age);
    history.faultHazard[i] = like.partHazard('fault', age);
    history.otherVariance[i] = like.otherVariance;
    result.leaks += chance;
    result.openedChance.set(at(history.life, i), opened);
  }
  return result;
}

/** The removals that a life is judged by: of its material and duty, its material, or the plant, whichever are enough. */
function alike(fleet: Fleet, history: History, all: readonly number[]): (row: number) => RemovalCauses {
  const causesOf = (rows: readonly number[]): RemovalCauses => causesAmong(fleet, history, rows);
  const plant = causesOf(all);
  const ofMaterial = rowsByMaterial(history, fleet.materials.length).map(causesOf);
  const ofDuty = new Map([...rowsByDuty(fleet, history)].map(([key, rows]) => [key, causesOf(rows)]));
  return (row) => {
    const material = itemAt(ofMaterial, at(history.material, row));
    const wider = material.known >= FEWEST_OF_MATERIAL ? material : plant;
    const own = ofDuty.get(dutyKey(fleet, history, row)) ?? wider;
    return own.known >= FEWEST_OF_DUTY ? own : wider;
  };
}

function causesAmong(fleet: Fleet, history: History, rows: readonly number[]): RemovalCauses {
  return removalCauses({
    entry: columnOf(rows, (i) => floatAt(history.entry, i)),
    age: columnOf(rows, (i) => floatAt(history.age, i)),
    cause: rows.map((i) => causeOf(fleet, history, i)),
    unknown: rows.filter((i) => at(history.kind, i) === UNKNOWN).length,
    part: rows.map((i) => partOf(history, i)),
  });
}

/** Leaks that a reading may leave out of the wear-out. */
function partOf(history: History, row: number): LeakPart | null {
  if (at(history.kind, row) === CONDITION) return 'condition';
  return isKnownFault(history, row) ? 'fault' : null;
}

/** Null for a running life and for a removal of unknown reason. */
function causeOf(fleet: Fleet, history: History, row: number): Cause | null {
  const life = at(history.life, row);
  const kind = at(history.kind, row);
  if (!isRemoval(fleet, life) || kind === UNKNOWN) return null;
  if (kind === FAILED || kind === CONDITION) return 'leak';
  const reason = REASONS[at(fleet.lives.reason, life)];
  return reason === 'opened' || reason === 'scheduled' ? reason : 'other';
}

/** Rows of each material and duty: practised ages differ between duties, and with them what a removal at an age is. */
function rowsByDuty(fleet: Fleet, history: History): Map<string, number[]> {
  const rows = new Map<string, number[]>();
  for (let i = 0; i < history.length; i++) {
    const key = dutyKey(fleet, history, i);
    const list = rows.get(key);
    if (list === undefined) rows.set(key, [i]);
    else list.push(i);
  }
  return rows;
}

function dutyKey(fleet: Fleet, history: History, i: number): string {
  return `${at(history.material, i)}/${dutyOf(fleet, at(history.life, i))}`;
}
