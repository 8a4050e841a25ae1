/** Several samples as one. */
import { at } from '../numeric/columns.js';
import type { LifeSample } from './sampleTypes.js';

/** Rows one after the other; positions of different samples count as different. */
export function joinSamples(samples: readonly LifeSample[]): LifeSample {
  const join = (column: (sample: LifeSample) => Float64Array): Float64Array => {
    const out = new Float64Array(samples.reduce((total, sample) => total + sample.lower.length, 0));
    let start = 0;
    for (const sample of samples) {
      out.set(column(sample), start);
      start += sample.lower.length;
    }
    return out;
  };
  const known = samples.every(({ otherHazard }) => otherHazard === undefined);
  return {
    lower: join(({ lower }) => lower),
    upper: join(({ upper }) => upper),
    entry: join(({ entry }) => entry),
    count: join(({ count }) => count),
    cluster: joinClusters(samples),
    otherHazard: known
      ? undefined
      : join(({ otherHazard, lower }) => otherHazard ?? new Float64Array(lower.length)),
  };
}

/** Codes at or above 0 name positions; negative ones name none and are told apart from each other by row. */
function joinClusters(samples: readonly LifeSample[]): Int32Array {
  const codes: number[] = [];
  let next = 0;
  for (const { cluster } of samples) {
    let largest = -1;
    for (let i = 0; i < cluster.length; i++) {
      const code = at(cluster, i);
      largest = Math.max(largest, code);
      codes.push(code < 0 ? -1 - codes.length : next + code);
    }
    next += largest + 1;
  }
  return Int32Array.from(codes);
}
