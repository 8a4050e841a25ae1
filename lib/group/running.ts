/** Where every running diaphragm stands at the end of the data. */
import type { Fleet } from '../fleet/types.js';
import { logSurvival } from '../life/distribution/index.js';
import type { WeibullModel } from '../life/model.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import type { Day } from '../numeric/day.js';
import { type Cells, runningLives } from './cells.js';
import type { RunningLife } from './types.js';

/** Ages that stand for an unknown one. */
const AGE_STEPS = 12;
/** Without a day on which the position came into service, a diaphragm is taken to be no older than this, days. */
const OLDEST_ASSUMED = 3653;

/** One per position in service; the position's last running life where there are several. */
export function runningDiaphragms(
  fleet: Fleet,
  cells: Cells,
  models: readonly WeibullModel[],
): RunningLife[] {
  const lastRemoval = lastRemovals(fleet);
  const byPosition = new Map<number, RunningLife>();
  for (const i of runningLives(fleet)) {
    const position = at(fleet.lives.position, i);
    const groupNow = at(cells.ofLife, i);
    const fitted = floatAt(fleet.lives.fitted, i);
    const known = !Number.isNaN(fitted);
    byPosition.set(position, {
      position,
      groupNow,
      groupNext: cells.next(itemAt(fleet.positions, position), itemAt(cells.cells, groupNow).material),
      fitted: known ? fitted : null,
      ages: known
        ? [{ age: Math.max(fleet.site.dataUntil - fitted, 0), chance: 1 }]
        : spreadAges(ageRange(fleet, position, lastRemoval.get(position)), itemAt(models, groupNow)),
    });
  }
  return [...byPosition.values()].sort((a, b) => a.position - b.position);
}

/** Last day on which something was taken out of each position. */
function lastRemovals({ lives }: Fleet): Map<number, Day> {
  const last = new Map<number, Day>();
  for (let i = 0; i < lives.length; i++) {
    const removed = floatAt(lives.removed, i);
    if (Number.isNaN(removed)) continue;
    const position = at(lives.position, i);
    last.set(position, Math.max(removed, last.get(position) ?? removed));
  }
  return last;
}

/** Youngest and oldest a diaphragm of unknown fitting day can be (METHODS 1.6), narrowed by the last removal. */
function ageRange({ site, positions }: Fleet, position: number, removal: Day | undefined): [number, number] {
  const since = itemAt(positions, position).inServiceSince;
  const known = [since, removal ?? null].filter((day): day is Day => day !== null);
  const youngest =
    site.recordsFrom === null || removal !== undefined ? 0 : Math.max(site.dataUntil - site.recordsFrom, 0);
  const oldest = known.length === 0 ? youngest + OLDEST_ASSUMED : site.dataUntil - Math.max(...known);
  return [Math.min(youngest, Math.max(oldest, 0)), Math.max(oldest, 0)];
}

/** Ages between two, weighted by survival: the age density of a renewal process in equilibrium (Cox 1962, from memory). */
function spreadAges([youngest, oldest]: readonly [number, number], model: WeibullModel): RunningLife['ages'] {
  if (oldest <= youngest) return [{ age: youngest, chance: 1 }];
  const step = (oldest - youngest) / AGE_STEPS;
  const ages = Array.from({ length: AGE_STEPS }, (_, i) => youngest + (i + 0.5) * step);
  const logWeights = ages.map((age) => logSurvival(model, age));
  const top = Math.max(...logWeights);
  const weights = logWeights.map((weight) => Math.exp(weight - top));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return ages.map((age, i) => ({ age: Math.round(age), chance: itemAt(weights, i) / total }));
}
