/** The cheapest shutdown plan of a fleet within shared limits, and how far from the best possible it can be. */
import { answerOf, schedulesOf } from './answer.js';
import { checkProblem } from './checkProblem.js';
import { modelOf } from './model.js';
import { search } from './search.js';
import type { FleetOptimum, FleetOptions, FleetProblem } from './types.js';

const ROUNDS = 300;
const GAP = 0.001;
const UNMET = 10;

/**
 * Chooses the windows in which each position is replaced, within crew hours, open lines, replacements and stock
 * (METHODS 4.7). What a position's schedule costs is worked out over the age at each window, with leaks in between: a
 * leak costs its whole cost and renews at once, the task that it saves stays booked, and the position then goes on as
 * is best for itself. The limits are priced, which gives a lower bound of what any plan costs; the plan found is
 * within all of them. Hours are booked in full, because a crew must be there if nothing leaks. A demand that cannot be
 * met is named and counted at `unmetCost`. The same problem gives the same answer to the last digit.
 *
 * @throws UsageError for amounts that are not numbers, unknown or repeated names, windows that are past or on one day.
 */
export function optimiseShutdowns(problem: FleetProblem, options: FleetOptions = {}): FleetOptimum {
  checkProblem(problem, options);
  const dearest = problem.positions.reduce(
    (most, { now, next }) => Math.max(most, now.leakCost, next.leakCost),
    0,
  );
  const model = modelOf(problem, options.unmetCost ?? UNMET * Math.max(1, dearest));
  const { against: other, rounds = ROUNDS, gap = GAP } = options;
  const against = other === undefined ? null : schedulesOf(problem, model, other);
  const found = search(model, rounds, gap, against);
  const nothing = model.places.every(({ windows }) => windows.known === 0);
  return answerOf(problem, model, nothing ? { ...found, status: 'nothing to plan' } : found, against);
}
