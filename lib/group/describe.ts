/** A fitted group as the plan reports it, with the points and curves to draw fit against data. */
import { quantileSorted } from 'simple-statistics';
import { quantile, survival } from '../life/distribution/index.js';
import { kaplanMeier } from '../life/empirical/kaplanMeier.js';
import type { WeibullModel } from '../life/model.js';
import type { LifeDraws, LifeSample } from '../life/sampleTypes.js';
import { at, floatAt } from '../numeric/columns.js';
import type { GroupResult } from './resultTypes.js';
import type { Group } from './types.js';

const CURVE_POINTS = 32;
/** Draws used for the bounds of a curve: enough for a picture. */
const CURVE_DRAWS = 100;
const MOST_POINTS = 60;

export function describeGroup(group: Group): GroupResult {
  return {
    group: group.name,
    material: group.material,
    size: group.size,
    duty: group.duty,
    lives: group.lives,
    failures: group.failures,
    earlyLeaks: group.earlyLeaks,
    positions: group.positions.length,
    model: group.model,
    bounds: group.bounds,
    level: group.level,
    method: group.method,
    b10: boundsOf(group, (model) => quantile(model, 0.1)),
    supportedAge: group.supportedAge,
    borrowed: group.borrowed,
    empirical: empiricalPoints(group.sample),
    fitted: fittedCurve(group),
    warnings: group.warnings,
  };
}

/** Draw d of a posterior as a model. */
export function drawnModel(draws: LifeDraws, d: number): WeibullModel {
  return {
    kind: 'weibull',
    shape: floatAt(draws.shape, d),
    scale: floatAt(draws.scale, d),
    fault: { share: floatAt(draws.share, d), shape: draws.faultShape, scale: draws.faultScale },
  };
}

/** Low, estimate (at the planning model) and high (over the draws) of a quantity of the model. */
function boundsOf(
  group: Group,
  of: (model: WeibullModel) => number,
  most?: number,
): [number, number, number] {
  const [low, high] = drawBounds(group, of, most);
  const estimate = of(group.model);
  return [Math.min(low, estimate), estimate, Math.max(high, estimate)];
}

function drawBounds(
  { draws, level }: Group,
  of: (model: WeibullModel) => number,
  most = draws.shape.length,
): [number, number] {
  const used = Math.min(most, draws.shape.length);
  const every = draws.shape.length / used;
  const values = Float64Array.from({ length: used }, (_, i) => of(drawnModel(draws, Math.floor(i * every))));
  const sorted = Array.from(values.sort());
  return [quantileSorted(sorted, (1 - level) / 2), quantileSorted(sorted, (1 + level) / 2)];
}

/** Share failed by age over a log-spaced grid of ages, with equal-tailed bounds over the draws. */
function fittedCurve(group: Group): GroupResult['fitted'] {
  const oldest = group.sample.lower.reduce((largest, age) => Math.max(largest, age), 30);
  const first = 0.5;
  const ratio = (oldest * 1.4) / first;
  const age = Array.from({ length: CURVE_POINTS }, (_, i) => first * ratio ** (i / (CURVE_POINTS - 1)));
  const points = age.map((days) => boundsOf(group, (model) => 1 - survival(model, days), CURVE_DRAWS));
  return {
    age,
    low: points.map(([low]) => low),
    failed: points.map(([, failed]) => failed),
    high: points.map(([, , high]) => high),
  };
}

/** Product-limit points with each leak at the middle of its interval (a day wide unless a tight test is on record). */
function empiricalPoints(sample: LifeSample): GroupResult['empirical'] {
  const points = productLimit(sample);
  const running = Array.from(sample.lower).filter((_, i) => floatAt(sample.upper, i) === Infinity);
  return { ...points, running: thin([...new Set(running)].sort((a, b) => a - b)) };
}

function productLimit(sample: LifeSample): { age: number[]; failed: number[] } {
  const middle = Array.from(sample.lower, (lower, i) =>
    floatAt(sample.upper, i) === Infinity ? lower : (lower + floatAt(sample.upper, i)) / 2,
  );
  const rows = middle.map((_, i) => i).filter((i) => at(middle, i) > floatAt(sample.entry, i));
  if (rows.length === 0) return { age: [], failed: [] };
  const estimate = kaplanMeier({
    lower: Float64Array.from(rows, (i) => at(middle, i)),
    upper: Float64Array.from(rows, (i) => (floatAt(sample.upper, i) === Infinity ? Infinity : at(middle, i))),
    entry: Float64Array.from(rows, (i) => floatAt(sample.entry, i)),
    count: Float64Array.from(rows, (i) => floatAt(sample.count, i)),
    cluster: Int32Array.from(rows, (i) => at(sample.cluster, i)),
  });
  const ages = Array.from(estimate.age);
  const drops = ages
    .map((age, i) => ({ age, failed: 1 - floatAt(estimate.survival, i) }))
    .filter(
      (point, i) =>
        point.failed > 0 && (i === 0 || floatAt(estimate.survival, i) < floatAt(estimate.survival, i - 1)),
    );
  const kept = thin(drops);
  return { age: kept.map((point) => point.age), failed: kept.map((point) => point.failed) };
}

/** At most MOST_POINTS of a sorted list, evenly by rank, ends kept. */
function thin<T>(list: T[]): T[] {
  if (list.length <= MOST_POINTS) return list;
  const step = (list.length - 1) / (MOST_POINTS - 1);
  return Array.from({ length: MOST_POINTS }, (_, i) => list[Math.round(i * step)] as T);
}
