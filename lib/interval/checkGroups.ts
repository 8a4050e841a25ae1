/** What the plan reports of each group's law: does it fit, and what would it cost to be wrong about it (METHODS 2.4). */
import type { GroupCost } from '../cost/types.js';
import type { Warning } from '../findings.js';
import type { LawCheck, OtherLaw } from '../group/checkLaw.js';
import type { Group } from '../group/types.js';
import { falseDiscovery } from '../life/check/falseDiscovery.js';
import { cumulativeHazard, survival } from '../life/distribution/index.js';
import { itemAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { ageWords, count, counted, fixed } from '../numeric/words.js';
import { hasPrices } from './decide.js';
import { type LawCost, lawCost } from './lawCost.js';
import type { GroupCheck, IntervalAdvice, UnderLaw } from './types.js';
import { meanCosts } from './weigh.js';

/** Another law is preferred from this difference in AIC on, with so many leaks. */
export const CLEARLY_BETTER = 6;
const LEAKS_TO_PREFER = 20;
/** Of the groups said not to fit, no more than this share does, on average. */
const FALSE_SHARE = 0.1;
/** An interval is as good as the best within this share. */
const SPAN = 0.05;

/**
 * The checks of all groups, in their order. Which groups are said not to fit is settled over all of them together, so that a
 * plant with many groups is not told of misfits that are chance.
 * @param laws of `checkLaw`, group by group
 */
export function checkGroups(
  groups: readonly Group[],
  costs: readonly GroupCost[],
  intervals: readonly IntervalAdvice[],
  laws: readonly LawCheck[],
): GroupCheck[] {
  const { adjusted, found } = falseDiscovery(
    laws.map(({ p }) => p),
    FALSE_SHARE,
  );
  return groups.map((group, g) => {
    const { leaks, p, resamples, lognormal } = itemAt(laws, g);
    const misfit = itemAt(found, g);
    return {
      verdict: p === null ? 'cannot be judged' : misfit ? 'does not fit' : 'fits',
      leaks,
      p,
      adjusted: itemAt(adjusted, g),
      resamples,
      secondOpinion:
        lognormal === null
          ? null
          : opinionOf(group, itemAt(costs, g), itemAt(intervals, g), lognormal, leaks),
    };
  });
}

function opinionOf(
  group: Group,
  cost: GroupCost,
  interval: IntervalAdvice,
  { mu, sigma, aicDifference }: OtherLaw,
  leaks: number,
): GroupCheck['secondOpinion'] {
  const preferred = aicDifference >= CLEARLY_BETTER && leaks >= LEAKS_TO_PREFER;
  return {
    kind: 'lognormal',
    mu,
    sigma,
    aicDifference,
    preferred,
    ...costsUnder(group, cost, interval, { mu, sigma }),
  };
}

/**
 * Both laws beside the same fitting faults and with the same costs, over ages that the data support and nothing caps: beyond them laws that
 * suit the leaks alike part by far. Null without prices or positions.
 */
function costsUnder(
  group: Group,
  cost: GroupCost,
  { days, cappedBy, keptFor }: IntervalAdvice,
  place: { mu: number; sigma: number },
): { weibull: UnderLaw | null; lognormal: UnderLaw | null } {
  const means = meanCosts(cost);
  const { replacement, wearLeak: leak, opening } = means;
  const priced = hasPrices({ cost, costs: means }) && keptFor !== 'no prices' && keptFor !== 'no positions';
  const supported = Math.max(group.supportedAge ?? 0, days ?? 0);
  const reach = { days: cappedBy === null ? supported : (days ?? supported), run: days === null };
  if (!priced || !(reach.days > 0)) return { weibull: null, lognormal: null };
  const costs = { replacement, leak, opening, openingsPerDay: group.openingsPerYear / DAYS_PER_YEAR };
  const { fault } = group.model;
  const sound = (age: number): number =>
    fault === undefined ? 1 : 1 + fault.share * Math.expm1(-((age / fault.scale) ** fault.shape));
  const other = { kind: 'lognormal', ...place } as const;
  return {
    weibull: underLaw(
      lawCost((age) => survival(group.model, age), costs, reach),
      days,
    ),
    lognormal: underLaw(
      lawCost((age) => sound(age) * Math.exp(-cumulativeHazard(other, age)), costs, reach),
      days,
    ),
  };
}

function underLaw({ bestDays, leastPerYear, perYearAt }: LawCost, days: number | null): UnderLaw {
  const costPerYear = perYearAt(days);
  return { bestDays, leastPerYear, costPerYear, aboveLeast: Math.max(0, costPerYear / leastPerYear - 1) };
}

/** What to do about a law that does not fit, or that another suits better. */
export function checkWarnings(check: GroupCheck, days: number | null): Warning[] {
  const { verdict, leaks, p, secondOpinion } = check;
  const warnings: Warning[] = [];
  if (verdict === 'does not fit' && p !== null) {
    warnings.push({
      code: 'model-does-not-fit',
      text: `The ${counted(leaks, 'leak', 'leaks')} do not look like lives of a Weibull law beside faulty fittings: lives drawn from that law stray as far from it in only ${shareWords(p)}.`,
      todo: 'Look for two kinds of lives in this group (duties, lots, fitters) or a change of practice, and at the steps beside the curve; until then do not lengthen the interval.',
    });
  }
  if (secondOpinion?.preferred) {
    warnings.push({
      code: 'lognormal-fits-better',
      text: `A lognormal law suits the ${counted(leaks, 'leak', 'leaks')} clearly better than the Weibull law planned with (AIC lower by ${fixed(secondOpinion.aicDifference, 1)}).${wrongLawWords(secondOpinion.lognormal, days)}`,
      todo: todoUnder(secondOpinion.lognormal),
    });
  }
  return warnings;
}

/** What to do where a lognormal suits better: by how dear the advised interval would be under it. */
function todoUnder(under: UnderLaw | null): string {
  if (under === null)
    return 'The interval could not be weighed under both laws, for want of prices or positions; do not lengthen it until it is.';
  return under.aboveLeast > SPAN
    ? 'Take the interval as provisional and weigh the best age under the lognormal law beside it.'
    : 'The interval is good under both laws; read ages beyond the oldest leaks with care.';
}

function shareWords(p: number): string {
  return `${count(Math.max(1, Math.round(1000 * p)), 'draw')} of 1000`;
}

function wrongLawWords(under: UnderLaw | null, days: number | null): string {
  if (under === null) return '';
  const advised = days === null ? 'running until it leaks' : ageWords(days);
  const best = under.bestDays === null ? 'running until it leaks' : ageWords(under.bestDays);
  const percent = fixed(100 * under.aboveLeast, 1);
  return ` Under it ${advised} would cost ${percent} % above the least, which is at ${best}.`;
}
