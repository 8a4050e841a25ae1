/** The cheapest shutdown plan of a fleet within shared limits, and how far from the best possible it can be. */
import { optimise } from './optimise.js';
import { sharedParts } from './sharedParts.js';
import type { FleetOptimum, FleetOptions, FleetProblem } from './types.js';

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
  return optimise(problem, options, sharedParts());
}
