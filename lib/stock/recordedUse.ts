/** Items known by their monthly use: what it says, the need that follows from it, and how it compares with the positions' model. */

import type { DemandMonth, ItemDemand, PlannedNeed } from '../demand/types.js';
import { type UseForecast, useForecast } from '../demand/useForecast.js';
import type { Warning } from '../findings.js';
import { firstDay, monthName } from '../fleet/readMonthlyUse.js';
import type { Fleet, Item, MonthlyUse } from '../fleet/types.js';
import { addMonths, DAYS_PER_MONTH } from '../numeric/day.js';
import { amount, count, monthYear } from '../numeric/words.js';
import { countQuantile } from './itemNeed.js';
import type { RecordedUse, StockAdvice } from './types.js';

const STEPS_PER_MONTH = 4;
/** A record that ended longer ago is asked about. */
const FRESH_MONTHS = 3;

/** What the record of an item says; null without months that are over. */
export function recordedUse(fleet: Fleet, item: Item): RecordedUse | null {
  const record = fleet.monthlyUse.find((each) => each.item === item.item);
  if (record === undefined || record.used.length === 0) return null;
  const { used, planned, first, given } = record;
  const forecast = useForecast(unplanned(record));
  const pieces = used.reduce((sum, each) => sum + each, 0);
  return {
    from: monthName(first),
    until: monthName(first + used.length - 1),
    months: used.length,
    monthsGiven: given,
    pieces,
    plannedPieces: planned.reduce((sum, each) => sum + each, 0),
    perYear: (12 * pieces) / used.length,
    purpose: 'check',
    class: forecast.class,
    method: forecast.method,
    chosenBy: forecast.chosenBy,
    errors: forecast.errors,
    perMonth: forecast.mean,
    modelledPerYear: null,
    modelledRange: null,
    words: wordsOf(record, forecast),
  };
}

/** The need of an item that no position needs; null where the record is empty and nothing is planned. */
export function recordedDemand(fleet: Fleet, item: Item): ItemDemand | null {
  const record = fleet.monthlyUse.find((each) => each.item === item.item);
  if (record === undefined) return null;
  const { ahead } = record;
  const counts = unplanned(record);
  const forecast = counts.length === 0 ? null : useForecast(counts);
  const steps = STEPS_PER_MONTH * fleet.site.horizonMonths;
  const sd = (forecast?.meanSd ?? 0) / STEPS_PER_MONTH;
  const each = <T>(value: T): T[] => new Array<T>(steps).fill(value);
  const needs = plannedNeeds(ahead, fleet);
  const chance = (forecast?.variance ?? 0) * 12;
  const known = 12 * (forecast?.meanSd ?? 0);
  return {
    item: item.item,
    material: item.material,
    size: item.size,
    planned: needs,
    randomPerStep: each((forecast?.mean ?? 0) / STEPS_PER_MONTH),
    randomVariancePerStep: each((forecast?.variance ?? 0) / STEPS_PER_MONTH + sd * sd),
    randomParameterSdPerStep: each(sd),
    stepDays: DAYS_PER_MONTH / STEPS_PER_MONTH,
    shareFromParameters: known > 0 ? known ** 2 / (chance + known ** 2) : 0,
    leaksPerYear: 12 * (forecast?.mean ?? 0),
    openingsPerYear: 0,
    plannedPerYear: needs.reduce((sum, { kit }) => sum + kit, 0) / (fleet.site.horizonMonths / 12),
    positions: 0,
    criticality: 'normal',
    downtimePerHour: null,
    valvesPerJob: 1,
    jobsOnRecord: 0,
  };
}

/**
 * Use that was not planned, by month. Where months are missing, the record is likely to list months with use only and thus
 * begins with one: that month says nothing of how often pieces are used, and is left out.
 */
function unplanned({ used, planned, given }: MonthlyUse): number[] {
  const counts = used.map((each, i) => each - (planned[i] ?? 0));
  return given < counts.length && counts.length > 1 ? counts.slice(1) : counts;
}

function plannedNeeds(ahead: MonthlyUse['ahead'], { site }: Fleet): PlannedNeed[] {
  const end = addMonths(site.dataUntil, site.horizonMonths);
  return ahead
    .map(({ month, pieces }) => ({
      name: `work planned for ${monthYear(monthName(month))}`,
      day: Math.max(site.dataUntil + 1, firstDay(month)),
      ifNothingLeaks: pieces,
      expected: pieces,
      with95: pieces,
      kit: pieces,
    }))
    .filter(({ day }) => day <= end);
}

const METHOD_WORDS: Record<UseForecast['method'], string> = {
  croston: "Croston's method",
  syntetosBoylan: "Syntetos and Boylan's method",
  teunterSyntetosBabai: "Teunter, Syntetos and Babai's method",
};

function wordsOf({ used, first, given }: MonthlyUse, forecast: UseForecast): string {
  const pieces = used.reduce((sum, each) => sum + each, 0);
  const span = `${monthYear(monthName(first))} to ${monthYear(monthName(first + used.length - 1))}`;
  const gaps = used.length - given;
  const zeros =
    gaps === 0
      ? ''
      : `; ${count(gaps, 'month')} between them ${gaps === 1 ? 'is' : 'are'} not given and count as 0`;
  const why = {
    class: `as is usual for ${forecast.class === 'none' ? 'use that was never seen' : `${forecast.class} use`}`,
    error: 'which was closest over the second half of the record',
    silence: 'since nothing was used for so long',
  }[forecast.chosenBy];
  return `${count(pieces, 'piece')} in ${count(used.length, 'month')}, ${span}${zeros}; forecast by ${METHOD_WORDS[forecast.method]}, ${why}`;
}

/** What to mind about a need that is read from monthly use alone. */
export function useWarnings(fleet: Fleet, use: RecordedUse | null, demand: ItemDemand): Warning[] {
  const warnings: Warning[] = [];
  if (use === null) return warnings;
  const last = addMonths(firstDay(numberOf(use.until)), 1 + FRESH_MONTHS);
  if (last <= fleet.site.dataUntil) {
    warnings.push({
      code: 'recorded-use-old',
      text: `The monthly use ends in ${monthYear(use.until)}; the months since are not known, and the use is taken to go on.`,
      todo: 'Add the months since to monthly-use.csv, with 0 where nothing was used.',
    });
  }
  if (use.chosenBy === 'silence' || use.pieces === 0) {
    warnings.push({
      code: 'recorded-use-silent',
      text: 'Nothing was used for so long that the item may be needed no more.',
      todo: 'Ask whether it is still fitted anywhere before ordering.',
    });
  }
  if (use.plannedPieces > 0 && demand.planned.length === 0) {
    warnings.push({
      code: 'planned-use-missing',
      text: `Of the use on record ${amount(use.plannedPieces, 9)} were for planned work, and no month to come has any planned: none is ordered for.`,
      todo: 'Give the months to come with their planned pieces in monthly-use.csv.',
    });
  }
  return warnings;
}

function numberOf(month: string): number {
  return Number(month.slice(0, 4)) * 12 + Number(month.slice(5)) - 1;
}

/** A recorded use is doubted where it lies outside so much of what the model gives for as many months. */
const SURE = 0.95;

/**
 * Stock rows with what the positions' model gives for a year of today's practice beside the recorded use, and a warning where the
 * record lies outside its 95 % range over as many months. Uncertainty of the model is taken as large as that of the
 * forecast's first year.
 */
export function withUseCheck(
  stock: readonly StockAdvice[],
  practised: readonly DemandMonth[],
  demands: readonly ItemDemand[],
): StockAdvice[] {
  if (stock.every(({ recordedUse: use }) => use?.purpose !== 'check')) return [...stock];
  const shares = new Map(demands.map(({ item, shareFromParameters }) => [item, shareFromParameters]));
  return stock.map((row) => {
    const use = row.recordedUse;
    const months = practised.filter(({ item }) => item === row.item);
    if (use === null || use.purpose !== 'check' || months.length === 0) return row;
    const perYear = (12 * months.reduce((sum, { mean }) => sum + mean, 0)) / months.length;
    const years = use.months / 12;
    const share = Math.min(0.99, shares.get(row.item) ?? 0);
    const mean = perYear * years;
    const variance = mean + perYear * (share / (1 - share)) * years ** 2;
    const end = (p: number): number => countQuantile(p, mean, variance) / years;
    const range: [number, number] = [end((1 - SURE) / 2), end((1 + SURE) / 2)];
    const checked = { ...use, modelledPerYear: perYear, modelledRange: range };
    const apart = use.perYear < range[0] - 1e-9 || use.perYear > range[1] + 1e-9;
    const warnings = apart ? [...row.warnings, differs(use, perYear, range)] : row.warnings;
    return { ...row, recordedUse: checked, warnings };
  });
}

function differs(use: RecordedUse, perYear: number, [low, high]: [number, number]): Warning {
  const tenth = (value: number): string => amount(Math.round(value * 10) / 10, 9);
  return {
    code: 'recorded-use-differs',
    text: `Stores used ${tenth(use.perYear)} a year from ${monthYear(use.from)} to ${monthYear(use.until)}; the positions under today's practice give ${tenth(perYear)} a year (95 % range ${tenth(low)} to ${tenth(high)}).`,
    todo:
      use.perYear > perYear
        ? 'Look for positions that are not in positions.csv, other uses of the part, and replacements that are not on record.'
        : 'Look for positions that are out of service or idle, for another part number in use, and for months missing in monthly-use.csv.',
  };
}
