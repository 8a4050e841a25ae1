/** A fitted group as the plan reports it, with the points and curves to draw fit against data. */
import type { Position } from '../fleet/types.js';
import { survival } from '../life/distribution/index.js';
import type { LifeDraws, LifeSample } from '../life/sampleTypes.js';
import { columnOf, floatAt, itemAt } from '../numeric/columns.js';
import { textFromDay } from '../numeric/day.js';
import { groupSurvival } from './groupSurvival.js';
import { drawn, drawnModel } from './planned.js';
import type { GroupResult, UnknownResult } from './resultTypes.js';
import type { Drawn, Group, UnknownSensitivity } from './types.js';

const CURVE_POINTS = 32;
/** Draws used for the bounds of a curve: enough for a picture. */
const CURVE_DRAWS = 100;
const MOST_POINTS = 60;

/** `positions` are those of the fleet: removals without a reason are named by theirs. */
export function describeGroup(group: Group, positions: readonly Position[]): GroupResult {
  return {
    group: group.name,
    material: group.material,
    size: group.size,
    duty: group.duty,
    ...(group.use === undefined ? {} : { use: group.use }),
    lives: group.lives,
    failures: group.failures,
    earlyLeaks: group.earlyLeaks,
    wearLeaks: group.wearLeaks,
    materialWearLeaks: group.materialWearLeaks,
    positions: group.positions.length,
    model: group.model,
    bounds: group.bounds,
    level: group.level,
    method: group.method,
    b10: group.b10,
    planned: group.planned,
    supportedAge: group.supportedAge,
    borrowed: group.borrowed,
    empirical: empiricalPoints(group.sample),
    fitted: fittedCurves(group),
    unknown: group.unknown === null ? null : unknownResult(group.unknown, positions),
    damage: group.damage,
    warnings: group.warnings,
  };
}

/** What unknown reasons may mean, with positions by name. */
export function unknownResult(unknown: UnknownSensitivity, positions: readonly Position[]): UnknownResult {
  return {
    ...unknown,
    k: unknown.k.map((factor) => (factor === Infinity ? 'infinite' : factor)),
    rows: unknown.rows.map(({ position, removed, ...rest }) => ({
      position: itemAt(positions, position).position,
      removed: textFromDay(removed),
      ...rest,
    })),
  };
}

/** Share leaked by age over a log-spaced grid: by the own fit, and by the planning draws with their bounds. */
function fittedCurves(group: Group): GroupResult['fitted'] {
  const oldest = group.sample.lower.reduce((largest, age) => Math.max(largest, age), 30);
  const first = 0.5;
  const ratio = (oldest * 1.4) / first;
  const age = Array.from({ length: CURVE_POINTS }, (_, i) => first * ratio ** (i / (CURVE_POINTS - 1)));
  const planned = plannedShares(group.draws, age);
  const own = age.map((days) => 1 - survival(group.model, days));
  return {
    age,
    failed: group.method === 'likelihood' ? own : planned.map(({ median }) => median),
    planned: {
      low: planned.map(({ low }) => low),
      median: planned.map(({ median }) => median),
      high: planned.map(({ high }) => high),
    },
  };
}

function plannedShares(draws: LifeDraws, ages: readonly number[]): Drawn[] {
  const used = Math.min(CURVE_DRAWS, draws.shape.length);
  const every = draws.shape.length / used;
  const models = Array.from({ length: used }, (_, i) => drawnModel(draws, Math.floor(i * every)));
  return ages.map((days) => drawn(columnOf(models, (model) => 1 - survival(model, days))));
}

/** Product-limit points and ages of lives that ended without a leak. */
function empiricalPoints(sample: LifeSample): GroupResult['empirical'] {
  const points = productLimit(sample);
  const running = Array.from(sample.lower).filter((_, i) => floatAt(sample.upper, i) === Infinity);
  return { ...points, running: thin([...new Set(running)].sort((a, b) => a - b)) };
}

function productLimit(sample: LifeSample): { age: number[]; failed: number[] } {
  const estimate = groupSurvival(sample);
  if (estimate === null) return { age: [], failed: [] };
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
