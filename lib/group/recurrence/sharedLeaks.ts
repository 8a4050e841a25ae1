/** How many of the leaks of two parts of a plant fall to one of them: the law of that number, and what it says of their rates. */
import { findRoot } from '../../numeric/roots.js';
import { logGamma } from '../../numeric/special.js';

/** Logarithm of the largest ratio of rates that bounds are searched to: e^25 is 7e10. */
const WIDEST = 25;

/** Of `leaks` leaks in all, each falls to the part with the chance `share`; they go together more than chance by `dispersion`. */
export interface SharedLeaks {
  leaks: number;
  share: number;
  /** Variance of the number over that of independent leaks, 1 or more. */
  dispersion: number;
}

/** Chance of `own` or more, and of `own` or fewer: beta-binomial, or binomial where leaks are independent. */
export function sharedTails(own: number, law: SharedLeaks): { atLeast: number; atMost: number } {
  const { leaks, share } = law;
  const mean = leaks * share;
  const here = chanceOf(own, law);
  // The shorter tail is summed, so that it keeps its digits.
  if (own >= mean) {
    const atLeast = Math.min(1, here + beyond(own, here, law, 1));
    return { atLeast, atMost: Math.min(1, 1 - atLeast + here) };
  }
  const atMost = Math.min(1, here + beyond(own, here, law, -1));
  return { atLeast: Math.min(1, 1 - atMost + here), atMost };
}

/**
 * Times as often as the rest the part leaks, with the bounds at which its number would have the chance (1 - level) / 2 on either
 * side (as Clopper and Pearson 1934). Null bounds and estimate where the rest has no leak: then there is no upper limit.
 */
export function timesAsOften(
  own: number,
  law: SharedLeaks,
  level: number,
): { estimate: number | null; low: number; high: number | null } {
  const { leaks, share } = law;
  const tail = (1 - level) / 2;
  const at = (logTimes: number): SharedLeaks => ({ ...law, share: tilted(share, logTimes) });
  const bound = (side: 'atLeast' | 'atMost'): number => {
    const distance = (logTimes: number): number => sharedTails(own, at(logTimes))[side] - tail;
    return Math.exp(findRoot(distance, -WIDEST, WIDEST, { relative: 1e-8 }).root);
  };
  const rest = leaks - own;
  return {
    estimate: rest === 0 ? null : (own * (1 - share)) / (rest * share),
    low: own === 0 ? 0 : bound('atLeast'),
    high: rest === 0 ? null : bound('atMost'),
  };
}

/** Share of a part that leaks exp(logTimes) times as often. */
function tilted(share: number, logTimes: number): number {
  return 1 / (1 + ((1 - share) / share) * Math.exp(-logTimes));
}

/** Parameters of the beta law of the share; null where leaks are independent. */
function betaOf({ leaks, share, dispersion }: SharedLeaks): { a: number; b: number } | null {
  const together = leaks > 1 ? (dispersion - 1) / (leaks - 1) : 0;
  if (!(together > 1e-9)) return null;
  const size = 1 / Math.min(together, 0.999) - 1;
  return { a: size * share, b: size * (1 - share) };
}

function chanceOf(own: number, law: SharedLeaks): number {
  const { leaks, share } = law;
  const ways = logGamma(leaks + 1) - logGamma(own + 1) - logGamma(leaks - own + 1);
  const beta = betaOf(law);
  if (beta === null) {
    const log = (k: number, chance: number): number => (k === 0 ? 0 : k * Math.log(chance));
    return Math.exp(ways + log(own, share) + log(leaks - own, 1 - share));
  }
  const { a, b } = beta;
  const log = (x: number, y: number): number => logGamma(x) + logGamma(y) - logGamma(x + y);
  return Math.exp(ways + log(a + own, b + leaks - own) - log(a, b));
}

/** Sum of the chances of all numbers above (or below) one, from each to the next by their ratio. */
function beyond(own: number, here: number, law: SharedLeaks, step: 1 | -1): number {
  const { leaks, share } = law;
  const beta = betaOf(law);
  // Chance of k + 1 over that of k.
  const ratio = (k: number): number => {
    const odds = beta === null ? share / (1 - share) : (beta.a + k) / (beta.b + leaks - k - 1);
    return ((leaks - k) / (k + 1)) * odds;
  };
  let [term, total] = [here, 0];
  for (let k = own; step === 1 ? k < leaks : k > 0; k += step) {
    term *= step === 1 ? ratio(k) : 1 / ratio(k - 1);
    total += term;
    if (term < 1e-16 * total || term === 0) break;
  }
  return total;
}
