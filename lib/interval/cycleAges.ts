/** The grid of ages on which cycles are integrated. */
import type { LifeDraws } from '../life/sampleTypes.js';
import { columnOf, floatAt } from '../numeric/columns.js';
import { USED_UP } from './panel.js';

/** Below the smallest scale by this much on the log axis, nothing has happened: 1.4e-11 of a scale. */
const HEAD = 25;
const LOG_USED_UP = Math.log(USED_UP);
const WIDE = 1.5;
const MIDDLE = 0.5;
/** Panel width times the largest shape in the zone where diaphragms wear out. */
const WIDTH_TIMES_SHAPE = 0.6;
const NARROW = 0.1;

/**
 * Ages in increasing order: wide panels where nothing happens, middle ones where only fitting faults act, narrow ones
 * (against 1 / shape) where diaphragms wear out, and widening ones in the tail, where only draws with a low shape are
 * still alive. The last age is where every draw is used up.
 */
export function cycleAges(draws: LifeDraws, openingsPerDay: number): Float64Array {
  const { lowScale, highScale, lowShape, highShape, end } = extent(draws, openingsPerDay);
  const fault = Math.log(draws.faultScale);
  const first = Math.min(lowScale, fault) - HEAD;
  const wearFrom = lowScale - Math.min(2, 30 / lowShape);
  const wearTo = highScale + Math.min(1.5, 4 / lowShape);
  const narrow = Math.min(NARROW, WIDTH_TIMES_SHAPE / highShape);
  const logAges = [first];
  let x = first;
  while (x < end) {
    const next = x + widthAt(x, { fault, wearFrom, wearTo, narrow, highScale, steepFault: draws.faultShape });
    // A panel never reaches across the start of the wear-out zone.
    x = Math.min(x < wearFrom && next > wearFrom ? wearFrom : next, end);
    logAges.push(x);
  }
  return columnOf(logAges, Math.exp);
}

interface Zones {
  fault: number;
  wearFrom: number;
  wearTo: number;
  narrow: number;
  highScale: number;
  steepFault: number;
}

function widthAt(x: number, { fault, wearFrom, wearTo, narrow, highScale, steepFault }: Zones): number {
  if (x < Math.min(fault, wearFrom) - 8) return WIDE;
  const early = x < fault + 4 ? Math.min(MIDDLE, WIDTH_TIMES_SHAPE / steepFault) : MIDDLE;
  if (x < wearFrom) return early;
  if (x < wearTo) return Math.min(narrow, early);
  // A draw still alive here has a shape of at most log(USED_UP) / (x - highScale).
  const widest = (WIDTH_TIMES_SHAPE / LOG_USED_UP) * (x - highScale);
  // In steps of doubling, since a run of equal panels is cheaper than as many different ones.
  return widest > narrow ? narrow * 2 ** Math.floor(Math.log2(widest / narrow)) : narrow;
}

function extent(draws: LifeDraws, openingsPerDay: number) {
  let lowScale = Infinity;
  let highScale = -Infinity;
  let lowShape = Infinity;
  let highShape = 0;
  let end = -Infinity;
  for (let d = 0; d < draws.shape.length; d++) {
    const shape = floatAt(draws.shape, d);
    const logScale = Math.log(floatAt(draws.scale, d));
    lowScale = Math.min(lowScale, logScale);
    highScale = Math.max(highScale, logScale);
    lowShape = Math.min(lowShape, shape);
    highShape = Math.max(highShape, shape);
    end = Math.max(end, logScale + LOG_USED_UP / shape);
  }
  // Openings use diaphragms up as well.
  if (openingsPerDay > 0) end = Math.min(end, Math.log(USED_UP / openingsPerDay));
  return { lowScale, highScale, lowShape, highShape, end };
}
