/**
 * The closed line on which a smooth function of two variables has one value, found by walking along it: a step along the
 * tangent, then back onto the line by Newton steps along the slope; steps are shorter where it bends (predictor and corrector:
 * Allgower & Georg 1990, ch. 2, from memory). No grid, so the line is as exact as the function, and may be curved or dented.
 */
import { itemAt } from './columns.js';
import { minimiseOnInterval } from './minimise.js';
import { findRoot } from './roots.js';

export type Place = readonly [x: number, y: number];

export interface TracedContour {
  /** Places on the line, anticlockwise, the first again at the end. */
  places: Place[];
  /** False where the walk was given up before it came round; `reason` says why. */
  closed: boolean;
  reason: string;
  /** The largest value on the line of a smooth function that has one largest, found exactly and not only among `places`. */
  furthest: (far: (x: number, y: number) => number) => number;
}

/** Step of the differences of which slopes are made. */
const APART = 1e-3;
/** Places on the line are off its value by less. */
const SETTLED = 1e-9;
const MOST_PLACES = 1000;
/** Steps per round of a circle, and how far the tangent may turn in one. */
const STEPS_ROUND = 120;
const LARGEST_TURN = 0.12;
const SMALL_TURN = 0.04;
const FEWEST_PLACES = 12;

/**
 * Traces f = level round the inside place (0, 0), where f is higher; `reach` is about how far away the line is, in the
 * units of x and y, which should be alike. f must be finite inside and near the line, and may be -Infinity far outside.
 * `slope` is its gradient where it is cheaper known than by differences of f.
 */
export function traceContour(
  f: (x: number, y: number) => number,
  level: number,
  reach: number,
  slope: (x: number, y: number) => Place = (x, y) => slopeBy(f, x, y),
): TracedContour {
  const walk = { f, level, slope, reach };
  const start = firstPlace(walk);
  if (start === null) return given([], 'the function does not fall to the level along the first axis');
  const places: Place[] = [start];
  let step = (2 * Math.PI * reach) / STEPS_ROUND;
  while (places.length < MOST_PLACES) {
    const here = itemAt(places, places.length - 1);
    const next = nextPlace(walk, here, step);
    if (next === null) {
      step /= 2;
      if (step < 1e-5 * reach) return given(places, 'the line could not be followed');
      continue;
    }
    places.push(next.place);
    if (next.turn < SMALL_TURN) step = Math.min(1.4 * step, 0.2 * reach);
    if (places.length > FEWEST_PLACES && isRound(places, start)) {
      places.push(start);
      return { places, closed: true, reason: 'the line came round', furthest: furthestOf(walk, places) };
    }
  }
  return given(places, `the line did not come round within ${MOST_PLACES} places`);
}

interface Walk {
  f: (x: number, y: number) => number;
  level: number;
  slope: (x: number, y: number) => Place;
  reach: number;
}

function given(places: Place[], reason: string): TracedContour {
  return { places, closed: false, reason, furthest: (far) => Math.max(...places.map(([x, y]) => far(x, y))) };
}

function dot(a: Place, b: Place): number {
  return a[0] * b[0] + a[1] * b[1];
}

function firstPlace({ f, level, reach }: Walk): Place | null {
  const above = (x: number): number => Math.max(f(x, 0) - level, -1e9);
  for (let [near, far] = [0, reach]; far < 1e4 * reach; near = far, far *= 1.6) {
    if (above(far) > 0) continue;
    const { root, converged } = findRoot(above, near, far, { absolute: 1e-13 * reach });
    return converged ? [root, 0] : null;
  }
  return null;
}

/** The next place along the line, and how far the tangent turned on the way; null where the step was too long. */
function nextPlace(walk: Walk, here: Place, step: number): { place: Place; turn: number } | null {
  const way = tangent(walk, here);
  const ahead: Place = [here[0] + step * way[0], here[1] + step * way[1]];
  const place = onLine(walk, ahead, 0.5 * step);
  if (place === null) return null;
  const turn = Math.acos(Math.min(1, dot(way, tangent(walk, place))));
  return turn <= LARGEST_TURN ? { place, turn } : null;
}

/** Along the line with the higher values at the left. */
function tangent({ slope }: Walk, [x, y]: Place): Place {
  const [gx, gy] = slope(x, y);
  const length = Math.hypot(gx, gy);
  return [gy / length, -gx / length];
}

/** Newton steps along the slope; null where they go further than `most` or do not settle. */
function onLine({ f, level, slope }: Walk, from: Place, most: number): Place | null {
  let [x, y] = from;
  for (let turn = 0; turn < 12; turn++) {
    const above = f(x, y) - level;
    if (Math.abs(above) < SETTLED) return [x, y];
    const [gx, gy] = slope(x, y);
    const shift = -above / (gx * gx + gy * gy);
    [x, y] = [x + shift * gx, y + shift * gy];
    if (!(Math.hypot(x - from[0], y - from[1]) <= most)) return null;
  }
  return null;
}

function slopeBy(f: (x: number, y: number) => number, x: number, y: number): Place {
  return [
    (f(x + APART, y) - f(x - APART, y)) / (2 * APART),
    (f(x, y + APART) - f(x, y - APART)) / (2 * APART),
  ];
}

/** Whether the last step went past the start: behind it before, at it or beyond now. */
function isRound(places: readonly Place[], start: Place): boolean {
  const [before, last] = [itemAt(places, places.length - 2), itemAt(places, places.length - 1)];
  const way: Place = [last[0] - before[0], last[1] - before[1]];
  const length = Math.hypot(...way);
  const ahead = (dot(way, start) - dot(way, last)) / length;
  const away = Math.hypot(start[0] - last[0], start[1] - last[1]);
  return away < 1.1 * length && ahead < length && ahead > -length;
}

/** Between the neighbours of the outermost place, back on the line at every try. */
function furthestOf(walk: Walk, places: readonly Place[]): TracedContour['furthest'] {
  return (far) => {
    const values = places.map(([x, y]) => far(x, y));
    const [i, round] = [values.indexOf(Math.max(...values)), places.length - 1];
    const [before, after] = [itemAt(places, (i - 1 + round) % round), itemAt(places, (i + 1) % round)];
    const [dx, dy] = [after[0] - before[0], after[1] - before[1]];
    const cost = (part: number): number => {
      const place = onLine(walk, [before[0] + part * dx, before[1] + part * dy], Math.hypot(dx, dy));
      return place === null ? Infinity : -far(...place);
    };
    return Math.max(-minimiseOnInterval(cost, 0, 1, { relative: 1e-5 }).value, itemAt(values, i));
  };
}
