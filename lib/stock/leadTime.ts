/** Lead time of an item: as items.csv gives it, else as past deliveries show it, else assumed (METHODS 5.6). */
import type { Warning } from '../findings.js';
import type { Fleet, Item } from '../fleet/types.js';
import { ASSUMED_LEAD_DAYS, type LeadTimeSeen, leadTimeSeen, usualLeadDays } from '../fleet/usualLeadTime.js';
import { betaCdf, chiSquareCdf } from '../numeric/special.js';
import { amount, count } from '../numeric/words.js';
import { ASSUMED_LEAD_SPREAD } from './reorderPoint.js';

/** What is assumed of the spread counts as so many deliveries, so that three on one day do not make it nothing. */
const PRIOR_DELIVERIES = 3;
/** A given lead time is doubted where deliveries so far away are less likely than this ... */
const UNLIKELY = 0.01;
/** ... and their mean is away by more than this share of it, and a day. */
const WORTH_SAYING = 0.1;

export interface LeadTime {
  leadDays: number;
  leadSdDays: number;
  leadTimeSeen: LeadTimeSeen | null;
}

/**
 * Mean and spread from three deliveries on: the item's own, else those of all items of its material, whose differences are in the
 * spread then. Spread: sum of squares about the lead time used, with a quarter of it weighed as three deliveries, and wider for
 * a mean of few. What items.csv gives is used as given, and doubted in a warning where the item's own deliveries contradict it (t-test
 * of the mean, chi-square test of the spread, each at 1 %). Warnings are added to the list.
 */
export function leadTimeOf(fleet: Fleet, item: Item, warnings: Warning[]): LeadTime {
  const seen = leadTimeSeen(fleet, item);
  const leadDays = usualLeadDays(item, seen);
  if (item.leadTimeDays === null) warnings.push(seen === null ? LEAD_ASSUMED : leadFromRecord(seen));
  const estimated = seen === null ? ASSUMED_LEAD_SPREAD * leadDays : spreadOf(seen, leadDays);
  const leadSdDays = item.leadTimeSdDays ?? estimated;
  if (item.leadTimeSdDays === null && leadDays > 0) {
    warnings.push(seen === null ? SPREAD_ASSUMED : spreadFromRecord(seen, leadSdDays));
  }
  if (seen !== null && seen.of === 'item') contradict(item, seen, warnings);
  return { leadDays, leadSdDays, leadTimeSeen: seen };
}

/** Spread of the next delivery about the lead time used. */
function spreadOf({ deliveries, meanDays, sdDays }: LeadTimeSeen, leadDays: number): number {
  const squares = (deliveries - 1) * sdDays ** 2 + PRIOR_DELIVERIES * (ASSUMED_LEAD_SPREAD * meanDays) ** 2;
  const variance = squares / (deliveries - 1 + PRIOR_DELIVERIES);
  return Math.sqrt(variance * (1 + 1 / deliveries) + (leadDays - meanDays) ** 2);
}

function contradict({ leadTimeDays, leadTimeSdDays }: Item, seen: LeadTimeSeen, warnings: Warning[]): void {
  const { deliveries, meanDays, sdDays } = seen;
  if (leadTimeDays !== null) {
    const sd = Math.max(spreadOf(seen, meanDays), leadTimeSdDays ?? 0);
    const away = Math.abs(meanDays - leadTimeDays);
    const t = away / (sd / Math.sqrt(deliveries));
    const df = deliveries - 1 + PRIOR_DELIVERIES;
    const chance = sd > 0 ? betaCdf(df / (df + t * t), df / 2, 0.5) : away > 0 ? 0 : 1;
    if (chance < UNLIKELY && away > Math.max(1, WORTH_SAYING * leadTimeDays)) {
      warnings.push(leadContradicted(leadTimeDays, seen));
    }
  }
  if (leadTimeSdDays === null) return;
  // Whole days alone spread by some 0.3 days.
  const ratio = ((deliveries - 1) * sdDays ** 2) / (leadTimeSdDays ** 2 + 1 / 12);
  if (1 - chiSquareCdf(ratio, deliveries - 1) < UNLIKELY)
    warnings.push(spreadContradicted(leadTimeSdDays, seen));
}

const LEAD_ASSUMED: Warning = {
  code: 'lead-time-assumed',
  text: `No lead time given: ${ASSUMED_LEAD_DAYS} days assumed.`,
  todo: 'Give lead_time_days in items.csv; every date to order by depends on it.',
};

const SPREAD_ASSUMED: Warning = {
  code: 'lead-spread-assumed',
  text: 'No spread of the lead time given: a quarter of the lead time assumed.',
  todo: 'Give lead_time_sd_days in items.csv, from the deliveries of the last years.',
};

/** '5 deliveries of this item took 38 days on average, 24 to 55'. */
function seenWords({ of, deliveries, meanDays, shortestDays, longestDays }: LeadTimeSeen): string {
  const whose = of === 'item' ? 'of this item' : 'of all items of this material';
  return `${count(deliveries, 'delivery', 'deliveries')} ${whose} took ${amount(Math.round(meanDays), 9)} days on average, ${shortestDays} to ${longestDays}`;
}

function leadFromRecord(seen: LeadTimeSeen): Warning {
  return {
    code: 'lead-time-from-deliveries',
    text: `No lead time given: ${seenWords(seen)}, and that mean is used.`,
    todo: 'Give lead_time_days in items.csv if the supplier has changed since.',
  };
}

function spreadFromRecord(seen: LeadTimeSeen, sdDays: number): Warning {
  return {
    code: 'lead-spread-from-deliveries',
    text: `No spread of the lead time given: ${seenWords(seen)}, and a spread of ${amount(Math.round(sdDays), 9)} days is used.`,
    todo: 'Take hurried deliveries out of orders.csv: they make the usual lead time look short.',
  };
}

function leadContradicted(given: number, seen: LeadTimeSeen): Warning {
  const effect = seen.meanDays > given ? 'orders come late' : 'orders are placed too early';
  return {
    code: 'lead-time-contradicted',
    text: `items.csv gives a lead time of ${amount(given, 9)} days, and ${seenWords(seen)}: by the lead time given ${effect}.`,
    todo: 'Correct lead_time_days, or take hurried deliveries out of orders.csv.',
  };
}

function spreadContradicted(given: number, seen: LeadTimeSeen): Warning {
  return {
    code: 'lead-spread-contradicted',
    text: `items.csv gives a spread of the lead time of ${amount(given, 9)} days, and ${seenWords(seen)}, with a spread of ${amount(Math.round(seen.sdDays), 9)} days.`,
    todo: 'Correct lead_time_sd_days: the stock held against late deliveries is too small.',
  };
}
