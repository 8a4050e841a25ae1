/** What a policy achieves whose stock is looked at every so many periods. */
import { UsageError } from '../errors.js';
import { floatAt } from '../numeric/columns.js';
import { gaussLegendre } from '../numeric/quadrature.js';
import { demandOverPeriods } from './demandOverPeriods.js';
import type { CountDistribution, LeadTimeDemand } from './leadTimeDemand.js';
import { countDistribution } from './leadTimeDemand.js';
import type { StockMeasures } from './measures.js';
import { meansOverPositions } from './overPositions.js';
import type { ReviewPolicy } from './policy.js';
import { pointAndQuantity } from './policy.js';

/** Rule within a stretch of time in which demand varies by no more than this many standard deviations. */
const RULE = gaussLegendre(20);
const STRETCH = 4;

/**
 * Measures under `demand` of one period. After a review at 0 the position y is `level`, or spread evenly over point + 1 to
 * point + quantity; what is on back order at a moment s between lead and lead + review is what demand in (0, s] exceeds y by,
 * whatever was ordered later (Hadley & Whitin 1963, ch. 5, from memory). So back orders rise by what could not be handed
 * out at once, from lead to lead + review; ready rate, back orders and shelf are means over that stretch of time (with an
 * empirical law: over the ends of its periods). Throws UsageError as stockMeasures does.
 */
export function reviewMeasures(policy: ReviewPolicy, demand: LeadTimeDemand): StockMeasures {
  const { point, quantity } = pointAndQuantity('stockMeasures', policy);
  const { leadPeriods: lead, reviewPeriods: review } = policy;
  if (!(lead >= 0 && Number.isFinite(lead))) {
    throw new UsageError('stockMeasures', 'leadPeriods must be at or above 0, and finite.', lead);
  }
  if (!(review > 0 && Number.isFinite(review))) {
    throw new UsageError('stockMeasures', 'reviewPeriods must be above 0, and finite.', review);
  }
  const lawAt = (periods: number): CountDistribution =>
    countDistribution('stockMeasures', demandOverPeriods('stockMeasures', demand, periods));
  const early = meansOverPositions(lawAt(lead), point, quantity);
  const late = meansOverPositions(lawAt(lead + review), point, quantity);
  const asked = lawAt(review).mean;
  const moments = demand.kind === 'empirical' ? periodEnds(lead, review) : momentsOf(demand, lead, review);
  let [ready, shortage, needed] = [0, 0, 0];
  for (const { moment, weight } of moments) {
    const law = lawAt(moment);
    const means = meansOverPositions(law, point, quantity);
    ready += weight * means.ready;
    shortage += weight * means.shortage;
    needed += weight * law.mean;
  }
  const position = point + (quantity + 1) / 2;
  return {
    readyRate: Math.min(1, ready),
    fillRate: asked > 0 ? share(1 - (late.shortage - early.shortage) / asked) : 1,
    cycleService: late.ready,
    expectedShortage: shortage,
    expectedOnHand: Math.max(0, position - needed + shortage),
    meanWait: asked > 0 ? (shortage * review) / asked : 0,
  };
}

function share(value: number): number {
  return Math.min(1, Math.max(0, value));
}

interface Moment {
  moment: number;
  /** Share of the stretch of time that it stands for. */
  weight: number;
}

function periodEnds(lead: number, review: number): Moment[] {
  if (!(Number.isInteger(lead) && Number.isInteger(review))) {
    const rule = 'leadPeriods and reviewPeriods must be whole numbers where demand is empirical.';
    throw new UsageError('stockMeasures', rule, `${lead}, ${review}`);
  }
  return Array.from({ length: review }, (_, k) => ({ moment: lead + 1 + k, weight: 1 / review }));
}

/** Nodes of a rule on as many stretches as demand needs to look smooth within each. */
function momentsOf(demand: LeadTimeDemand, lead: number, review: number): Moment[] {
  const { mean } = countDistribution('stockMeasures', demand);
  const stretches = Math.ceil((mean * review) / (STRETCH * Math.sqrt(mean * (lead + review) + 1)) + 1e-9);
  const width = review / Math.max(1, stretches);
  const moments: Moment[] = [];
  for (let i = 0; i < Math.max(1, stretches); i++) {
    for (let k = 0; k < RULE.nodes.length; k++) {
      moments.push({
        moment: lead + width * (i + (1 + floatAt(RULE.nodes, k)) / 2),
        weight: (floatAt(RULE.weights, k) / 2) * (width / review),
      });
    }
  }
  return moments;
}
