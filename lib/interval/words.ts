/** Intervals, shares and counts in plain words. */
import { DAYS_PER_MONTH } from '../numeric/day.js';

/** "9 months", "7.5 months", "12 days". */
export function ageWords(days: number): string {
  if (days < DAYS_PER_MONTH - 1) return counted(Math.round(days), 'day', 'days');
  const months = monthCount(days);
  return `${months} ${months === 1 ? 'month' : 'months'}`;
}

/** Months of an age, to half a month under two years and whole above. */
export function monthCount(days: number): number {
  const months = days / DAYS_PER_MONTH;
  if (Math.abs(months - Math.round(months)) < 0.1 || months >= 24) return Math.round(months);
  return Math.round(months * 2) / 2;
}

/** A share as a percentage; what is not quite 0 or 1 is never shown as 0 % or 100 %. */
export function percent(share: number): string {
  if (share > 0 && share < 0.005) return 'under 1 %';
  if (share < 1 && share >= 0.995) return 'over 99 %';
  return `${Math.round(share * 100)} %`;
}

/** A chance that was estimated by draws: none of them going the other way is not certainty. */
export function chanceWords(chance: number): string {
  return percent(Math.min(Math.max(chance, 0.001), 0.999));
}

/** "1 leak", "12 leaks", "no leak" with `none`. */
export function counted(count: number, one: string, many: string, none?: string): string {
  if (count === 0 && none !== undefined) return none;
  const rounded = Math.round(count * 10) / 10;
  return `${rounded} ${rounded === 1 ? one : many}`;
}

/** An amount to three significant digits with thin groups. */
export function amountWords(amount: number): string {
  const rounded = amount === 0 ? 0 : Number(amount.toPrecision(3));
  const text = Math.abs(rounded) >= 100 ? Math.round(rounded).toString() : String(rounded);
  return text.replace(/\B(?=(\d{3})+(?!\d))/g, '\u00a0');
}
