/** How to keep an item for leaks and openings: one for one, by a reorder point, or up to a level; what each comes to (METHODS 5.5, 5.6). */
import type { Item, Money } from '../fleet/types.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { gaussLegendre } from '../numeric/quadrature.js';
import { amount } from '../numeric/words.js';
import { countTable } from './countTable.js';
import type { CountDistribution } from './leadTimeDemand.js';
import { smallestWhole } from './leadTimeDemand.js';
import { unitPrice } from './priceBreaks.js';
import { demandOver, type RandomDemand, type Supply } from './reorderPoint.js';
import { momentsOf, type ReviewStudy, studyOf } from './reviewStudy.js';
import type { ItemPolicy, PolicyCost, PolicyKind, PolicyMeasures } from './types.js';

export interface PolicyInput {
  item: Item;
  random: RandomDemand;
  /** Of the random demand, pieces a year that are leaks. */
  leaksPerYear: number;
  supply: Supply;
  /** Share of leaks and openings to be met at once, below 1. */
  target: number;
  /** The reorder point that meets it with this quantity. */
  reorder: { point: number; quantity: number };
  money: Money;
  /** What a piece that is short costs: days of waiting at the rate, and an emergency order; null where neither is known. */
  shortCost: number | null;
}

/** Longer reviews that are tried, days: four weeks and a quarter. */
const REVIEWS = [28, 91];
const RULE = gaussLegendre(6);

/**
 * Three ways to hold stock, each at the smallest level that meets the target, and of these the one whose pieces,
 * orders and shelf cost least a year; where costs are not given, the reorder point. One for one and up to a level are left out where the supplier's smallest order is above
 * a pack. Null where nothing is asked for at random.
 */
export function itemPolicy(input: PolicyInput): ItemPolicy | null {
  const { random, item } = input;
  if (!(random.perDay > 0)) return null;
  const studies = new Map<number, ReviewStudy>();
  const laws = lawsOf(input);
  const study = (days: number): ReviewStudy => {
    const known = studies.get(days) ?? studyAt(input, laws, days);
    studies.set(days, known);
    return known;
  };
  const days = Math.max(1, input.supply.reviewDays);
  const tried = [judged(input, study, laws, { kind: 'reorder point', days, ...input.reorder })];
  if (item.minOrder <= item.pack) {
    for (const each of [days, ...REVIEWS.filter((longer) => longer > days)]) {
      tried.push(judged(input, study, laws, upTo(input, study(each), each)));
    }
  }
  const best = bestOf(tried);
  const cheapest = leastCost(input, best, study(best.days), (rule) => judged(input, study, laws, rule));
  return { ...written(tried, best), leastCost: cheapest };
}

interface Rule {
  kind: PolicyKind;
  /** Looked at every so many days. */
  days: number;
  point: number;
  quantity: number;
}

interface Judged extends Rule {
  measures: PolicyMeasures;
  cost: PolicyCost | null;
}

/** Laws of demand over a span with the lead time's spread in it, kept. */
function lawsOf({ random, supply }: PolicyInput): (days: number, sdDays: number) => CountDistribution {
  const kept = new Map<number, Map<number, CountDistribution>>();
  return (days, sdDays) => {
    const ofSpread = kept.get(sdDays) ?? new Map<number, CountDistribution>();
    kept.set(sdDays, ofSpread);
    const known = ofSpread.get(days);
    if (known !== undefined) return known;
    const law = countTable(demandOver(random, days, Math.min(sdDays, supply.leadSdDays)));
    ofSpread.set(days, law);
    return law;
  };
}

function studyAt(
  { random, supply }: PolicyInput,
  laws: ReturnType<typeof lawsOf>,
  review: number,
): ReviewStudy {
  const { leadDays: lead, leadSdDays } = supply;
  const whole = demandOver(random, lead + review, leadSdDays);
  const variance = (whole.kind === 'negativeBinomial' ? whole.variance : whole.mean) / (lead + review);
  const lawAt = (days: number): CountDistribution => laws(days, leadSdDays);
  const moments = momentsOf({ mean: random.perDay, variance }, lead, review, RULE);
  // What a review period asks for in itself has nothing to do with the lead time.
  return studyOf({ lawAt, moments, lead, review });
}

/** The smallest level, in packs, that meets the target. */
function upTo(
  { item, target, random, supply, reorder }: PolicyInput,
  study: ReviewStudy,
  days: number,
): Rule {
  const guess = Math.max(reorder.point, Math.ceil(random.perDay * (supply.leadDays + days)));
  const point = smallestWhole((each) => study.fillRate(each, item.pack) >= target - 1e-12, 0, guess);
  const kind = days <= supply.reviewDays && item.pack === 1 ? 'one for one' : 'order up to';
  return { kind, days, point, quantity: item.pack };
}

function judged(
  input: PolicyInput,
  study: (days: number) => ReviewStudy,
  laws: ReturnType<typeof lawsOf>,
  rule: Rule,
): Judged {
  const { random, leaksPerYear } = input;
  const found = study(rule.days).measures(rule.point, rule.quantity);
  const orders = orderChance(laws(rule.days, 0), rule.quantity) * (DAYS_PER_YEAR / rule.days);
  const measures = {
    fillRate: found.fillRate,
    cycleService: found.cycleService,
    readyRate: found.readyRate,
    expectedShortage: found.expectedShortage,
    expectedOnHand: found.expectedOnHand,
    waitingDays: found.expectedShortage / random.perDay,
    leaksFindingShelfEmptyPerYear: leaksPerYear * (1 - found.fillRate),
    ordersPerYear: orders,
  };
  return { ...rule, measures, cost: costOf(input, measures) };
}

/** Chance that a review places an order: E min(1, D / quantity). */
function orderChance(law: CountDistribution, quantity: number): number {
  let chance = 0;
  for (let k = 0; k < quantity; k++) {
    const term = law.above(k);
    if (term < 1e-18) break;
    chance += term;
  }
  return chance / quantity;
}

/** A year's cost; null where price, holding rate or order cost is not given. */
function costOf(
  { item, random, money, shortCost }: PolicyInput,
  measures: PolicyMeasures,
): PolicyCost | null {
  const { fillRate, expectedOnHand, ordersPerYear } = measures;
  const perYear = random.perDay * DAYS_PER_YEAR;
  const price = unitPrice(item, ordersPerYear > 0 ? perYear / ordersPerYear : 1);
  const rate = money.holdingRatePerYear?.likely ?? null;
  const orderCost = money.orderCost?.likely ?? null;
  if (price === null || rate === null || orderCost === null) return null;
  const pieces = perYear * price;
  const ordering = ordersPerYear * orderCost;
  const holding = expectedOnHand * price * rate;
  const shortage = shortCost === null ? null : perYear * (1 - fillRate) * shortCost;
  return { pieces, ordering, holding, shortage, total: pieces + ordering + holding + (shortage ?? 0) };
}

/** Of least cost, and the first of those that cost the same to the cent; the first of all where costs are not known. */
function bestOf(tried: readonly Judged[]): Judged {
  // All meet the target, which stands for the price of a shortage.
  const paid = ({ cost }: Judged): number => (cost?.total ?? Infinity) - (cost?.shortage ?? 0);
  return tried.reduce((a, b) => (paid(b) < paid(a) - 0.005 ? b : a));
}

function written(tried: readonly Judged[], best: Judged): Omit<ItemPolicy, 'leastCost'> {
  return {
    ...shown(best),
    chosenBy: best.cost === null ? 'target' : 'cost',
    measures: best.measures,
    costPerYear: best.cost,
    others: tried
      .filter((each) => each !== best)
      .map((each) => ({
        ...shown(each),
        fillRate: each.measures.fillRate,
        costPerYear: each.cost?.total ?? null,
      })),
  };
}

function shown({
  kind,
  days,
  point,
  quantity,
}: Rule): Pick<ItemPolicy, 'kind' | 'rule'> & Pick<ItemPolicy, 'point' | 'quantity' | 'level' | 'everyDays'> {
  const level = point + quantity;
  if (kind === 'reorder point') {
    const rule = `every ${amount(days, 9)} days: at ${amount(point, 9)} or fewer on hand and on order, order ${amount(quantity, 9)}`;
    return { kind, everyDays: days, rule, point, quantity, level: null };
  }
  const packs = quantity === 1 ? '' : `, in packs of ${amount(quantity, 9)}`;
  const rule =
    kind === 'one for one'
      ? `every ${amount(days, 9)} days: order again what was taken, so that ${amount(level, 9)} are on hand and on order`
      : `every ${amount(days, 9)} days: order up to ${amount(level, 9)} on hand and on order${packs}`;
  return { kind, everyDays: days, rule, point: null, quantity: null, level };
}

/**
 * The same kind of rule at the level of least cost, at or above the target; null where a shortage has no price. One more piece is
 * held for the share of time in which nothing is owed, and saves the pieces that are then handed out at once.
 */
function leastCost(
  { random, shortCost }: PolicyInput,
  best: Judged,
  study: ReviewStudy,
  judge: (rule: Rule) => Judged,
): ItemPolicy['leastCost'] {
  const { cost, measures, quantity } = best;
  if (cost === null || shortCost === null || !(cost.holding > 0)) return null;
  const held = cost.holding / measures.expectedOnHand;
  const saved = random.perDay * DAYS_PER_YEAR * shortCost;
  const enough = (point: number): boolean =>
    held * study.readyRate(point, quantity) >=
    saved * (study.fillRate(point + 1, quantity) - study.fillRate(point, quantity));
  const point = smallestWhole(enough, best.point, best.point);
  const found = point === best.point ? best : judge({ ...best, point });
  const total = found.cost?.total ?? 0;
  return {
    ...shown(found),
    fillRate: found.measures.fillRate,
    costPerYear: total,
    saving: cost.total - total,
  };
}
