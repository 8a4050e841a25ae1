/** Moves of what all groups share, given the groups: conjugate normal draws, and slices for the spreads. */
import { itemAt } from '../../../numeric/columns.js';
import { sliceStep } from './slice.js';
import { expectedLogScale, type Walk } from './walk.js';

const TRIES = 200;

/** A material's or a duty's place, given its groups, its duties and its material. */
export function drawLocation(walk: Walk, j: number): void {
  const { state } = walk;
  const { parent, centre } = itemAt(walk.layout.locations, j);
  const below = itemAt(walk.groupsAt, j);
  const duties = itemAt(walk.dutiesOf, j);
  const groupWeight = 1 / state.betweenScale ** 2;
  const dutyWeight = 1 / state.betweenDuty ** 2;
  let sum = 0;
  for (const g of below) {
    sum += groupWeight * ((state.logScale[g] as number) - state.size * itemAt(walk.layout.groups, g).logSize);
  }
  for (const duty of duties) sum += dutyWeight * (state.locations[duty] as number);
  let precision = below.length * groupWeight + duties.length * dutyWeight;
  if (parent !== null) {
    sum += dutyWeight * (state.locations[parent] as number);
    precision += dutyWeight;
  }
  const half = parent === null ? walk.priors.materialHalfWidth : Infinity;
  state.locations[j] = boundedNormal(walk, sum, precision, centre, half, state.locations[j] as number);
}

/** Normal with the given precision and weighted sum, kept within `half` of `centre`; uniform where nothing is known. */
function boundedNormal(
  { random }: Walk,
  sum: number,
  precision: number,
  centre: number,
  half: number,
  present: number,
): number {
  if (precision === 0) return centre + half * (2 * random.uniform() - 1);
  for (let attempt = 0; attempt < TRIES; attempt++) {
    const value = sum / precision + random.normal() / Math.sqrt(precision);
    if (Math.abs(value - centre) <= half) return value;
  }
  return present;
}

export function drawSizeEffect(walk: Walk): void {
  const { state } = walk;
  const weight = 1 / state.betweenScale ** 2;
  let precision = 1 / walk.priors.size ** 2;
  let sum = 0;
  for (const g of walk.seen) {
    const { location, logSize } = itemAt(walk.layout.groups, g);
    precision += weight * logSize ** 2;
    sum += weight * logSize * ((state.logScale[g] as number) - (state.locations[location] as number));
  }
  state.size = sum / precision + walk.random.normal() / Math.sqrt(precision);
}

export function drawShapeCentre(walk: Walk): void {
  const { state } = walk;
  const [mean, sd] = walk.priors.shapeCentre;
  const weight = 1 / state.betweenShape ** 2;
  let sum = mean / sd ** 2;
  for (const g of walk.seen) sum += weight * (state.logShape[g] as number);
  const precision = 1 / sd ** 2 + weight * walk.seen.length;
  state.shapeCentre = sum / precision + walk.random.normal() / Math.sqrt(precision);
}

export function drawBetweenScale(walk: Walk): void {
  const { state } = walk;
  let squares = 0;
  for (const g of walk.seen) {
    squares += ((state.logScale[g] as number) - expectedLogScale(walk, itemAt(walk.layout.groups, g))) ** 2;
  }
  state.betweenScale = drawSpread(
    walk,
    state.betweenScale,
    squares,
    walk.seen.length,
    walk.priors.betweenScale,
  );
}

export function drawBetweenShape(walk: Walk): void {
  const { state } = walk;
  let squares = 0;
  for (const g of walk.seen) squares += ((state.logShape[g] as number) - state.shapeCentre) ** 2;
  state.betweenShape = drawSpread(
    walk,
    state.betweenShape,
    squares,
    walk.seen.length,
    walk.priors.betweenShape,
  );
}

export function drawBetweenDuty(walk: Walk): void {
  const { state } = walk;
  let squares = 0;
  for (const j of walk.duties) {
    const parent = itemAt(walk.layout.locations, j).parent ?? j;
    squares += ((state.locations[j] as number) - (state.locations[parent] as number)) ** 2;
  }
  state.betweenDuty = drawSpread(
    walk,
    state.betweenDuty,
    squares,
    walk.duties.length,
    walk.priors.betweenDuty,
  );
}

/** A spread given residuals, half-normal prior, as a slice along its logarithm. */
function drawSpread(walk: Walk, present: number, squares: number, count: number, prior: number): number {
  const { slice } = walk;
  const density = (log: number): number => {
    const variance = Math.exp(2 * log);
    return (1 - count) * log - squares / (2 * variance) - variance / (2 * prior ** 2);
  };
  slice.value = Math.log(present);
  slice.logDensity = density(slice.value);
  sliceStep(slice, density, 4, walk.random.uniform);
  return Math.exp(slice.value);
}
