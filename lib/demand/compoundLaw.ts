/** Distribution of the pieces that a random number of jobs asks for, at any number of jobs. */
import { UsageError } from '../errors.js';
import { at, floatAt } from '../numeric/columns.js';

/** Jobs that come by chance, and what each takes. */
export interface CompoundDemand {
  /** Mean number of jobs. */
  jobs: number;
  /** Variance of the number of jobs, at or above the mean; the mean itself (Poisson) where not given. */
  jobsVariance?: number;
  /** sizes[v] = chance that a job takes v pieces. */
  sizes: ArrayLike<number>;
}

/** A distribution of more chances than this is refused. */
const LONGEST = 2_000_000;
/** Chances below this share of the largest are left out. */
const NEGLIGIBLE = 1e-25;
/** Where a chance being built grows beyond this, all are brought down. */
const TALL = 1e250;
const SUM_TOLERANCE = 1e-9;

/**
 * Element n of the result is the chance that n pieces are asked for: the recursion of Panjer (1981, from memory) for a
 * Poisson or a negative binomial number of jobs, in which all terms are positive, kept in range by a scale of its own, so
 * that it holds where the chance of no job is too small for a number. What lies beyond the last element weighs less than 1e-20.
 * Throws UsageError where jobs, variance or sizes make no sense, or where more than two million chances count.
 * @example compoundLaw({ jobs: 2, sizes: [0, 0.5, 0.5] })[1] // exp(-2)
 */
export function compoundLaw(demand: CompoundDemand): Float64Array {
  const { jobs, sizes } = checked(demand);
  const variance = Math.max(jobs, demand.jobsVariance ?? jobs);
  const none = at(sizes, 0);
  // The chance of n jobs is that of n - 1 times ratio + step / n.
  const isPoisson = variance <= jobs * (1 + 1e-9) || jobs < 1e-100;
  const ratio = isPoisson ? 0 : (variance - jobs) / variance;
  const step = isPoisson ? jobs : (jobs * jobs) / variance - ratio;
  const logNone = isPoisson
    ? -jobs * (1 - none)
    : -((jobs * jobs) / (variance - jobs)) * Math.log1p((variance / jobs - 1) * (1 - none));
  return grown(sizes, ratio, step, logNone, jobs * momentsOfSizes(sizes).mean);
}

/** Mean and mean square of what a job takes. */
export function momentsOfSizes(sizes: ArrayLike<number>): { mean: number; meanSquare: number } {
  let [mean, meanSquare] = [0, 0];
  for (let v = 1; v < sizes.length; v++) {
    mean += v * at(sizes, v);
    meanSquare += v * v * at(sizes, v);
  }
  return { mean, meanSquare };
}

function checked(demand: CompoundDemand): CompoundDemand {
  const { jobs, jobsVariance = jobs, sizes } = demand;
  if (!(jobs >= 0 && Number.isFinite(jobs))) {
    throw new UsageError('compoundLaw', 'jobs must be a mean at or above 0, and finite.', jobs);
  }
  if (!(jobsVariance >= jobs * (1 - 1e-12) && Number.isFinite(jobsVariance))) {
    throw new UsageError('compoundLaw', 'jobsVariance must be at or above jobs, and finite.', jobsVariance);
  }
  let total = 0;
  for (let v = 0; v < sizes.length; v++) {
    if (!(at(sizes, v) >= 0)) {
      throw new UsageError('compoundLaw', `sizes[${v}] must be a chance at or above 0.`, at(sizes, v));
    }
    total += at(sizes, v);
  }
  if (!(Math.abs(total - 1) <= SUM_TOLERANCE)) {
    throw new UsageError('compoundLaw', 'the chances in sizes must add up to 1.', total);
  }
  return demand;
}

function grown(
  sizes: ArrayLike<number>,
  ratio: number,
  step: number,
  logNone: number,
  mean: number,
): Float64Array {
  if (mean > LONGEST) throw new UsageError('compoundLaw', 'more than two million chances count.', mean);
  const first = 1 / (1 - ratio * at(sizes, 0));
  let chances = new Float64Array(Math.min(LONGEST, Math.ceil(2 * mean) + 64));
  let logScale = Math.min(0, logNone + 500);
  chances[0] = Math.exp(logNone - logScale);
  let largest = floatAt(chances, 0);
  let quiet = 0;
  let started = 0;
  let n = 1;
  // Ends where, beyond the mean, as many chances in a row as a job can take pieces no longer count.
  for (; n <= mean || quiet < sizes.length; n++) {
    if (n >= LONGEST) throw new UsageError('compoundLaw', 'more than two million chances count.', mean);
    if (n >= chances.length) chances = longer(chances);
    let next = 0;
    // p(n) = sum over v of (ratio + step v / n) sizes(v) p(n - v), over 1 - ratio sizes(0)
    for (let v = Math.min(n, sizes.length - 1); v > 0; v--) {
      next += (ratio + (step * v) / n) * at(sizes, v) * floatAt(chances, n - v);
    }
    next *= first;
    chances[n] = next;
    largest = Math.max(largest, next);
    quiet = next < NEGLIGIBLE * largest ? quiet + 1 : 0;
    if (next > TALL) {
      // What has come down to 0 stays there: each is brought down two or three times at most.
      while (floatAt(chances, started) === 0) started += 1;
      for (let k = started; k <= n; k++) chances[k] = floatAt(chances, k) / TALL;
      largest /= TALL;
      logScale += Math.log(TALL);
    }
  }
  const law = chances.slice(0, n);
  return toOne(law, logScale);
}

function longer(chances: Float64Array): Float64Array<ArrayBuffer> {
  const wider = new Float64Array(2 * chances.length);
  wider.set(chances);
  return wider;
}

/** Takes the scale out; where it was moved far its last digits are gone, and the sum of 1 says what it is. */
function toOne(law: Float64Array, logScale: number): Float64Array {
  let total = 0;
  for (let k = law.length - 1; k >= 0; k--) total += floatAt(law, k);
  const scale = Math.abs(logScale) < 1 ? Math.exp(logScale) : 1 / total;
  for (let k = 0; k < law.length; k++) law[k] = floatAt(law, k) * scale;
  return law;
}
