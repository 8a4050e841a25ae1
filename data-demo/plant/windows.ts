/** The calendar of the plant: two shutdowns a year for all lines, and line stops in the quarters between for some. */
import { dayFromText } from '../../lib/numeric/day.js';
import type { RandomStream } from '../../lib/numeric/random.js';
import { DATA_UNTIL, DUTIES } from './design.js';

export const FIRST_YEAR = 2007;
export const LAST_YEAR = 2028;
/** Days that the plant's own shutdowns and the line stops last. */
export const SHUTDOWN_DAYS = 7;
export const LINE_STOP_DAYS = 2;

export interface Window {
  start: number;
  /** Whole plant, or the duties that stop every quarter. */
  wholePlant: boolean;
}

/** Every window of the years simulated, past and future, in order. */
export function windows(random: RandomStream): Window[] {
  const found: Window[] = [];
  for (let year = FIRST_YEAR; year <= LAST_YEAR; year++) {
    for (const [month, wholePlant] of [
      ['01', false],
      ['04', true],
      ['07', false],
      ['10', true],
    ] as const) {
      const first = dayFromText(`${year}-${month}-06`) as number;
      found.push({ start: first + random.below(8), wholePlant });
    }
  }
  return found;
}

/** Windows to come within the next 24 months, as rows of shutdowns.csv. */
export function futureWindows(all: readonly Window[]): Window[] {
  const dataUntil = dayFromText(DATA_UNTIL) as number;
  return all.filter(({ start }) => start > dataUntil && start <= dataUntil + 731);
}

/** Lines of the duties that stop every quarter, one list per duty. */
export function quarterlyLines(): { duty: string; lines: string[] }[] {
  return DUTIES.filter((duty) => duty.quarterly).map((duty) => ({ duty: duty.name, lines: linesOf(duty) }));
}

/** Names of the lines of a duty: A1, A2 ... */
export function linesOf({ letter, lines }: { letter: string; lines: number }): string[] {
  return Array.from({ length: lines }, (_, i) => `${letter}${i + 1}`);
}
