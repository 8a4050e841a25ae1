/** Whether times between events grow or shrink: the reverse arrangement test. */
import { UsageError } from '../errors.js';
import { floatAt } from '../numeric/columns.js';

export interface Reversals {
  /** Pairs in which the later time between events is the longer one. */
  reversals: number;
  /** Pairs of equal times, whose order says nothing: they count against either trend. */
  ties: number;
  /** What it is on average where the order is one of chance: n (n - 1) / 4. */
  expected: number;
  /** Chance of so many or more, exact without ties and else too large: small values say that times between events grow. */
  pGrowing: number;
  /** Chance of so many or fewer, likewise: small values say that they shrink. */
  pShrinking: number;
}

/** The exact law takes n^4 / 8 additions. */
const MOST = 200;

/**
 * Counts reversals among times between events, in their order, and compares with all orders being as likely (Mann 1945; NIST/SEMATECH
 * e-Handbook 8.2.3.4). Assumes no law of the times, but that all come from one; the last event must end the last time.
 * @param gaps times between events of one system, in any unit
 * @throws UsageError for fewer than two or more than 200 times, and for values that are not finite and at or above 0
 */
export function reversalTest(gaps: ArrayLike<number>): Reversals {
  const times = Float64Array.from(gaps);
  requireGaps(times);
  const n = times.length;
  let [reversals, ties] = [0, 0];
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const growth = floatAt(times, j) - floatAt(times, i);
      if (growth > 0) reversals++;
      else if (growth === 0) ties++;
    }
  }
  const law = reversalLaw(n);
  const chance = (from: number, to: number): number => law.subarray(from, to).reduce((p, x) => p + x, 0);
  return {
    reversals,
    ties,
    expected: (n * (n - 1)) / 4,
    pGrowing: Math.min(1, chance(reversals, law.length)),
    pShrinking: Math.min(1, chance(0, reversals + ties + 1)),
  };
}

/** Chance of each number of reversals: the k-th time adds 0 to k - 1 of them, each as likely. */
function reversalLaw(n: number): Float64Array {
  let law = Float64Array.of(1);
  for (let k = 2; k <= n; k++) {
    const next = new Float64Array(law.length + k - 1);
    for (let r = 0; r < next.length; r++) {
      let total = 0;
      for (let s = Math.max(0, r - k + 1); s <= Math.min(r, law.length - 1); s++) total += floatAt(law, s);
      next[r] = total / k;
    }
    law = next;
  }
  return law;
}

function requireGaps(times: Float64Array): void {
  const refuse = (rule: string, value: unknown): never => {
    throw new UsageError('reversalTest', rule, value);
  };
  if (times.length < 2 || times.length > MOST) refuse(`2 to ${MOST} times are taken.`, times.length);
  const bad = times.findIndex((t) => !(t >= 0 && t < Infinity));
  if (bad >= 0) refuse(`time ${bad + 1} must be finite and at or above 0.`, times[bad]);
}
