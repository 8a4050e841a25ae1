/** Openings for other work come in jobs (METHODS 5.3): several valves of one line within a few days. */
import { UsageError } from '../errors.js';
import type { Fleet } from '../fleet/types.js';
import { REASONS } from '../fleet/types.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';

/** Openings of one item on one line within so many days of the first are one job. */
export const JOB_DAYS = 3;
/** An item with fewer jobs than this on record borrows the jobs of the whole plant. */
export const FEWEST_JOBS = 5;

/** How many valves one job opens. */
export interface JobSizes {
  /** chances[v] = chance that a job opens v valves; chances[0] = 0. */
  chances: Float64Array;
  mean: number;
  meanSquare: number;
  /** Jobs on record that this was read from. */
  jobs: number;
}

/** Every job opens one valve: taken where no opening is on record. */
export const SINGLE_VALVE_JOBS: JobSizes = {
  chances: Float64Array.of(0, 1),
  mean: 1,
  meanSquare: 1,
  jobs: 0,
};

/** Sizes of jobs from a list of them. */
export function jobSizes(sizes: readonly number[]): JobSizes {
  if (sizes.length === 0) return SINGLE_VALVE_JOBS;
  const chances = new Float64Array(Math.max(...sizes) + 1);
  for (const size of sizes) chances[size] = floatAt(chances, size) + 1 / sizes.length;
  return { ...momentsOf(chances), chances, jobs: sizes.length };
}

function momentsOf(chances: ArrayLike<number>): { mean: number; meanSquare: number } {
  let mean = 0;
  let meanSquare = 0;
  for (let v = 1; v < chances.length; v++) {
    mean += v * at(chances, v);
    meanSquare += v * v * at(chances, v);
  }
  return { mean, meanSquare };
}

/**
 * Job sizes on record per material and size, key 'EPDM/25'; `plant` is over all of them.
 * Reads removals with reason `opened`.
 */
export function recordedJobs(fleet: Fleet): {
  plant: JobSizes;
  of: (material: string, size: number) => JobSizes;
} {
  const opened = REASONS.indexOf('opened');
  const { lives } = fleet;
  const days = new Map<string, { kind: string; days: number[] }>();
  for (let i = 0; i < lives.length; i++) {
    if (at(lives.reason, i) !== opened || !Number.isFinite(floatAt(lives.removed, i))) continue;
    const line = fleet.positions[at(lives.position, i)]?.line ?? '';
    const kind = `${fleet.materials[at(lives.material, i)] ?? ''}/${floatAt(lives.size, i)}`;
    const key = `${kind}/${line}`;
    const known = days.get(key);
    if (known === undefined) days.set(key, { kind, days: [floatAt(lives.removed, i)] });
    else known.days.push(floatAt(lives.removed, i));
  }
  const sizes = new Map<string, number[]>();
  for (const each of days.values()) {
    sizes.set(each.kind, [...(sizes.get(each.kind) ?? []), ...jobsOf(each.days)]);
  }
  const plant = jobSizes([...sizes.values()].flat());
  const kinds = new Map([...sizes].map(([kind, list]) => [kind, jobSizes(list)]));
  return {
    plant,
    of: (material, size) => {
      const own = kinds.get(`${material}/${size}`);
      return own !== undefined && own.jobs >= FEWEST_JOBS ? own : plant;
    },
  };
}

/** Cuts days of openings into jobs and gives the size of each. */
export function jobsOf(days: readonly number[]): number[] {
  const sorted = [...days].sort((a, b) => a - b);
  const sizes: number[] = [];
  let first = Number.NEGATIVE_INFINITY;
  for (const day of sorted) {
    if (day - first <= JOB_DAYS) sizes[sizes.length - 1] = itemAt(sizes, sizes.length - 1) + 1;
    else {
      sizes.push(1);
      first = day;
    }
  }
  return sizes;
}

/**
 * Distribution of the number of valves opened by a Poisson number of jobs (mean `jobs`), each of the sizes given
 * (recursion of Panjer 1981, from memory). Element n is the chance of n; the tail beyond it is under 1e-12.
 * Throws UsageError at a mean above 500, where the chance of no job at all has no digits left.
 */
export function compoundPoisson(jobs: number, sizes: ArrayLike<number>): Float64Array {
  if (!(jobs >= 0 && jobs <= 500)) {
    throw new UsageError('compoundPoisson', 'jobs must be a mean from 0 to 500.', jobs);
  }
  const empty = at(sizes, 0);
  const chances = [Math.exp(-jobs * (1 - empty))];
  const { mean, meanSquare } = momentsOf(sizes);
  const likely = jobs * mean + 8 * Math.sqrt(jobs * meanSquare) + sizes.length;
  let total = itemAt(chances, 0);
  for (let n = 1; total < 1 - 1e-12 && n < 20 * likely + 100; n++) {
    let next = 0;
    for (let v = 1; v < Math.min(sizes.length, n + 1); v++) {
      next += v * at(sizes, v) * itemAt(chances, n - v);
    }
    chances.push((jobs / n) * next);
    total += itemAt(chances, n);
  }
  return Float64Array.from(chances);
}

/** Variance of a day's openings over their mean: how much jobs widen the count. 1 where each job opens one valve. */
export function jobSpread({ mean, meanSquare }: JobSizes): number {
  return mean > 0 ? meanSquare / mean : 1;
}
