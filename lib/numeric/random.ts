/**
 * Random numbers from a seed. The generator is xoroshiro128+ of the pure-rand library; every stochastic
 * function takes a `RandomStream`, and nothing in this library calls Math.random.
 */

import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** A stream of random numbers. Two streams with the same seed and label give the same numbers. */
export interface RandomStream {
  /** A number in (0, 1): never 0, so that its logarithm is finite. */
  uniform(): number;
  /** A standard normal number, by inversion. */
  normal(): number;
  /** A whole number from 0 to n - 1. */
  below(n: number): number;
  /** A new stream of its own for a named part of the work, so that adding draws in one part moves no other. */
  fork(label: string): RandomStream;
}

/** Opens a stream. `seed` is any whole number; `label` names the part of the work it serves. */
export function randomStream(seed: number, label = ''): RandomStream {
  const generator = xoroshiro128plus(hash(`${seed}/${label}`));
  const uniform = (): number => {
    for (;;) {
      const value = uniformFloat64(generator);
      if (value > 0) return value;
    }
  };
  return {
    uniform,
    normal: () => normalQuantile(uniform(), 0, 1),
    below: (n) => Math.floor(uniform() * n),
    fork: (name) => randomStream(seed, `${label}/${name}`),
  };
}

/** FNV-1a, 32 bits: spreads a text over the seeds. */
function hash(text: string): number {
  let value = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) {
    value ^= text.charCodeAt(i);
    value = Math.imul(value, 0x01000193);
  }
  return value | 0;
}
