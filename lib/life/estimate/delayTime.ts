/**
 * Damage first, then a leak: the age at damage is Weibull, the leak follows after an exponential delay (delay-time model,
 * Christer & Waller 1984, from memory). With S the survival of the damage age, f its density and m the mean delay,
 *
 *     J(t) = integral from 0 to t of f(u) exp(-(t - u) / m) du
 *
 * is the chance of being damaged and not yet leaked at t; a leak at t has density J(t) / m, and S(t) + J(t) have not leaked.
 * Lives that entered late are watched because they had not leaked by then.
 */
import { at, floatAt } from '../../numeric/columns.js';

/** What is known of a life when it was last seen. */
export type DelayTimeState = 'leaked' | 'damaged' | 'damaged or leaked' | 'sound' | 'not leaked';

export interface DelayTimeRow {
  state: DelayTimeState;
  /** Age at that day, above 0 and above `entry`. */
  age: number;
  /** Age from which it was watched; 0 from new. */
  entry: number;
}

/** Steps between ages are no longer than the oldest age over this, unless told otherwise. */
const LONGEST_STEPS = 200;
const STATES: readonly DelayTimeState[] = ['leaked', 'damaged', 'damaged or leaked', 'sound', 'not leaked'];

/**
 * Log-likelihood of rows, made ready once: one walk over their distinct ages per call. Ages in any one unit. The error of the
 * density of damage within a step falls with the square of `steps`, the steps to the oldest age.
 */
export function delayTimeLikelihood(
  rows: readonly DelayTimeRow[],
  steps = LONGEST_STEPS,
): (shape: number, scale: number, delay: number) => number {
  const nodes = nodesOf(rows, steps);
  const counts = countsAt(rows, nodes);
  return (shape, scale, delay) => {
    let total = 0;
    let [age, hazard, sound, damaged] = [0, 0, 1, 0];
    for (let i = 0; i < nodes.length; i++) {
      const next = floatAt(nodes, i);
      const nextHazard = (next / scale) ** shape;
      const step = (next - age) / delay;
      // Those damaged in the step were so at a moment spread evenly over it.
      const stay = step > 1e-9 ? -Math.expm1(-step) / step : 1;
      damaged = damaged * Math.exp(-step) + sound * -Math.expm1(hazard - nextHazard) * stay;
      sound = Math.exp(-nextHazard);
      [age, hazard] = [next, nextHazard];
      const row = i * STATES.length;
      const intact = sound + damaged;
      total += weighted(floatAt(counts, row), damaged / delay);
      total += weighted(floatAt(counts, row + 1), damaged);
      total += weighted(floatAt(counts, row + 2), -Math.expm1(-nextHazard));
      total -= floatAt(counts, row + 3) * nextHazard;
      total += weighted(floatAt(counts, row + 4), intact);
    }
    return total;
  };
}

function weighted(count: number, chance: number): number {
  return count === 0 ? 0 : count * Math.log(chance);
}

/** Every age and entry in order, long gaps divided. */
function nodesOf(rows: readonly DelayTimeRow[], steps: number): Float64Array {
  const ages = [...new Set(rows.flatMap(({ age, entry }) => [age, entry]))].filter((age) => age > 0);
  ages.sort((a, b) => a - b);
  const longest = (ages[ages.length - 1] ?? 0) / steps;
  const nodes: number[] = [];
  let before = 0;
  for (const age of ages) {
    const parts = Math.max(1, Math.ceil((age - before) / longest));
    for (let k = 1; k < parts; k++) nodes.push(before + ((age - before) * k) / parts);
    nodes.push(age);
    before = age;
  }
  return Float64Array.from(nodes);
}

/** Rows per node and state; an entry counts against those that had not leaked. */
function countsAt(rows: readonly DelayTimeRow[], nodes: Float64Array): Float64Array {
  const place = new Map(Array.from(nodes, (age, i) => [age, i]));
  const counts = new Float64Array(nodes.length * STATES.length);
  const add = (age: number, state: DelayTimeState, count: number): void => {
    const i = place.get(age);
    if (i === undefined) return;
    const cell = i * STATES.length + STATES.indexOf(state);
    counts[cell] = at(counts, cell) + count;
  };
  for (const { state, age, entry } of rows) {
    add(age, state, 1);
    add(entry, 'not leaked', -1);
  }
  return counts;
}
