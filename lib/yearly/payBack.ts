/** When the proposal has paid for itself, on the yearly path (METHODS 4.6). */
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { ends, wholeEnds } from './draws.js';
import type { PayBack } from './outlookTypes.js';

/** Cost of a policy by year: expected, and in each draw. */
export interface YearCosts {
  years: readonly { cost: number }[];
  drawn: readonly Float64Array[];
}

/**
 * Savings of the years ahead, added up and discounted at the end of each year: net present value by year (from memory, as
 * in any book on engineering economy). Both policies follow the same draws; `rates` has the discount rate of each.
 */
export function payBack(
  today: YearCosts,
  proposed: YearCosts,
  discount: { mean: number; drawn: Float64Array },
): PayBack {
  const savings = today.years.map(({ cost }, y) => cost - (proposed.years[y]?.cost ?? 0));
  const cumulated = addedUp(savings, discount.mean);
  const byDraw = Array.from(discount.drawn, (rate, d) =>
    addedUp(
      savings.map((_, y) => floatAt(itemAt(today.drawn, y), d) - floatAt(itemAt(proposed.drawn, y), d)),
      rate,
    ),
  );
  const years = savings.map((saving, y) => {
    const [low, high] = ends(Float64Array.from(byDraw, (sums) => at(sums, y)));
    const discounted = saving / (1 + discount.mean) ** (y + 1);
    return { year: y + 1, saving, discounted, cumulated: at(cumulated, y), low, high };
  });
  const year = savings.every((saving) => saving === 0) ? null : paidFrom(cumulated);
  return {
    discountRate: discount.mean,
    years,
    verdict: verdictOf(savings, year),
    year,
    ...rangeOf(byDraw.map(paidFrom)),
  };
}

function addedUp(savings: readonly number[], rate: number): number[] {
  let total = 0;
  return savings.map((saving, y) => {
    total += saving / (1 + rate) ** (y + 1);
    return total;
  });
}

/** The first year from whose end on the sum stays at 0 or above; null where it is below at the end. */
function paidFrom(cumulated: readonly number[]): number | null {
  const lastBelow = cumulated.reduce((last, sum, y) => (sum < 0 ? y : last), -1);
  return lastBelow + 1 >= cumulated.length ? null : lastBelow + 2;
}

function verdictOf(savings: readonly number[], year: number | null): PayBack['verdict'] {
  if (savings.every((saving) => saving === 0)) return 'nothing changes';
  if (year === null) return 'never within the horizon';
  return year === 1 ? 'at once' : 'within the horizon';
}

/** Of the draws: when it pays back, Infinity being never, and in how many it does. */
function rangeOf(years: readonly (number | null)[]): Pick<PayBack, 'range' | 'chance'> {
  const [low, high] = wholeEnds(
    years.map((year) => year ?? Infinity),
    Infinity,
  );
  const orNever = (year: number): number | null => (year === Infinity ? null : year);
  const paid = years.filter((year) => year !== null).length;
  return { range: [orNever(low), orNever(high)], chance: years.length === 0 ? 0 : paid / years.length };
}
