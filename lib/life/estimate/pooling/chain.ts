/** One chain of the sampler of ../pooling.ts: tuning, then sweeps that are kept. */
import { at } from '../../../numeric/columns.js';
import type { RandomStream } from '../../../numeric/random.js';
import { moveAlongRidge, moveScale, predictUnseen } from './groupMoves.js';
import {
  carryBetweenDuty,
  carryBetweenScale,
  carryBetweenShape,
  carryLocation,
  carryShapeCentre,
  carrySizeEffect,
} from './jointMoves.js';
import {
  drawBetweenDuty,
  drawBetweenScale,
  drawBetweenShape,
  drawLocation,
  drawShapeCentre,
  drawSizeEffect,
} from './sharedMoves.js';
import type { SharedDraws } from './types.js';
import { startWalk, type Walk, type WalkSetting } from './walk.js';

/** Widths of the slices are set anew after this many sweeps of the burn-in. */
const RETUNE_EVERY = 60;
/** A slice's first width in standard deviations. */
const WIDTH_IN_SD = 6;

/** Columns per group and shared, one entry per kept sweep. */
export interface ChainRecord {
  logScale: Float64Array[];
  logShape: Float64Array[];
  shared: SharedDraws;
}

/** Runs one chain. Nothing is tuned once sweeps are kept, so that the chain has the posterior as its limit. */
export function runChain(
  setting: WalkSetting,
  burnIn: number,
  sweeps: number,
  random: RandomStream,
): ChainRecord {
  const walk = startWalk(setting, random);
  burn(walk, burnIn);
  const record = emptyRecord(walk, sweeps);
  for (let i = 0; i < sweeps; i++) {
    sweep(walk);
    predictUnseen(walk);
    keep(record, walk, i);
  }
  return record;
}

function burn(walk: Walk, sweeps: number): void {
  let window = emptyRecord(walk, RETUNE_EVERY);
  for (let i = 0; i < sweeps; i++) {
    walk.gain = 1 / Math.sqrt(1 + i / 10);
    sweep(walk);
    keep(window, walk, i % RETUNE_EVERY);
    if (i % RETUNE_EVERY === RETUNE_EVERY - 1) {
      retune(walk, window);
      window = emptyRecord(walk, RETUNE_EVERY);
    }
  }
  walk.gain = 0;
}

function sweep(walk: Walk): void {
  for (const g of walk.seen) {
    moveScale(walk, g);
    if (walk.freeShape) moveAlongRidge(walk, g);
  }
  for (let j = 0; j < walk.layout.locations.length; j++) {
    drawLocation(walk, j);
    carryLocation(walk, j);
  }
  drawBetweenScale(walk);
  carryBetweenScale(walk);
  if (walk.sizeEffect) {
    drawSizeEffect(walk);
    carrySizeEffect(walk);
  }
  if (walk.duties.length > 0) {
    drawBetweenDuty(walk);
    carryBetweenDuty(walk);
  }
  if (walk.freeShape) sweepShapes(walk);
}

function sweepShapes(walk: Walk): void {
  drawShapeCentre(walk);
  carryShapeCentre(walk);
  drawBetweenShape(walk);
  carryBetweenShape(walk);
}

/** First widths of the slices from the spread seen in the last window, never shrunk to nothing. */
function retune(walk: Walk, window: ChainRecord): void {
  for (const g of walk.seen) {
    walk.scaleWidth[g] = WIDTH_IN_SD * Math.max(sdOf(window.logScale[g] as Float64Array), 1e-3);
    walk.ridgeWidth[g] = WIDTH_IN_SD * Math.max(sdOf(window.logShape[g] as Float64Array), 1e-3);
  }
}

function sdOf(values: Float64Array): number {
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < values.length; i++) {
    sum += at(values, i);
    squares += at(values, i) ** 2;
  }
  const mean = sum / values.length;
  return Math.sqrt(Math.max(squares / values.length - mean * mean, 0));
}

function emptyRecord({ layout }: Walk, sweeps: number): ChainRecord {
  const column = (): Float64Array => new Float64Array(sweeps);
  return {
    logScale: layout.groups.map(column),
    logShape: layout.groups.map(column),
    shared: {
      size: column(),
      betweenScale: column(),
      betweenDuty: column(),
      shapeCentre: column(),
      betweenShape: column(),
      locations: layout.locations.map(column),
    },
  };
}

function keep(record: ChainRecord, { state }: Walk, i: number): void {
  record.logScale.forEach((column, g) => {
    column[i] = at(state.logScale, g);
  });
  record.logShape.forEach((column, g) => {
    column[i] = at(state.logShape, g);
  });
  record.shared.locations.forEach((column, j) => {
    column[i] = at(state.locations, j);
  });
  record.shared.size[i] = state.size;
  record.shared.betweenScale[i] = state.betweenScale;
  record.shared.betweenDuty[i] = state.betweenDuty;
  record.shared.shapeCentre[i] = state.shapeCentre;
  record.shared.betweenShape[i] = state.betweenShape;
}
