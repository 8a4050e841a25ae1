/** How far chains of a sampler can be trusted: effective size and agreement. */
import { columnOf } from '../../../numeric/columns.js';

/**
 * Effective size of several equally long chains of one quantity: their length over 1 + 2 sum of autocorrelations, the
 * sum cut where a pair of neighbours turns negative (Geyer 1992, from memory). A constant chain counts in full.
 */
export function effectiveSize(chains: readonly ArrayLike<number>[]): number {
  const length = chains[0]?.length ?? 0;
  const total = length * chains.length;
  const grand = meanOf(chains.map(meanOf));
  const centred = chains.map((chain) => columnOf(chain, (value) => value - grand));
  const covariance = (lag: number): number => {
    let sum = 0;
    for (const chain of centred) {
      for (let i = 0; i + lag < length; i++) sum += (chain[i] as number) * (chain[i + lag] as number);
    }
    return sum / total;
  };
  const variance = covariance(0);
  if (!(variance > 0)) return total;
  let time = -1;
  for (let lag = 0; lag + 1 < length / 2; lag += 2) {
    const pair = (covariance(lag) + covariance(lag + 1)) / variance;
    if (pair <= 0) break;
    time += 2 * pair;
  }
  return Math.min(total, total / Math.max(time, 1 / total));
}

/** Split R-hat (Gelman et al., Bayesian Data Analysis 3rd ed. sec. 11.4): 1 where halves of all chains agree. */
export function splitRHat(chains: readonly ArrayLike<number>[]): number {
  const halves = chains.flatMap((chain) => {
    const half = Math.floor(chain.length / 2);
    const list = new Float64Array(chain);
    return [list.subarray(0, half), list.subarray(half, 2 * half)];
  });
  const length = halves[0]?.length ?? 0;
  const means = halves.map(meanOf);
  const within = meanOf(halves.map(varianceOf));
  const between = length * varianceOf(means);
  if (!(within > 0)) return 1;
  return Math.sqrt((((length - 1) / length) * within + between / length) / within);
}

function meanOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] as number;
  return sum / values.length;
}

function varianceOf(values: ArrayLike<number>): number {
  const mean = meanOf(values);
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += ((values[i] as number) - mean) ** 2;
  return sum / (values.length - 1);
}
