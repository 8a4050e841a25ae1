/** Whether a group's leaks can have come from the law that was fitted to them, and what another law makes of them (METHODS 2.4). */
import { goodnessOfFit } from '../life/check/goodnessOfFit.js';
import { whyShapeNotEstimable } from '../life/estimate/estimable.js';
import { fitLife } from '../life/estimate/fit.js';
import { lognormalLike, maximiseLognormal } from '../life/estimate/lognormalBesideFaults.js';
import { evaluator, prepareRows } from '../life/estimate/weibull/weibullLikelihood.js';
import { failureCount } from '../life/sample.js';
import type { LifeSample } from '../life/sampleTypes.js';
import { randomStream } from '../numeric/random.js';
import { completed } from './completed.js';
import { LEAKS_TO_JUDGE } from './ownFit.js';
import type { Group, WearRecords } from './types.js';

/** Samples drawn for a group at most, and so many as far off that no more are needed. */
const RESAMPLES = 999;
const ENOUGH = 5;

/** What the leaks of one group say of its law. */
export interface LawCheck {
  /** Leaks by which the law is judged: those of faulty fittings that a finding gives away are left out. */
  leaks: number;
  /** Chance of lives as far from their law or further, if it is the right one; null where it cannot be judged. */
  p: number | null;
  /** Samples drawn for p. */
  resamples: number;
  lognormal: OtherLaw | null;
}

/** Lognormal wear-out beside the same fitting faults: log life is normal with mean `mu` (log days) and spread `sigma`. */
export interface OtherLaw {
  mu: number;
  sigma: number;
  /**
   * AIC of the Weibull less that of the lognormal: above 0 where the lognormal suits the leaks better. Both have two
   * parameters of their own. The likelihoods are flattened as for the bounds (Group.inflation; Burnham & Anderson 2002, from memory).
   */
  aicDifference: number;
}

/**
 * Judges the group's own maximum likelihood fit of the plan's form [1 - p Fe] Sw, fault part held. The pooled posterior that is
 * planned on is not tested itself: it leans on other groups, so samples drawn from it and fitted alone would be no
 * fair comparison. What is in question is the form, and each drawn sample goes through the same fit as the records did.
 * Null fields where the group has no fit of its own. Pure: the seed and the group's name settle the draws.
 */
export function checkLaw(group: Group, seed: number): LawCheck {
  const { records } = group;
  if (records === null) return { leaks: group.failures, p: null, resamples: 0, lognormal: null };
  const known = completed(
    records,
    group.model,
    randomStream(seed, `group/complete/${group.use?.of ?? group.name}`),
  );
  const leaks = failureCount(known);
  return { leaks, ...goodness(known, records, leaks, group, seed), lognormal: otherLaw(records, group) };
}

/** All groups of a plan. Parts of a group by use have one law between them, so that it is judged once. */
export function checkLaws(groups: readonly Group[], seed: number): LawCheck[] {
  const known = new Map<string, { check: LawCheck; perDay: number }>();
  return groups.map((group) => {
    const { use } = group;
    if (use === undefined) return checkLaw(group, seed);
    const first = known.get(use.of) ?? { check: checkLaw(group, seed), perDay: use.perDay };
    known.set(use.of, first);
    return inDaysOfUse(first.check, first.perDay / use.perDay);
  });
}

/** The same law in days that are so much longer. */
function inDaysOfUse(check: LawCheck, pace: number): LawCheck {
  const { lognormal } = check;
  if (lognormal === null) return check;
  return { ...check, lognormal: { ...lognormal, mu: lognormal.mu + Math.log(pace) } };
}

function goodness(
  known: LifeSample,
  { fault, closing }: WearRecords,
  leaks: number,
  group: Group,
  seed: number,
): Pick<LawCheck, 'p' | 'resamples'> {
  if (leaks < LEAKS_TO_JUDGE || whyShapeNotEstimable(known) !== null) return { p: null, resamples: 0 };
  const fit = fitLife(known, { kind: 'weibull', fault });
  const { p, resamples } = goodnessOfFit(known, fit, {
    seed: seedOf(group, seed),
    closing,
    resamples: RESAMPLES,
    enough: ENOUGH,
  });
  return { p, resamples };
}

/** Groups draw on streams of their own, whatever order they come in. */
function seedOf({ name, use }: Group, seed: number): number {
  return randomStream(seed, `group/check/${use?.of ?? name}`).below(2 ** 31);
}

function otherLaw({ sample, fault }: WearRecords, { model, inflation }: Group): OtherLaw | null {
  const rows = prepareRows(sample, fault);
  const own = evaluator(rows)(model.shape, model.scale);
  const start = lognormalLike(model);
  const { mu, sigma, logLikelihood, converged } = maximiseLognormal(rows, start);
  if (!converged) return null;
  return { mu, sigma, aicDifference: (2 * (logLikelihood - own)) / inflation };
}
