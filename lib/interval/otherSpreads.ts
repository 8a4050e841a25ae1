/**
 * Whether the advice hangs on the prior of the spread between groups (METHODS 2.3): what the advised interval costs above the least
 * under a prior half as wide, and under one twice as wide.
 */
import type { Warning } from '../findings.js';
import { columnOf, floatAt, itemAt } from '../numeric/columns.js';
import { ageWords } from '../numeric/words.js';
import type { Decision } from './decide.js';
import { drawRates, meanOver } from './rates.js';
import type { OtherSpread } from './types.js';
import { ratesOf, type Weighed } from './weigh.js';

/** The span within which an interval is as good as the best. */
const SPAN = 0.05;
/** With fewer draws than this the other prior cannot be seen in them. */
const FEWEST_DRAWS = 100;

/** One entry per other prior, in the order of the group; empty unless a replacement age is advised. */
export function otherSpreads(weighed: Weighed, { action, interval }: Decision): OtherSpread[] {
  const { group } = weighed;
  const others = group.otherSpreads;
  if (action !== 'replace' || interval === null || others.length === 0) return [];
  const least = leastRates(
    weighed,
    others.map(({ weights }) => weights),
  );
  const rates = ratesOf(weighed.cycle, weighed.costs, interval.days);
  return others.map(({ spread, weights, effectiveDraws }, i) => {
    const above = Math.max(0, meanOver(rates, weights) / floatAt(least, i) - 1);
    return { spread, aboveLeast: effectiveDraws < FEWEST_DRAWS ? null : above };
  });
}

/** Least mean cost rate over the ages of the cycle under each of several weightings of the draws. */
function leastRates({ cycle, costs }: Weighed, weightings: readonly Float64Array[]): Float64Array {
  const least = new Float64Array(weightings.length).fill(Infinity);
  for (let a = 0; a < cycle.ages.length; a++) {
    const rates = drawRates(cycle.onGrid(a), costs, cycle.openingsPerDay);
    const means = columnOf(weightings, (weights) => meanOver(rates, weights));
    for (let i = 0; i < least.length; i++) least[i] = Math.min(floatAt(least, i), floatAt(means, i));
  }
  return least;
}

/** An interval that is as good as the best under the prior, and no longer so under another. */
export function spreadWarning(
  { best, cycle, costs }: Weighed,
  { interval }: Decision,
  others: readonly OtherSpread[],
): Warning | null {
  if (interval === null || others.length === 0) return null;
  const own = meanOver(ratesOf(cycle, costs, interval.days)) / best.rate - 1;
  const worst = others.reduce(
    (most, other) => (aboveOf(other) > aboveOf(most) ? other : most),
    itemAt(others, 0),
  );
  if (own > SPAN || aboveOf(worst) <= SPAN) return null;
  const percent = Math.round(100 * aboveOf(worst));
  return {
    code: 'prior-decides',
    text: `How alike groups are taken to be decides: were they assumed ${worst.spread < 0.5 ? 'more alike' : 'less alike'} (spread ${worst.spread}), ${ageWords(interval.days)} would cost ${percent} % above the least.`,
    todo: 'Take the interval as provisional until this group has leaks of its own.',
  };
}

function aboveOf({ aboveLeast }: OtherSpread): number {
  return aboveLeast ?? 0;
}
