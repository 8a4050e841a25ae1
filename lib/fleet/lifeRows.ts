/**
 * One life of the history as a row of a life sample, in days (METHODS 1.1 to 1.3, 1.6). Age is calendar time since
 * fitting and keeps running while a position is idle: an elastomer that is clamped and hot or wet goes on ageing,
 * and leaving idle days out would make the diaphragms look better than they are.
 */
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { lifeEvent } from './eventTable.js';
import { FINDINGS_AT_REMOVAL, type Fleet, REASONS, type Site } from './types.js';

/**
 * - `failed`: the event fell in (lower, upper].
 * - `censored`: it had not happened at `lower`; upper is Infinity.
 * - `condition`, `unknown`: fit both ways, as failed in (lower, upper] and as censored at `age`.
 */
export interface UsableRow {
  kind: 'failed' | 'censored' | 'condition' | 'unknown';
  lower: number;
  upper: number;
  /** Age at which the records begin to watch it; 0 if watched from new. Always below `age` and `upper`. */
  entry: number;
  /** Age at removal or at the end of the data, at least 0.5: where it is censored if it did not fail. */
  age: number;
  /** The finding points to a fitting fault. */
  fittingFault: boolean;
}

/** A life that cannot enter a fit, and why. */
export interface UnusableRow {
  kind: 'set aside';
  why: string;
}

export type LifeRow = UsableRow | UnusableRow;

const HALF_DAY = 0.5;

/** Life i of the fleet as a row of a sample for the event, or why it cannot be one. */
export function lifeRow(fleet: Fleet, i: number, event: Site['event']): LifeRow {
  const { lives, site } = fleet;
  const fitted = floatAt(lives.fitted, i);
  if (Number.isNaN(fitted)) return aside('the day it was fitted is not known');
  const removed = floatAt(lives.removed, i);
  const running = Number.isNaN(removed);
  const days = (running ? site.dataUntil : removed) - fitted;
  const age = Math.max(days, HALF_DAY);
  const entry = entryAge(fleet, i, fitted);
  if (days < 0) return aside('it ends before it was fitted');
  if (entry >= age) return aside('it was watched for no time at all');
  if (running) return { kind: 'censored', lower: age, upper: Infinity, entry, age, fittingFault: false };
  return removedRow(fleet, i, event, { days, age, entry });
}

interface Ages {
  days: number;
  age: number;
  entry: number;
}

function removedRow(fleet: Fleet, i: number, event: Site['event'], { days, age, entry }: Ages): LifeRow {
  const { lives, site } = fleet;
  const reason = itemAt(REASONS, at(lives.reason, i));
  const finding = itemAt(FINDINGS_AT_REMOVAL, at(lives.finding, i));
  const { meaning, fittingFault } = lifeEvent(reason, finding, event, site.damageFindings);
  const upper = failedBy(days);
  const lower = failedAfter(days, floatAt(lives.lastTight, i) - floatAt(lives.fitted, i));
  switch (meaning) {
    case 'failed at removal':
      return { kind: 'failed', lower, upper, entry, age, fittingFault };
    case 'failed by removal':
      return { kind: 'failed', lower: 0, upper, entry, age, fittingFault };
    case 'right-censored':
      return { kind: 'censored', lower: age, upper: Infinity, entry, age, fittingFault };
    case 'condition':
      return { kind: 'condition', lower, upper, entry, age, fittingFault };
    case 'unknown reason':
      return { kind: 'unknown', lower, upper, entry, age, fittingFault };
    case 'set aside':
      return aside(`reason ${reason} with finding ${finding} says nothing about ${event}`);
  }
}

/** Upper end of the day on which an event at an age of whole days was seen; day 0 is (0, 1]. */
function failedBy(days: number): number {
  return days === 0 ? 1 : days + HALF_DAY;
}

/** Lower end: half a day before, or the age at the last tight test where one is on record. */
function failedAfter(days: number, tightAge: number): number {
  const dayBefore = Math.max(days - HALF_DAY, 0);
  return Number.isNaN(tightAge) ? dayBefore : Math.max(Math.min(tightAge, dayBefore), 0);
}

/** Age at which watching began: when the records began or the position came into service, whichever is later. */
function entryAge(fleet: Fleet, i: number, fitted: number): number {
  const position = itemAt(fleet.positions, at(fleet.lives.position, i));
  const watchedFrom = Math.max(fleet.site.recordsFrom ?? -Infinity, position.inServiceSince ?? -Infinity);
  return Math.max(watchedFrom - fitted, 0);
}

function aside(why: string): UnusableRow {
  return { kind: 'set aside', why };
}
