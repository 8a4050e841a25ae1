/** Demands that a plan does not meet, each with the limit that is why. */
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import type { Draft } from './draft.js';
import type { Model } from './model.js';
import { useOfTimes } from './repair.js';
import { hasWindow } from './schedules.js';
import type { FleetProblem, FleetUnmet } from './types.js';

type Why = Pick<FleetUnmet, 'short' | 'because'>;

const GONE: Why = { short: false, because: 'it is out of service by then' };
const NO_WINDOW: Why = { short: false, because: 'no window comes before it gets older than that' };

export function unmetDemands(problem: FleetProblem, model: Model, plan: Draft): FleetUnmet[] {
  return problem.positions.flatMap((_, p) => [
    ...missedMust(problem, model, plan, p),
    ...tooOld(problem, model, plan, p),
  ]);
}

/** Every window at which a position must be replaced and is not. */
function missedMust(
  { positions, must = [] }: FleetProblem,
  model: Model,
  plan: Draft,
  p: number,
): FleetUnmet[] {
  const { position } = itemAt(positions, p);
  const { line, windows, schedules } = itemAt(model.places, p);
  const own = itemAt(model.lines, line).windows;
  return must
    .filter((each) => each.position === position)
    .flatMap(({ window }) => {
      const k = own.findIndex((w) => itemAt(model.windows, w).name === window);
      if (k < windows.known && hasWindow(schedules, at(plan.chosen, p), k)) return [];
      const why = k >= windows.known ? GONE : blockedBy(model, plan, p, k);
      return [{ position, window, demand: 'must' as const, ...why }];
    });
}

/** Every window after which it gets older than its limit before the next one. */
function tooOld({ positions, today }: FleetProblem, model: Model, plan: Draft, p: number): FleetUnmet[] {
  const { position, latestAge, ages } = itemAt(positions, p);
  if (latestAge === null) return [];
  const { line, windows, schedules } = itemAt(model.places, p);
  const own = itemAt(model.lines, line).windows;
  const total = ages.reduce((sum, { chance }) => sum + chance, 0);
  let fitted = today - ages.reduce((sum, { age, chance }) => sum + age * chance, 0) / total;
  const found: FleetUnmet[] = [];
  for (let j = 0; j <= windows.known; j++) {
    const day = floatAt(windows.days, j);
    const replaced = j > 0 && hasWindow(schedules, at(plan.chosen, p), j - 1);
    if (replaced) fitted = day;
    if (floatAt(windows.days, j + 1) - fitted <= latestAge) continue;
    if (windows.ends && j + 1 === windows.days.length - 1 && windows.known === 0) continue;
    const why = replaced || j === 0 ? NO_WINDOW : blockedBy(model, plan, p, j - 1);
    const window = j === 0 ? 'today' : itemAt(model.windows, at(own, j - 1)).name;
    found.push({ position, window, demand: 'latest age', ...why });
  }
  return found;
}

/** Why a position is not replaced at a window of its line. */
function blockedBy(model: Model, plan: Draft, p: number, k: number): Why {
  const place = itemAt(model.places, p);
  if (place.windows.frozen[k + 1] === 1) return { short: false, because: 'nothing may be touched there' };
  const line = itemAt(model.lines, place.line);
  const w = at(line.windows, k);
  const reasons = model.rows.list.flatMap((row, r) => {
    const left = row.capacity - floatAt(plan.use, r);
    const name = itemAt(model.windows, row.window).name;
    if (row.kind === 'lines') {
      const short = r === at(line.lineRow, k) && at(plan.open, line.offset + k) === 0 && left < 1;
      return short ? [`${row.capacity} lines may be open at ${name} and are`] : [];
    }
    const isHere = row.kind === 'stock' ? w <= row.window && row.item === place.item : w === row.window;
    const needed = isHere ? useOfTimes(model, place, r, 1) : 0;
    if (needed <= left + 1e-9) return [];
    const [has, asks] = [round(Math.max(0, left)), round(needed)];
    return [
      row.kind === 'stock'
        ? `no piece is left by ${name}`
        : `${asks} of the ${row.kind} of ${name} are needed and ${has} of ${round(row.capacity)} left`,
    ];
  });
  return {
    short: reasons.length > 0,
    because: reasons[0] ?? 'missing it costs less than meeting it would',
  };
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
