/** Lives without those of positions that leak far more often than the law of their group says. */
import { candidates, endAt, lastEnd, quickClock } from '../../exposure/clock/fitClock.js';
import { readClocks } from '../../exposure/clock/readClocks.js';
import { DAYS } from '../../exposure/clock/types.js';
import { END_ENTRY } from '../../life/estimate/regression/ageScale.js';
import { isFailure } from '../../life/sample.js';
import { at, floatAt, wholeAt } from '../../numeric/columns.js';
import { poissonTail } from '../standOut/chance.js';
import type { FollowedLives } from '../standOut/followed.js';
import type { UsedLives } from './usedLives.js';
import { countsOf, type WearLives } from './wearLives.js';

/** Chance of so many leaks or more under which a position is left out, and how often the law is fitted again to the rest. */
const RARE = 0.001;
const ROUNDS = 3;
const FEWEST_LEAKS = 3;

/**
 * A few positions that wear fast for reasons of their own bring most of the leaks, and whether they happen to be hot or not must not say
 * what heat does. Leaks of a position are held against the Weibull law of its group on the clock of its dose, by the Poisson law.
 */
export function usualPositions(lives: WearLives, followed: FollowedLives, used: UsedLives): WearLives {
  let kept = lives;
  for (let round = 0; round < ROUNDS; round++) {
    const fast = fastPositions(kept, followed, used);
    if (fast.size === 0) return kept;
    kept = without(kept, followed, fast);
  }
  return kept;
}

function fastPositions(lives: WearLives, followed: FollowedLives, used: UsedLives): Set<number> {
  const exposures = { dose: countsOf(lives, followed, used, used.dose) };
  const known = readClocks({ days: lives.days, exposures });
  const { sample } = known;
  const clock = candidates(known, 'weibull', false).find(({ name }) => name !== DAYS);
  const top = clock === undefined ? null : quickClock(clock);
  if (clock === undefined || top === null) return new Set();
  const [logScale, minusLogShape] = [at(top.theta, 0), at(top.theta, 1)];
  const hazard = (age: number): number => Math.exp(Math.exp(-minusLogShape) * (Math.log(age) - logScale));
  const tally = new Map<number, { leaks: number; expected: number }>();
  for (let k = 0; k < sample.lower.length; k++) {
    const position = at(sample.cluster, k);
    const own = tally.get(position) ?? { leaks: 0, expected: 0 };
    const count = floatAt(sample.count, k);
    if (isFailure(sample, k)) own.leaks += count;
    own.expected +=
      count *
      (hazard(endAt(clock.ends, k, lastEnd(clock.ends, k))) - hazard(endAt(clock.ends, k, END_ENTRY)));
    tally.set(position, own);
  }
  const fast = [...tally].filter(
    ([, { leaks, expected }]) => leaks >= FEWEST_LEAKS && poissonTail(leaks, expected) < RARE,
  );
  return new Set(fast.map(([position]) => position));
}

function without(lives: WearLives, { leak }: FollowedLives, left: ReadonlySet<number>): WearLives {
  const { rows, days } = lives;
  const kept = Array.from(rows.keys()).filter((k) => !left.has(at(days.cluster, k)));
  const pick = (column: Float64Array): Float64Array => Float64Array.from(kept, (k) => floatAt(column, k));
  const own = Int32Array.from(kept, (k) => wholeAt(rows, k));
  return {
    ...lives,
    rows: own,
    days: {
      lower: pick(days.lower),
      upper: pick(days.upper),
      entry: pick(days.entry),
      count: pick(days.count),
      cluster: Int32Array.from(kept, (k) => at(days.cluster, k)),
    },
    leaks: own.reduce((total, i) => total + at(leak, i), 0),
  };
}
