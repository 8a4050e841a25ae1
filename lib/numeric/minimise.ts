/** Least values of functions of one or several variables, without derivatives. */
import { at, itemAt } from './columns.js';
import { cholesky, solveCholesky } from './matrix.js';

export interface MinimumOnInterval {
  at: number;
  value: number;
  converged: boolean;
  iterations: number;
  reason: string;
}

export interface MinimumOfMany {
  at: number[];
  value: number;
  converged: boolean;
  iterations: number;
  reason: string;
}

const GOLDEN = 0.3819660112501051;

/**
 * A local least value of f between low and high: Brent's method (Brent 1973, ch. 5, from memory), golden sections with
 * parabolas. The place is good to about 1e-8 relative, which is all that the flatness of a minimum allows.
 */
export function minimiseOnInterval(
  f: (x: number) => number,
  low: number,
  high: number,
  options: { relative?: number; maxIterations?: number } = {},
): MinimumOnInterval {
  const { relative = 1.5e-8, maxIterations = 200 } = options;
  let [a, b] = [low, high];
  // x is the best point, w the second best, v the one before.
  let x = a + GOLDEN * (b - a);
  let [w, v] = [x, x];
  let fx = f(x);
  let [fw, fv] = [fx, fx];
  let step = 0;
  let before = 0;
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    const middle = 0.5 * (a + b);
    const tolerance = relative * Math.abs(x) + 1e-300;
    if (Math.abs(x - middle) <= 2 * tolerance - 0.5 * (b - a)) {
      return {
        at: x,
        value: fx,
        converged: true,
        iterations: iteration,
        reason: 'the bracket is narrow enough',
      };
    }
    const bent = Math.abs(before) > tolerance ? parabola(x, w, v, fx, fw, fv) : null;
    if (bent !== null && Math.abs(bent) < Math.abs(0.5 * before) && x + bent > a && x + bent < b) {
      before = step;
      step = bent;
      if (x + step - a < 2 * tolerance || b - x - step < 2 * tolerance)
        step = Math.sign(middle - x) * tolerance;
    } else {
      before = x < middle ? b - x : a - x;
      step = GOLDEN * before;
    }
    const u = x + (Math.abs(step) >= tolerance ? step : Math.sign(step) * tolerance);
    const fu = f(u);
    if (Number.isNaN(fu)) {
      return {
        at: x,
        value: fx,
        converged: false,
        iterations: iteration,
        reason: 'the function is not a number',
      };
    }
    if (fu <= fx) {
      if (u < x) b = x;
      else a = x;
      [v, w, x] = [w, x, u];
      [fv, fw, fx] = [fw, fx, fu];
      continue;
    }
    if (u < x) a = u;
    else b = u;
    if (fu <= fw || w === x) {
      [v, w] = [w, u];
      [fv, fw] = [fw, fu];
    } else if (fu <= fv || v === x || v === w) {
      [v, fv] = [u, fu];
    }
  }
  const reason = 'the limit of iterations was reached';
  return { at: x, value: fx, converged: false, iterations: maxIterations, reason };
}

/** Step from x to the lowest point of the parabola through three points. */
function parabola(x: number, w: number, v: number, fx: number, fw: number, fv: number): number | null {
  const r = (x - w) * (fx - fv);
  const q = (x - v) * (fx - fw);
  const step = (q * (x - v) - r * (x - w)) / (-2 * (q - r));
  return Number.isFinite(step) ? step : null;
}

/**
 * A local least value of a function of several variables: the downhill simplex of Nelder & Mead (1965, from memory) with
 * one fresh start from the point found. For a handful of variables and smooth functions; f may return Infinity outside its
 * domain but not NaN.
 */
export function minimiseSimplex(
  f: (x: readonly number[]) => number,
  start: readonly number[],
  options: { step?: number | readonly number[]; tolerance?: number; maxIterations?: number } = {},
): MinimumOfMany {
  const first = descend(f, start, options, 1);
  const second = descend(f, first.at, options, 0.1);
  return { ...second, iterations: first.iterations + second.iterations };
}

/**
 * Least value of a smooth function from a start close by: Newton steps with derivatives by central differences of the given
 * steps, a few dozen evaluations in two or three variables. `converged` is false where the function is not bowl-shaped there.
 * Differences have slopes that do not quite vanish at the least value: where no step lowers the function any more, it has
 * been found if the slopes promise less than `within`.
 */
export function minimiseSmooth(
  f: (x: readonly number[]) => number,
  start: readonly number[],
  steps: readonly number[],
  within = 1e-8,
): MinimumOfMany {
  let x = [...start];
  let value = f(x);
  const done = (converged: boolean, iterations: number, reason: string): MinimumOfMany => ({
    at: x,
    value,
    converged,
    iterations,
    reason,
  });
  for (let iteration = 1; iteration <= 30; iteration++) {
    const { gradient, hessian } = quadraticAt(f, x, value, steps);
    const factor = hessian.every(Number.isFinite) ? cholesky(hessian, x.length) : null;
    if (factor === null) return done(false, iteration, 'the function is not bowl-shaped');
    const move = solveCholesky(factor, gradient);
    const gain = 0.5 * move.reduce((total, step, j) => total + step * at(gradient, j), 0);
    if (gain < 1e-11) return done(true, iteration, 'the slopes vanish');
    let shrink = 1;
    let next = x.map((place, j) => place - at(move, j));
    while (!(f(next) < value) && shrink > 1e-4) {
      shrink /= 2;
      next = x.map((place, j) => place - shrink * at(move, j));
    }
    if (shrink <= 1e-4) return done(gain < within, iteration, 'no step lowers the function');
    x = next;
    value = f(x);
  }
  return done(false, 30, 'the limit of iterations was reached');
}

function quadraticAt(
  f: (x: readonly number[]) => number,
  x: readonly number[],
  value: number,
  steps: readonly number[],
): { gradient: number[]; hessian: number[] } {
  const size = x.length;
  const moved = (i: number, by: number, j = i, byJ = 0): number =>
    f(x.map((place, k) => place + (k === i ? by : 0) + (k === j ? byJ : 0)));
  const gradient: number[] = [];
  const hessian = new Array<number>(size * size).fill(0);
  for (let i = 0; i < size; i++) {
    const h = at(steps, i);
    const [up, down] = [moved(i, h), moved(i, -h)];
    gradient.push((up - down) / (2 * h));
    hessian[i * size + i] = (up - 2 * value + down) / (h * h);
    for (let j = 0; j < i; j++) {
      const k = at(steps, j);
      const cross = moved(i, h, j, k) - moved(i, h, j, -k) - moved(i, -h, j, k) + moved(i, -h, j, -k);
      hessian[i * size + j] = cross / (4 * h * k);
      hessian[j * size + i] = cross / (4 * h * k);
    }
  }
  return { gradient, hessian };
}

interface Vertex {
  at: number[];
  value: number;
}

function descend(
  f: (x: readonly number[]) => number,
  start: readonly number[],
  options: { step?: number | readonly number[]; tolerance?: number; maxIterations?: number },
  factor: number,
): MinimumOfMany {
  const { step = 0.5, tolerance = 1e-12, maxIterations = 400 * start.length } = options;
  const vertex = (x: number[]): Vertex => ({ at: x, value: f(x) });
  const stepOf = (j: number): number => factor * (typeof step === 'number' ? step : at(step, j));
  const simplex = [vertex([...start])];
  for (let j = 0; j < start.length; j++) {
    simplex.push(vertex(start.map((value, i) => (i === j ? value + stepOf(j) : value))));
  }
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    simplex.sort((one, other) => one.value - other.value);
    const best = itemAt(simplex, 0);
    const worst = itemAt(simplex, start.length);
    if (
      worst.value - best.value <= tolerance * (Math.abs(best.value) + tolerance) &&
      width(simplex) <= 1e-7
    ) {
      return { ...best, converged: true, iterations: iteration, reason: 'the simplex is small and level' };
    }
    moveWorst(simplex, vertex);
  }
  simplex.sort((one, other) => one.value - other.value);
  const reason = 'the limit of iterations was reached';
  return { ...itemAt(simplex, 0), converged: false, iterations: maxIterations, reason };
}

/** One step: reflect the worst vertex through the others' middle, stretch, contract, or shrink all towards the best. */
function moveWorst(simplex: Vertex[], vertex: (x: number[]) => Vertex): void {
  const last = simplex.length - 1;
  const best = itemAt(simplex, 0);
  const worst = itemAt(simplex, last);
  const middle = best.at.map(
    (_, j) => simplex.slice(0, last).reduce((total, v) => total + at(v.at, j), 0) / last,
  );
  const along = (by: number): Vertex => vertex(middle.map((m, j) => m + by * (at(worst.at, j) - m)));
  const mirrored = along(-1);
  if (mirrored.value < best.value) {
    const stretched = along(-2);
    simplex[last] = stretched.value < mirrored.value ? stretched : mirrored;
  } else if (mirrored.value < itemAt(simplex, last - 1).value) {
    simplex[last] = mirrored;
  } else {
    const drawnIn = mirrored.value < worst.value ? along(-0.5) : along(0.5);
    if (drawnIn.value < Math.min(mirrored.value, worst.value)) {
      simplex[last] = drawnIn;
      return;
    }
    for (let i = 1; i <= last; i++) {
      simplex[i] = vertex(itemAt(simplex, i).at.map((x, j) => at(best.at, j) + 0.5 * (x - at(best.at, j))));
    }
  }
}

function width(simplex: Vertex[]): number {
  const best = itemAt(simplex, 0).at;
  let widest = 0;
  for (const { at: x } of simplex) {
    for (let j = 0; j < best.length; j++) {
      widest = Math.max(widest, Math.abs(at(x, j) - at(best, j)) / (1 + Math.abs(at(best, j))));
    }
  }
  return widest;
}
