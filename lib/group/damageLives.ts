/**
 * How soon diaphragms are damaged, group by group, from what was found when they were taken out (METHODS 1.3). The event table
 * says what each removal tells; the delay from damage to leak is fitted along with it, because taking damage found at removals
 * as all there is makes lives look wrong where some of it had leaked first. Posterior by importance sampling: log shape
 * normal(log 2, 0.5), log scale flat, log mean delay normal(log 180 days, 1.5). Shown, never priced.
 */
import { isLeak, lifeEvent } from '../fleet/eventTable.js';
import { lifeRow } from '../fleet/lifeRows.js';
import { FINDINGS_AT_REMOVAL, type Fleet, REASONS } from '../fleet/types.js';
import { importanceDraws } from '../life/estimate/bounds/importance.js';
import { type DelayTimeRow, type DelayTimeState, delayTimeLikelihood } from '../life/estimate/delayTime.js';
import { DEFAULT_SHAPE_PRIOR } from '../life/estimate/fitTypes.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { type RandomStream, randomStream } from '../numeric/random.js';
import type { GroupCell } from './cells.js';
import { EARLY_DAYS, isRemoval } from './history.js';
import { drawn } from './planned.js';
import type { DamageLife } from './types.js';

/** Median, days, and standard deviation of the logarithm of the mean delay before the lives are counted in. */
export const DELAY_PRIOR = { median: 180, sdLog: 1.5 } as const;
/** About 6 months, 1 year and 2 years. */
const AGES = [183, 365, 730];
const PROPOSALS = 800;
const KEPT = 400;

/** One per group, or null for each where the site does not ask for damage. */
export function damageLives(fleet: Fleet, cells: readonly GroupCell[], seed: number): (DamageLife | null)[] {
  if (fleet.site.event !== 'damage') return cells.map(() => null);
  return cells.map((cell) => damageLife(fleet, cell.lives, randomStream(seed, `damage/${cell.name}`)));
}

function damageLife(fleet: Fleet, lives: readonly number[], random: RandomStream): DamageLife {
  const rows: DelayTimeRow[] = [];
  for (const i of lives) {
    const state = stateOf(fleet, i);
    const row = lifeRow(fleet, i, 'leak');
    if (state !== null && row.kind !== 'set aside') rows.push({ state, age: row.age, entry: row.entry });
  }
  const count = (...states: DelayTimeState[]): number =>
    rows.filter(({ state }) => states.includes(state)).length;
  const damaged = count('damaged', 'damaged or leaked');
  return {
    damaged,
    sound: count('sound'),
    leaks: count('leaked'),
    notLookedAt: lives.filter((i) => isRemoval(fleet, i) && isNotLookedAt(fleet, i)).length,
    life: damaged === 0 ? null : fitted(rows, random),
  };
}

/** What a life says of damage; null where nothing: unknown reason and finding, or taken out for its condition without one. */
function stateOf(fleet: Fleet, i: number): DelayTimeState | null {
  const { lives, site } = fleet;
  if (!isRemoval(fleet, i)) return 'not leaked';
  const reason = itemAt(REASONS, at(lives.reason, i));
  const finding = itemAt(FINDINGS_AT_REMOVAL, at(lives.finding, i));
  if (isLeak(reason)) return isEarly(fleet, i) || finding === 'creased' ? 'not leaked' : 'leaked';
  const { meaning } = lifeEvent(reason, finding, 'damage', site.damageFindings);
  if (meaning === 'failed by removal') return reason === 'unknown' ? 'damaged or leaked' : 'damaged';
  if (meaning === 'right-censored') return 'sound';
  return reason === 'unknown' || reason === 'condition' ? null : 'not leaked';
}

function isNotLookedAt({ lives }: Fleet, i: number): boolean {
  const leaked = isLeak(itemAt(REASONS, at(lives.reason, i)));
  return !leaked && itemAt(FINDINGS_AT_REMOVAL, at(lives.finding, i)) === 'unknown';
}

/** So young that a leak is taken for a faulty fitting. */
function isEarly({ lives }: Fleet, i: number): boolean {
  return floatAt(lives.removed, i) - floatAt(lives.fitted, i) < EARLY_DAYS;
}

function fitted(rows: readonly DelayTimeRow[], random: RandomStream): DamageLife['life'] {
  const likelihood = delayTimeLikelihood(rows);
  const target = ([logShape = 0, logScale = 0, logDelay = 0]: readonly number[]): number => {
    const offShape = (logShape - Math.log(DEFAULT_SHAPE_PRIOR.median)) / DEFAULT_SHAPE_PRIOR.sdLog;
    const offDelay = (logDelay - Math.log(DELAY_PRIOR.median)) / DELAY_PRIOR.sdLog;
    const prior = -(offShape * offShape + offDelay * offDelay) / 2;
    return likelihood(Math.exp(logShape), Math.exp(logScale), Math.exp(logDelay)) + prior;
  };
  const oldest = rows.reduce((most, { age }) => Math.max(most, age), 1);
  const start = [Math.log(DEFAULT_SHAPE_PRIOR.median), Math.log(oldest), Math.log(DELAY_PRIOR.median)];
  const found = importanceDraws(target, start, { proposals: PROPOSALS, kept: KEPT, random });
  if (found === null) return null;
  const [logShape, logScale, logDelay] = [0, 1, 2].map((k) => itemAt(found.columns, k)) as [
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const shareAt = (age: number): Float64Array =>
    logShape.map(
      (value, d) => -Math.expm1(-Math.exp(Math.exp(value) * (Math.log(age) - floatAt(logScale, d)))),
    );
  return {
    shape: drawn(logShape, Math.exp),
    scale: drawn(logScale, Math.exp),
    delay: drawn(logDelay, Math.exp),
    ages: AGES,
    share: AGES.map((age) => drawn(shareAt(age))),
  };
}
