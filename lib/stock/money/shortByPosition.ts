/** What a position leaves unserved, for all positions of an item at once. */
import { floatAt } from '../../numeric/columns.js';
import { type CountLaw, countDistribution } from '../leadTimeDemand.js';
import { demandOver, type RandomDemand, type Supply } from '../reorderPoint.js';

/** A share short below this ends the column. */
const NEGLIGIBLE = 1e-10;
/** Means up to here are added up from the chance of none; beyond, e to their power is no number any more. */
const FEW = 500;
/** No column is longer. */
const MOST_PIECES = 1e6;
const FIRST_LENGTH = 64;

/**
 * Share of random demand that finds no piece where the inventory position after a review is y: element y, from 0 pieces on, until
 * it is below 1e-10. What is short in one review period is the rise of
 * the back orders from lead time to lead time + review (Hadley & Whitin 1963, ch. 5, from memory); the same sum as `servedShare`, all
 * positions in one pass. Never rising: where two laws of equal kind and different spread cross in their far tails, the lower value
 * stands. No demand: a column of one 0.
 */
export function shortByPosition(random: RandomDemand, supply: Supply): Float64Array {
  if (random.perDay <= 0) return new Float64Array(1);
  for (let room = FIRST_LENGTH; ; room *= 4) {
    const column = new Float64Array(Math.min(room, MOST_PIECES));
    const filled = shortInto(column, random, supply);
    if (filled < column.length || column.length === MOST_PIECES) return column.slice(0, filled);
  }
}

/** The same into a column that is there, as far as it goes; gives how many positions were filled. Demand must be above 0. */
export function shortInto(column: Float64Array, random: RandomDemand, supply: Supply): number {
  const { leadDays, leadSdDays, reviewDays } = supply;
  const lead = demandOver(random, leadDays, leadSdDays);
  const both = demandOver(random, leadDays + Math.max(0, reviewDays), leadSdDays);
  const perReview = Math.max(0, random.perDay * reviewDays);
  return (both.mean > FEW ? fillSlow : fill)(column, lead, both, perReview);
}

/** Fills the column and gives how many positions it has; all of it where it is too short. Review 0: the chance of y or more. */
function fill(column: Float64Array, lead: CountLaw, both: CountLaw, perReview: number): number {
  // The ratio of the chance of k + 1 to that of k is (first + later k) / (k + 1), for Poisson (later = 0) and negative binomial.
  const [early, late] = [lawOf(lead), lawOf(both)];
  let [chance, atLeast, above] = [early.none, 1, lead.mean];
  let [chanceLate, atLeastLate, aboveLate] = [late.none, 1, both.mean];
  let last = 1;
  for (let k = 0; k < column.length; k++) {
    const short = perReview > 0 ? (aboveLate - above) / perReview : atLeast;
    last = Math.min(last, Math.max(0, short));
    column[k] = last;
    if (last < NEGLIGIBLE) return k + 1;
    // E(D - k - 1)+ = E(D - k)+ less P(D > k).
    atLeast = Math.max(0, atLeast - chance);
    atLeastLate = Math.max(0, atLeastLate - chanceLate);
    above = Math.max(0, above - atLeast);
    aboveLate = Math.max(0, aboveLate - atLeastLate);
    chance *= (early.first + early.later * k) / (k + 1);
    chanceLate *= (late.first + late.later * k) / (k + 1);
  }
  return column.length;
}

function lawOf(law: CountLaw): { none: number; first: number; later: number } {
  const { mean } = law;
  if (law.kind === 'poisson' || law.variance <= mean * (1 + 1e-9) || mean < 1e-100) {
    return { none: Math.exp(-mean), first: mean, later: 0 };
  }
  const size = (mean * mean) / (law.variance - mean);
  const share = 1 - mean / law.variance;
  return { none: Math.exp(size * Math.log(mean / law.variance)), first: share * size, later: share };
}

/** The same for hundreds of pieces in a lead time: each chance by itself. */
function fillSlow(column: Float64Array, lead: CountLaw, both: CountLaw, perReview: number): number {
  const [early, late] = [
    countDistribution('shortByPosition', lead),
    countDistribution('shortByPosition', both),
  ];
  let [above, aboveLate, last] = [early.mean, late.mean, 1];
  for (let k = 0; k < column.length; k++) {
    const short = perReview > 0 ? (aboveLate - above) / perReview : early.above(k - 1);
    last = Math.min(last, Math.max(0, short));
    column[k] = last;
    if (last < NEGLIGIBLE) return k + 1;
    above = Math.max(0, above - early.above(k));
    aboveLate = Math.max(0, aboveLate - late.above(k));
  }
  return column.length;
}

/**
 * Share served by levels kept with a lot: after a review the position is spread evenly over level - lot + 1 to level. A level below the
 * lot is taken as filled up when the shelf is empty. Level 0 serves nothing.
 */
export function servedByLevel(short: Float64Array): (level: number, lot: number) => number {
  const sums = new Float64Array(short.length + 1);
  for (let y = 0; y < short.length; y++) sums[y + 1] = floatAt(sums, y) + floatAt(short, y);
  const upTo = (y: number): number => floatAt(sums, Math.max(0, Math.min(y + 1, short.length)));
  return (level, lot) => {
    if (level <= 0) return short.length === 1 ? 1 : 0;
    const spread = Math.min(lot, level);
    return 1 - (upTo(level) - upTo(level - spread)) / spread;
  };
}

/** The same share at one level, where the first `length` elements of a column are filled. */
export function servedAtLevel(short: Float64Array, length: number, level: number, lot: number): number {
  if (level <= 0) return 0;
  const spread = Math.min(lot, level);
  const top = Math.min(level, length - 1);
  let total = 0;
  for (let y = level - spread + 1; y <= top; y++) total += floatAt(short, y);
  return 1 - total / spread;
}
