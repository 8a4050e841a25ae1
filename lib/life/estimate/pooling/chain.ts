/** One chain of the sampler of ../pooling.ts: tuning, then sweeps that are kept. */
import { floatAt, itemAt } from '../../../numeric/columns.js';
import type { RandomStream } from '../../../numeric/random.js';
import { jump, moveAlongRidge, moveScale, predictUnseen } from './groupMoves.js';
import { movePlaces, moveSpreads } from './jointMoves.js';
import { setNormal } from './normals.js';
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

/** Windows of the burn-in as shares of it: proposals are set anew after each. */
const BURN_IN_WINDOWS = [0.1, 0.2, 0.4, 0.3];

/** Groups that take a smaller share of jumps than this are left to the slices; a larger than that need them less. */
const WORTH_JUMPING = 0.05;
const JUMPS_WELL = 0.5;

/** Columns per group and shared, one entry per kept sweep. */
export interface ChainRecord {
  logScale: Float64Array[];
  logShape: Float64Array[];
  shared: SharedDraws;
}

/** A chain that may be made longer. */
export interface Chain {
  /** Room for `most` sweeps, `kept` of them filled. */
  record: ChainRecord;
  kept: number;
  walk: Walk;
}

/** A chain after its burn-in, with room for `most` sweeps. */
export function startChain(setting: WalkSetting, burnIn: number, most: number, random: RandomStream): Chain {
  const walk = startWalk(setting, random);
  burn(walk, burnIn);
  return { walk, record: emptyRecord(walk, most), kept: 0 };
}

/** Runs a chain on to so many sweeps. Nothing is tuned once sweeps are kept, so that it has the posterior as its limit. */
export function runTo(chain: Chain, sweeps: number): void {
  const { walk, record } = chain;
  for (; chain.kept < sweeps; chain.kept++) {
    sweep(walk);
    predictUnseen(walk);
    keep(record, walk, chain.kept);
  }
}

/** What a chain has kept so far. */
export function keptOf({ record, kept }: Chain): ChainRecord {
  const cut = (column: Float64Array): Float64Array => column.subarray(0, kept);
  const { shared } = record;
  return {
    logScale: record.logScale.map(cut),
    logShape: record.logShape.map(cut),
    shared: {
      size: cut(shared.size),
      betweenScale: cut(shared.betweenScale),
      betweenDuty: cut(shared.betweenDuty),
      shapeCentre: cut(shared.shapeCentre),
      betweenShape: cut(shared.betweenShape),
      locations: shared.locations.map(cut),
    },
  };
}

/** The burn-in tunes over windows that grow, so that the last one is long enough to be trusted. */
function burn(walk: Walk, sweeps: number): void {
  for (const share of BURN_IN_WINDOWS) {
    const length = Math.max(Math.round(share * sweeps), 2);
    const window = emptyRecord(walk, length);
    for (let i = 0; i < length; i++) {
      walk.gain = 1 / Math.sqrt(1 + i / 5);
      sweep(walk);
      keep(window, walk, i);
    }
    retune(walk, window);
  }
  walk.gain = 0;
}

/** What is shared with the groups along, then each group, then what is shared given the groups. */
function sweep(walk: Walk): void {
  moveSpreads(walk);
  movePlaces(walk);
  for (let i = 0; i < walk.seen.length; i++) moveGroup(walk, itemAt(walk.seen, i), walk.sweeps + i);
  drawShared(walk);
  walk.sweeps++;
}

/** A group whose jumps are mostly taken is moved by slices in one sweep of three only; `turn` says whose turn it is. */
function moveGroup(walk: Walk, g: number, turn: number): void {
  const taken = floatAt(walk.jumped, g);
  if (taken > WORTH_JUMPING) jump(walk, g);
  if (walk.gain === 0 && taken > JUMPS_WELL && turn % 3 !== 0) return;
  moveScale(walk, g);
  if (walk.freeShape) moveAlongRidge(walk, g);
}

function drawShared(walk: Walk): void {
  for (let j = 0; j < walk.layout.locations.length; j++) drawLocation(walk, j);
  drawBetweenScale(walk);
  if (walk.sizeEffect) drawSizeEffect(walk);
  if (walk.duties.length > 0) drawBetweenDuty(walk);
  if (!walk.freeShape) return;
  drawShapeCentre(walk);
  drawBetweenShape(walk);
}

/** The normals of the proposals, from where the groups were in the last window. */
function retune(walk: Walk, window: ChainRecord): void {
  for (const g of walk.seen) setNormal(walk, g, itemAt(window.logScale, g), itemAt(window.logShape, g));
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
    column[i] = floatAt(state.logScale, g);
  });
  record.logShape.forEach((column, g) => {
    column[i] = floatAt(state.logShape, g);
  });
  record.shared.locations.forEach((column, j) => {
    column[i] = floatAt(state.locations, j);
  });
  record.shared.size[i] = state.size;
  record.shared.betweenScale[i] = state.betweenScale;
  record.shared.betweenDuty[i] = state.betweenDuty;
  record.shared.shapeCentre[i] = state.shapeCentre;
  record.shared.betweenShape[i] = state.betweenShape;
}
