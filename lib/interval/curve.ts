/** The cost-rate curve of a group, for drawing. */
import { quantileSorted } from 'simple-statistics';
import { floatAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import type { CycleParts } from './cycle.js';
import { drawRates, meanOver } from './rates.js';
import type { CostCurve } from './types.js';
import type { Weighed } from './weigh.js';

/** Ages shown reach from this share of the longest of best age, candidate and today to this many times it. */
const FROM_SHARE = 0.08;
const TO_SHARE = 1.8;
/** Most ages drawn. */
const MOST_AGES = 64;

/** Mean, 5th and 95th percentile of the cost per position and year, and the early leaks' part of the mean. */
export function costCurve(weighed: Weighed): CostCurve {
  const { cycle, costs, best } = weighed;
  const curve: CostCurve = { ageDays: [], mean: [], low: [], high: [], early: [] };
  for (const i of shownAges(weighed)) {
    const parts = cycle.onGrid(i);
    const sorted = Array.from(drawRates(parts, costs, cycle.openingsPerDay).sort());
    curve.ageDays.push(floatAt(cycle.ages, i));
    curve.mean.push(floatAt(best.onGrid, i) * DAYS_PER_YEAR);
    curve.low.push(quantileSorted(sorted, 0.05) * DAYS_PER_YEAR);
    curve.high.push(quantileSorted(sorted, 0.95) * DAYS_PER_YEAR);
    curve.early.push(earlyCost(parts, costs.earlyLeak) * DAYS_PER_YEAR);
  }
  return curve;
}

/** Indices of the cycle's ages that are drawn. */
function shownAges({ cycle, best, candidate, group }: Weighed): number[] {
  const focus = Math.max(best.age ?? 0, candidate?.days ?? 0, group.today.days ?? 0);
  const centre = focus > 0 ? focus : group.model.scale;
  const all = Array.from(cycle.ages.keys()).filter(
    (i) => floatAt(cycle.ages, i) >= FROM_SHARE * centre && floatAt(cycle.ages, i) <= TO_SHARE * centre,
  );
  const step = Math.max(1, Math.ceil(all.length / MOST_AGES));
  return all.filter((_, k) => k % step === 0);
}

function earlyCost({ early, uptime }: CycleParts, leak: number): number {
  return meanOver(early.map((share, d) => (leak * share) / floatAt(uptime, d)));
}
