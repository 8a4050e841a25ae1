/** Hours of downtime a year against diaphragms fitted, as intervals go from short to long. */
import { type Amount, fromSetting } from '../cost/amount.js';
import type { AmountDrawer } from '../cost/draw.js';
import type { Money } from '../fleet/types.js';
import { at, floatAt, sum } from '../numeric/columns.js';
import { ends } from './draws.js';
import type { LongRun } from './longRun.js';
import type { CostByInterval, DowntimeFront, DowntimePoint } from './outlookTypes.js';
import { meanEvents } from './price.js';

/**
 * Stops made for the replacements count with their planned hours, leaks with theirs; stops that happen anyway count for
 * nothing, since replacements do not make them. Runs in the order of the factors. An hour setting that is not given
 * counts as nothing; null where neither is given.
 */
export function downtimeFront(
  { plannedStopHours, leakDowntimeHours }: Pick<Money, 'plannedStopHours' | 'leakDowntimeHours'>,
  runs: readonly LongRun[],
  today: LongRun,
  { factor, plant }: Pick<CostByInterval, 'factor' | 'plant'>,
  draw: AmountDrawer,
): DowntimeFront | null {
  if (plannedStopHours === null && leakDowntimeHours === null) return null;
  const hours = {
    stop: hoursOf(fromSetting('planned_stop_hours', plannedStopHours), draw),
    leak: hoursOf(fromSetting('leak_downtime_hours', leakDowntimeHours), draw),
  };
  const points = runs.map((run, i) => ({ factor: at(factor, i), ...pointOf(run, hours) }));
  const proposed = factor.indexOf(1);
  const { factor: _one, ...own } = points[proposed] ?? { factor: 1, ...pointOf(today, hours) };
  return {
    points,
    today: pointOf(today, hours),
    proposed: own,
    oneMore: oneMore(points, proposed, plant.perYear),
  };
}

interface Hours {
  mean: number;
  drawn: Float64Array;
}

const hoursOf = (amount: Amount, draw: AmountDrawer): Hours => ({ mean: amount.mean, drawn: draw(amount) });

function pointOf(run: LongRun, hours: { stop: Hours; leak: Hours }): DowntimePoint {
  const { groups, stops } = run;
  const events = meanEvents(run);
  const leaks = groups.map((each) => each.leaks);
  const drawn = hours.leak.drawn.map(
    (each, d) => each * totalAt(leaks, d) + floatAt(hours.stop.drawn, d) * totalAt(stops, d),
  );
  const [low, high] = ends(drawn);
  const plannedHours = hours.stop.mean * sum(events.stops);
  const leakHours = hours.leak.mean * sum(events.groups.map((each) => each.leaks));
  return {
    replacementsPerYear: sum(events.groups.map(({ fitted }) => fitted)),
    hours: plannedHours + leakHours,
    low,
    high,
    plannedHours,
    leakHours,
  };
}

function totalAt(columns: readonly Float64Array[], d: number): number {
  return columns.reduce((total, column) => total + floatAt(column, d), 0);
}

/** Between the proposal and the next shorter step. */
function oneMore(
  points: DowntimeFront['points'],
  proposed: number,
  perYear: readonly number[],
): DowntimeFront['oneMore'] {
  const [here, shorter] = [points[proposed], points[proposed - 1]];
  if (here === undefined || shorter === undefined) return null;
  const more = shorter.replacementsPerYear - here.replacementsPerYear;
  if (more <= 1e-9 * here.replacementsPerYear) return null;
  return {
    factor: shorter.factor,
    hoursSaved: (here.hours - shorter.hours) / more,
    costSaved: (at(perYear, proposed) - at(perYear, proposed - 1)) / more,
  };
}
