/**
 * How well the truth of invented plants is recovered. Their positions are all alike within a group and no lot is poor,
 * because only then is there one Weibull law per group that bounds can hold or miss; what makes records hard is all on:
 * fitting faults, reasons and findings lost, delayed entry, unknown fitting days, openings in jobs, leaks seen late,
 * mistakes in the files.
 */
import { quantileSorted } from 'simple-statistics';
import type { TrueGroup } from '../../data-demo/plant/types.js';
import { groupFleet } from '../../lib/group/groupFleet.js';
import type { Group } from '../../lib/group/types.js';
import { readPlant } from './plant.js';

/** One parameter of one group against its truth. */
export interface Recovered {
  seed: number;
  group: string;
  truth: number;
  low: number;
  high: number;
  /** log(estimate / truth) over the standard error that the 90 % bound on the side of the truth implies. */
  standardised: number;
}

/** What is held against the truth: the own fit as shown, or the draws that the plan is made on. */
export type Described = 'own data' | 'draws';
export const DESCRIBED: readonly Described[] = ['own data', 'draws'];
export type Parameter = 'shape' | 'scale';
export const PARAMETERS: readonly Parameter[] = ['shape', 'scale'];

export type Recovery = Record<Described, Record<Parameter, Recovered[]>>;

/** A 90 % bound lies this many standard errors from the estimate. Likelihood bounds are lopsided: each side has its own. */
const HALF_WIDTH = 1.6448536269514722;

/** Shape and scale of every group of plants of the given seeds. */
export function recover(seeds: readonly number[]): Recovery {
  const plants = seeds.map((seed) => {
    const { fleet, truth } = readPlant({ seed, worsePositions: false, poorLot: false });
    return { seed, truth: truth.groups, groups: groupFleet(fleet, { seed: 1 }).groups };
  });
  const of =
    (described: Described) =>
    (parameter: Parameter): Recovered[] =>
      plants.flatMap(({ seed, truth, groups }) => compare(seed, truth, groups, parameter, described));
  const both = (described: Described): Record<Parameter, Recovered[]> => ({
    shape: of(described)('shape'),
    scale: of(described)('scale'),
  });
  return { 'own data': both('own data'), draws: both('draws') };
}

/** Truth against bounds, group by group. */
export function compare(
  seed: number,
  truths: readonly TrueGroup[],
  groups: readonly Group[],
  parameter: Parameter,
  described: Described,
): Recovered[] {
  return truths.map((truth) => {
    const group = groups.find(({ name }) => name === truth.name);
    if (group === undefined) throw new Error(`Plant ${seed} has no group ${truth.name}.`);
    const { low, estimate, high } =
      described === 'draws' ? ofDraws(group, parameter) : ofOwnData(group, parameter);
    const bound = truth[parameter] > estimate ? high : low;
    const standardError = Math.abs(Math.log(bound / estimate)) / HALF_WIDTH;
    return {
      seed,
      group: truth.name,
      truth: truth[parameter],
      low,
      high,
      standardised: Math.log(estimate / truth[parameter]) / standardError,
    };
  });
}

interface Estimated {
  low: number;
  estimate: number;
  high: number;
}

function ofOwnData({ model, bounds }: Group, parameter: Parameter): Estimated {
  const [low, high] = bounds[parameter];
  return { low, estimate: model[parameter], high };
}

/** Of the draws themselves, not of what is said of them. */
function ofDraws({ draws }: Group, parameter: Parameter): Estimated {
  const sorted = Array.from(draws[parameter]).sort((a, b) => a - b);
  const at = (p: number): number => quantileSorted(sorted, p);
  return { low: at(0.05), estimate: at(0.5), high: at(0.95) };
}

/** Misses on either side: the truth below the low bound, and above the high one. */
export function missedSides(recovered: readonly Recovered[]): { below: number; above: number } {
  return {
    below: recovered.filter(({ truth, low }) => truth < low).length,
    above: recovered.filter(({ truth, high }) => truth > high).length,
  };
}

export function isMiss({ truth, low, high }: Recovered): boolean {
  return truth < low || truth > high;
}

/** Mean square about the mean. */
export function variance(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
}

/** Fewest and most of n misses that chance p leaves inside 99.9 %: at most 0.05 % lies beyond either. */
export function binomialLimits(n: number, p: number): [number, number] {
  const chance = [(1 - p) ** n];
  for (let k = 1; k <= n; k++) chance.push((((chance[k - 1] as number) * (n - k + 1)) / k) * (p / (1 - p)));
  const quantile = (share: number): number => {
    let below = 0;
    for (let k = 0; k <= n; k++) {
      below += chance[k] as number;
      if (below >= share) return k;
    }
    return n;
  };
  return [quantile(0.0005), quantile(0.9995)];
}
