/** From what happened to what was written down: rows of lives.csv and positions.csv before anybody makes a mistake. */
import { dayFromText, textFromDay } from '../../lib/numeric/day.js';
import type { RandomStream } from '../../lib/numeric/random.js';
import { DATA_UNTIL, RECORDS_FROM, STEAM_HOLD_MINUTES } from './design.js';
import { chance } from './draws.js';
import type { Row, TrueLife, TruePosition } from './types.js';

export const LIFE_COLUMNS = [
  'position',
  'material',
  'size',
  'lot',
  'fitted',
  'removed',
  'reason',
  'finding',
  'last_tight',
  'fitted_by',
  'recorded',
] as const;

export const POSITION_COLUMNS = [
  'position',
  'line',
  'size',
  'duty',
  'criticality',
  'steam_cycles_per_week',
  'strokes_per_day',
  'hot_cleans_per_week',
  'accessories',
  'material_next',
  'in_service_since',
  'out_of_service_since',
] as const;

/** Of plants that tell temperatures. */
export const HEATED_COLUMNS = [...POSITION_COLUMNS, 'steam_temperature_c', 'steam_hold_minutes'] as const;

/** Shares of cells that are empty although somebody once knew what belongs in them. */
const REASON_LOST = 0.11;
const FINDING_LOST = 0.15;
const LOT_LOST = 0.1;
const SIZE_LOST = 0.05;
const FITTER_LOST = 0.12;
/** Of diaphragms fitted before the records began: their day of fitting is not known. */
const FITTING_LOST = 0.3;
const SERVICE_DAY_LOST = 0.4;
const RETIREMENT_LOST = 0.2;
const USAGE_LOST = 0.12;

/** The lives on record: all that were in place on or after the day the records began, in the order of their fitting. */
export function recordedLives(lives: readonly TrueLife[]): TrueLife[] {
  const from = dayFromText(RECORDS_FROM) as number;
  return lives.filter(({ removed }) => removed === null || removed > from);
}

/** A row of lives.csv. What is lost is lost by chance alone: it does not depend on how long the life was or how it ended. */
export function lifeRow(random: RandomStream, life: TrueLife): Row {
  const { position, fitted, removed } = life;
  const lost = (share: number): boolean => chance(random, share);
  const reasonLost = lost(REASON_LOST);
  const asWord = lost(0.5);
  const findingLost = lost(FINDING_LOST);
  const lotLost = lost(LOT_LOST);
  const sizeLost = lost(SIZE_LOST);
  const fitterLost = lost(FITTER_LOST);
  const fittingLost = lost(FITTING_LOST);
  const booked = (removed ?? fitted) + random.below(9);
  const old = fitted < (dayFromText(RECORDS_FROM) as number);
  // The end of a position that stands nowhere else keeps its reason.
  const known = life.reason === 'retired' || !reasonLost;
  const reason = known ? (life.reason ?? '') : asWord ? 'unknown' : '';
  return {
    position: tagOn(position, fitted),
    material: position.material,
    size: sizeLost ? '' : String(position.size),
    lot: lotLost || old ? '' : life.lot,
    fitted: old && fittingLost ? '' : textFromDay(fitted),
    removed: removed === null ? '' : textFromDay(removed),
    reason: removed === null ? '' : reason,
    finding: removed === null || findingLost ? '' : life.finding,
    last_tight: known && life.lastTight !== null ? textFromDay(life.lastTight) : '',
    fitted_by: fitterLost || old ? '' : life.fitter,
    recorded: booked <= (dayFromText(DATA_UNTIL) as number) ? textFromDay(booked) : '',
  };
}

/** The tag as it was on a day. */
export function tagOn({ tag, former }: TruePosition, day: number): string {
  return former !== null && day < former.until ? former.tag : tag;
}

export function positionRow(random: RandomStream, position: TruePosition): Row {
  const { duty, retired, commissioned } = position;
  const usageLost = chance(random, USAGE_LOST);
  const serviceLost = chance(random, SERVICE_DAY_LOST);
  const retirementLost = chance(random, RETIREMENT_LOST);
  const built = commissioned > (dayFromText(RECORDS_FROM) as number);
  const rate = (value: number): string => (usageLost ? '' : String(value));
  return {
    position: position.tag,
    line: position.line,
    size: String(position.size),
    duty: duty.name,
    criticality: duty.criticality,
    steam_cycles_per_week: rate(position.steamPerWeek),
    strokes_per_day: rate(position.strokesPerDay),
    hot_cleans_per_week: rate(position.hotCleansPerWeek),
    accessories: String(position.accessories),
    material_next: '',
    in_service_since: serviceLost && !built ? '' : textFromDay(commissioned),
    out_of_service_since: retired === null || retirementLost ? '' : textFromDay(retired),
    steam_temperature_c: position.steamCelsius === null ? '' : String(position.steamCelsius),
    steam_hold_minutes: position.steamCelsius === null ? '' : String(STEAM_HOLD_MINUTES),
  };
}
