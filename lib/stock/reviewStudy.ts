/** What a policy achieves whose stock is looked at every so many periods. */
import { momentsOfSizes } from '../demand/compoundLaw.js';
import { UsageError } from '../errors.js';
import { floatAt } from '../numeric/columns.js';
import { gaussLegendre } from '../numeric/quadrature.js';
import { demandOverPeriods } from './demandOverPeriods.js';
import type { CountDistribution, LeadTimeDemand } from './leadTimeDemand.js';
import { countDistribution } from './leadTimeDemand.js';
import type { StockMeasures } from './measures.js';
import { readyOver, shortageOver } from './overPositions.js';

/** Rule within a stretch of time in which mean demand grows by no more than so many standard deviations. */
const RULE = gaussLegendre(20);
const STRETCH = 4;
/** So many standard deviations away demand is taken to be above or below for certain, where its law is nearly normal. */
const FAR = 12;
/** Laws are kept for the next position as long as they need no more numbers than this. */
const MOST_KEPT = 2e7;

/** Measures of any point and quantity under one demand, lead time and review period. */
export interface ReviewStudy {
  fillRate: (point: number, quantity: number) => number;
  readyRate: (point: number, quantity: number) => number;
  measures: (point: number, quantity: number) => StockMeasures;
}

/**
 * `demand` is that of one period. After a review at 0 the position y is `level`, or spread evenly over point + 1 to
 * point + quantity; what is on back order at a moment s between lead and lead + review is what demand in (0, s] exceeds y by,
 * whatever was ordered later (Hadley & Whitin 1963, ch. 5, from memory). So back orders rise by what could not be handed
 * out at once, from lead to lead + review; ready rate, back orders and shelf are means over that stretch of time (with an
 * empirical law: over the ends of its periods). Exact where demand has independent increments. Throws UsageError as
 * stockMeasures does.
 */
export function reviewStudy(
  demand: LeadTimeDemand,
  { leadPeriods: lead, reviewPeriods: review }: { leadPeriods: number; reviewPeriods: number },
): ReviewStudy {
  if (!(lead >= 0 && Number.isFinite(lead))) {
    throw new UsageError('stockMeasures', 'leadPeriods must be at or above 0, and finite.', lead);
  }
  if (!(review > 0 && Number.isFinite(review))) {
    throw new UsageError('stockMeasures', 'reviewPeriods must be above 0, and finite.', review);
  }
  const lawAt = lawsOf(demand);
  const moments =
    demand.kind === 'empirical'
      ? periodEnds(lawAt(review).mean / review, lead, review)
      : momentsOf(momentsOfDemand(demand), lead, review);
  return studyOf({ lawAt, moments, lead, review });
}

export interface StudyParts {
  /** Demand over so much time. */
  lawAt: (time: number) => CountDistribution;
  /** Of the stretch from lead to lead + review. */
  moments: readonly Moment[];
  lead: number;
  review: number;
}

/** The study from its parts, also where the lead time varies or the rate is not known for certain. */
export function studyOf({ lawAt, moments, lead, review }: StudyParts): ReviewStudy {
  const asked = lawAt(review).mean;
  const fillRate = (point: number, quantity: number): number => {
    if (asked <= 0) return 1;
    // Below the smallest normal numbers a difference has no digits; nothing is ever asked for in a review period.
    if (asked < 1e-280) return readyOver(lawAt(lead), point - 1, quantity);
    // From a position at or below 0 nothing is handed out at once: left out, since the difference would lose its digits.
    const low = Math.max(point, 0);
    const positive = Math.max(0, point + quantity - low);
    if (positive === 0) return 0;
    const early = shortageOver(lawAt(lead), low, positive);
    const late = shortageOver(lawAt(lead + review), low, positive);
    return (positive / quantity) * share(1 - (late - early) / asked);
  };
  const readyRate = (point: number, quantity: number): number => {
    let ready = 0;
    for (const each of moments) {
      const side = sideOf(each, point, quantity);
      if (side >= 0) ready += each.weight * (side > 0 ? 1 : readyOver(lawAt(each.moment), point, quantity));
    }
    return share(ready);
  };
  const measures = (point: number, quantity: number): StockMeasures => {
    const middle = point + (quantity + 1) / 2;
    let [shortage, needed] = [0, 0];
    for (const each of moments) {
      const side = sideOf(each, point, quantity);
      needed += each.weight * each.mean;
      if (side < 0) shortage += each.weight * (each.mean - middle);
      if (side === 0) {
        shortage += each.weight * shortageOver(lawAt(each.moment), point, quantity);
      }
    }
    return {
      readyRate: readyRate(point, quantity),
      fillRate: fillRate(point, quantity),
      cycleService: readyOver(lawAt(lead + review), point, quantity),
      expectedShortage: shortage,
      expectedOnHand: Math.max(0, middle - needed + shortage),
      meanWait: asked > 0 ? (shortage * review) / asked : 0,
    };
  };
  return { fillRate, readyRate, measures };
}

function share(value: number): number {
  return Math.min(1, Math.max(0, value));
}

/** Laws of demand over a number of periods, kept as long as they are small. */
function lawsOf(demand: LeadTimeDemand): (periods: number) => CountDistribution {
  const kept = new Map<number, CountDistribution>();
  let room = MOST_KEPT;
  return (periods) => {
    const known = kept.get(periods);
    if (known !== undefined) return known;
    const law = countDistribution('stockMeasures', demandOverPeriods('stockMeasures', demand, periods));
    room -= demand.kind === 'compound' || demand.kind === 'empirical' ? 4 * law.mean + 100 : 1;
    if (room > 0) kept.set(periods, law);
    return law;
  };
}

export interface Moment {
  moment: number;
  /** Share of the stretch of time that it stands for. */
  weight: number;
  /** Mean demand by then, and what demand is almost certainly within of it; Infinity where that is not known. */
  mean: number;
  reach: number;
}

/** 1 where no position can be owed by then, -1 where all are for certain, else 0. */
function sideOf({ mean, reach }: Moment, point: number, quantity: number): -1 | 0 | 1 {
  return mean + reach < point ? 1 : mean - reach > point + quantity + 1 ? -1 : 0;
}

function periodEnds(mean: number, lead: number, review: number): Moment[] {
  if (!(Number.isInteger(lead) && Number.isInteger(review))) {
    const rule = 'leadPeriods and reviewPeriods must be whole numbers where demand is empirical.';
    throw new UsageError('stockMeasures', rule, `${lead}, ${review}`);
  }
  return Array.from({ length: review }, (_, k) => ({
    moment: lead + 1 + k,
    weight: 1 / review,
    mean: mean * (lead + 1 + k),
    reach: Infinity,
  }));
}

/**
 * Nodes of a rule on as many stretches as demand needs to look smooth within each; mean and variance are those of a unit of
 * time.
 */
export function momentsOf(
  { mean, variance }: { mean: number; variance: number },
  lead: number,
  review: number,
  rule = RULE,
): Moment[] {
  const sd = Math.sqrt(variance * (lead + review) + 1);
  const stretches = Math.max(1, Math.ceil((mean * review) / (STRETCH * sd)));
  const width = review / stretches;
  const moments: Moment[] = [];
  for (let i = 0; i < stretches; i++) {
    for (let k = 0; k < rule.nodes.length; k++) {
      const moment = lead + width * (i + (1 + floatAt(rule.nodes, k)) / 2);
      const weight = (floatAt(rule.weights, k) / 2) * (width / review);
      const spread = variance * moment;
      // Nearly normal: skewed by less than a tenth, so that chances this far out are below 1e-20.
      const normal = spread > 400 * (variance / mean) ** 2;
      moments.push({
        moment,
        weight,
        mean: mean * moment,
        reach: normal ? FAR * Math.sqrt(spread) : Infinity,
      });
    }
  }
  return moments;
}

type Continuous = Exclude<LeadTimeDemand, { kind: 'empirical' }>;

/** Mean and variance of a period's pieces; a compound law's sizes count with their squares. */
function momentsOfDemand(demand: Continuous): { mean: number; variance: number } {
  if (demand.kind === 'poisson') return { mean: demand.mean, variance: demand.mean };
  if (demand.kind === 'negativeBinomial') return demand;
  const { mean, meanSquare } = momentsOfSizes(demand.sizes);
  const { jobs, jobsVariance = jobs } = demand;
  return { mean: jobs * mean, variance: jobs * (meanSquare - mean * mean) + jobsVariance * mean * mean };
}
