/** The search for a fleet's plan, with what problems before have worked out already. */
import { answerOf, schedulesOf } from './answer.js';
import { checkProblem } from './checkProblem.js';
import { modelOf } from './model.js';
import { search } from './search.js';
import type { SharedParts } from './sharedParts.js';
import type { FleetOptimum, FleetOptions, FleetProblem } from './types.js';

const ROUNDS = 300;
const GAP = 0.001;
const UNMET = 10;

/** As `optimiseShutdowns`: the same answer whatever `shared` knows from before. */
export function optimise(problem: FleetProblem, options: FleetOptions, shared: SharedParts): FleetOptimum {
  checkProblem(problem, options);
  const dearest = problem.positions.reduce(
    (most, { now, next }) => Math.max(most, now.leakCost, next.leakCost),
    0,
  );
  const model = modelOf(problem, options.unmetCost ?? UNMET * Math.max(1, dearest), shared);
  const { against: other, rounds = ROUNDS, gap = GAP } = options;
  const against = other === undefined ? null : schedulesOf(problem, model, other);
  const found = search(model, rounds, gap, against);
  const nothing = model.places.every(({ windows }) => windows.known === 0);
  return answerOf(problem, model, nothing ? { ...found, status: 'nothing to plan' } : found, against);
}
