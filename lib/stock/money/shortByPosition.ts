/** What a position leaves unserved, for all positions of an item at once. */
import { floatAt } from '../../numeric/columns.js';
import { type CountedDemand, countDistribution } from '../leadTimeDemand.js';
import { demandOver, type RandomDemand, type Supply } from '../reorderPoint.js';

/** A share short below this ends the column. */
const NEGLIGIBLE = 1e-10;
/** Means up to here are added up from the chance of none; beyond, e to their power is no number any more. */
const FEW = 500;
/** No column is longer. */
const MOST_PIECES = 1e6;

/**
 * Share of random demand that finds no piece where the inventory position after a review is y: element y, from 0 pieces on, until
 * it is below 1e-10. What is short in one review period is the rise of the back orders from lead time to lead time + review
 * (Hadley & Whitin 1963, ch. 5, from memory); the same sum as `servedShare`, all positions in one pass. Never rising: where two
 * laws of equal kind and different spread cross in their far tails, the lower value stands. No demand: a column of one 0.
 */
export function shortByPosition(random: RandomDemand, supply: Supply): Float64Array {
  const { leadDays, leadSdDays, reviewDays } = supply;
  if (random.perDay <= 0) return new Float64Array(1);
  const lead = tailWalk(demandOver(random, leadDays, leadSdDays));
  if (reviewDays <= 0) return columnUntilFull(() => lead.stepShare());
  const both = tailWalk(demandOver(random, leadDays + reviewDays, leadSdDays));
  const perReview = random.perDay * reviewDays;
  return columnUntilFull(() => (both.step() - lead.step()) / perReview);
}

function columnUntilFull(next: () => number): Float64Array {
  const column: number[] = [];
  let last = 1;
  do {
    last = Math.min(last, Math.max(0, next()));
    column.push(last);
  } while (last >= NEGLIGIBLE && column.length < MOST_PIECES);
  return Float64Array.from(column);
}

/** Walks up the levels y = 0, 1, ... of a law. */
interface TailWalk {
  /** E(D - y)+ and goes on to y + 1. */
  step: () => number;
  /** P(D >= y) and goes on to y + 1. */
  stepShare: () => number;
}

function tailWalk(law: CountedDemand): TailWalk {
  const next = chances(law);
  let above = law.mean;
  let atLeast = 1;
  return {
    step: () => {
      const now = above;
      atLeast -= next();
      above = Math.max(0, above - Math.max(0, atLeast));
      return now;
    },
    stepShare: () => {
      const now = Math.max(0, atLeast);
      atLeast -= next();
      return now;
    },
  };
}

/** The chances of 0, 1, 2 ... one after another. */
function chances(law: CountedDemand): () => number {
  let k = 0;
  if (law.mean > FEW) {
    const { pmf } = countDistribution('shortByPosition', law);
    return () => pmf(k++);
  }
  const { mean } = law;
  const wide = law.kind === 'negativeBinomial' && law.variance > mean * (1 + 1e-9) && mean > 1e-100;
  const size = wide ? (mean * mean) / (law.variance - mean) : 0;
  const share = wide ? 1 - mean / law.variance : 0;
  let chance = wide ? Math.exp(size * Math.log(mean / law.variance)) : Math.exp(-mean);
  return () => {
    const now = chance;
    chance *= wide ? (share * (size + k)) / (k + 1) : mean / (k + 1);
    k += 1;
    return now;
  };
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
