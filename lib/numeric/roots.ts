/** Roots of functions of one variable. */

export interface RootResult {
  root: number;
  converged: boolean;
  iterations: number;
  /** Why the search stopped, in words. */
  reason: string;
}

export interface RootOptions {
  /** Width at which to stop, relative to the root; 1e-14 by default. */
  relative?: number;
  /** Width at which to stop near a root at 0; 0 by default. */
  absolute?: number;
  maxIterations?: number;
  /** Values at low and high, where they are known already. */
  ends?: readonly [number, number];
}

/**
 * Root of f between low and high, where f changes sign: Brent's method (Brent 1973, ch. 4, from memory). Keeps the
 * root bracketed, so it cannot run away. Returns `converged: false` with the reason where the ends have one sign or f is
 * not a number.
 */
export function findRoot(
  f: (x: number) => number,
  low: number,
  high: number,
  options: RootOptions = {},
): RootResult {
  const { relative = 1e-14, absolute = 0, maxIterations = 200, ends } = options;
  let a = low;
  let b = high;
  let fa = ends === undefined ? f(a) : ends[0];
  let fb = ends === undefined ? f(b) : ends[1];
  if (Number.isNaN(fa) || Number.isNaN(fb))
    return stop(b, false, 0, 'the function is not a number at an end');
  if (fa === 0) return stop(a, true, 0, 'exact root');
  if (fb === 0) return stop(b, true, 0, 'exact root');
  if (Math.sign(fa) === Math.sign(fb)) return stop(b, false, 0, 'the function has one sign at both ends');

  // b is the best point so far, a the one before, c the end on the other side of the root.
  let c = a;
  let fc = fa;
  let step = b - a;
  let lastStep = step;
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    if (Math.abs(fc) < Math.abs(fb)) {
      [a, b, c] = [b, c, b];
      [fa, fb, fc] = [fb, fc, fb];
    }
    const tolerance = 2 * Number.EPSILON * Math.abs(b) + 0.5 * Math.max(absolute, relative * Math.abs(b));
    const half = 0.5 * (c - b);
    if (Math.abs(half) <= tolerance || fb === 0)
      return stop(b, true, iteration, 'the bracket is narrow enough');

    const bent = interpolated(a, b, c, fa, fb, fc);
    const usable =
      bent !== null &&
      Math.abs(lastStep) >= tolerance &&
      Math.abs(fa) > Math.abs(fb) &&
      Math.abs(bent) < Math.min(1.5 * Math.abs(half) - 0.5 * tolerance, 0.5 * Math.abs(lastStep)) &&
      bent * half > 0;
    lastStep = usable ? step : half;
    step = usable ? (bent as number) : half;

    [a, fa] = [b, fb];
    b += Math.abs(step) > tolerance ? step : Math.sign(half) * tolerance;
    fb = f(b);
    if (Number.isNaN(fb)) return stop(b, false, iteration, 'the function is not a number inside');
    if (Math.sign(fb) === Math.sign(fc)) {
      [c, fc] = [a, fa];
      step = b - a;
      lastStep = step;
    }
  }
  return stop(b, false, maxIterations, 'the limit of iterations was reached');
}

/**
 * Root of an increasing function between low and high by Newton's method, halving the bracket where a step would leave it
 * (Press et al., Numerical Recipes, section 9.4, from memory). For smooth functions whose slope is at hand: a handful of
 * evaluations. `f` gives the value and sets the slope in `out`.
 */
export function findRootBySlope(
  f: (x: number, out: { slope: number }) => number,
  low: number,
  high: number,
  { relative = 1e-15, absolute = 0, maxIterations = 200 }: RootOptions = {},
): RootResult {
  const out = { slope: 1 };
  let [a, b] = [low, high];
  let x = high;
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    const value = f(x, out);
    if (Number.isNaN(value)) return stop(x, false, iteration, 'the function is not a number inside');
    if (value === 0) return stop(x, true, iteration, 'exact root');
    if (value > 0) b = x;
    else a = x;
    const tried = x - value / out.slope;
    const next = tried > a && tried < b ? tried : 0.5 * (a + b);
    const step = Math.abs(next - x);
    x = next;
    if (step <= Math.max(absolute, relative * Math.abs(x)))
      return stop(x, true, iteration, 'the step is small enough');
  }
  return stop(x, false, maxIterations, 'the limit of iterations was reached');
}

/** Step from b by inverse quadratic interpolation, or the secant where a and c are one point. */
function interpolated(a: number, b: number, c: number, fa: number, fb: number, fc: number): number | null {
  const s = fb / fa;
  let p: number;
  let q: number;
  if (a === c) {
    p = (c - b) * s;
    q = 1 - s;
  } else {
    const u = fa / fc;
    const r = fb / fc;
    p = s * ((c - b) * u * (u - r) - (b - a) * (r - 1));
    q = (u - 1) * (r - 1) * (s - 1);
  }
  const step = p / q;
  return Number.isFinite(step) ? step : null;
}

function stop(root: number, converged: boolean, iterations: number, reason: string): RootResult {
  return { root, converged, iterations, reason };
}
