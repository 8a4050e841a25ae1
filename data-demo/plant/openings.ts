/** Openings for other work: jobs on a line, each of several valves within a few days. */
import { dayFromText } from '../../lib/numeric/day.js';
import type { RandomStream } from '../../lib/numeric/random.js';
import { DATA_UNTIL, JOB_DAYS, JOB_SIZES, OPENINGS_PER_YEAR } from './design.js';
import { pick, shuffled } from './draws.js';
import type { TruePosition } from './types.js';
import { FIRST_YEAR } from './windows.js';

/** Days on which each position is opened, in order, by index of the position. Jobs of a line come by pure chance. */
export function otherWork(random: RandomStream, positions: readonly TruePosition[]): number[][] {
  const days: number[][] = positions.map(() => []);
  const lines = [...new Set(positions.map(({ line }) => line))];
  for (const line of lines) {
    const own = positions.filter((position) => position.line === line);
    jobsOfLine(random.fork(line), own, days);
  }
  for (const list of days) list.sort((a, b) => a - b);
  return days;
}

function jobsOfLine(random: RandomStream, own: readonly TruePosition[], days: number[][]): void {
  const meanSize = JOB_SIZES.reduce((sum, size) => sum + size, 0) / JOB_SIZES.length;
  const daysBetween = (365.25 * meanSize) / (OPENINGS_PER_YEAR * own.length);
  const until = dayFromText(DATA_UNTIL) as number;
  let day = dayFromText(`${FIRST_YEAR}-01-01`) as number;
  for (;;) {
    day += -Math.log(random.uniform()) * daysBetween;
    if (day > until) return;
    for (const position of shuffled(random, own).slice(0, pick(random, JOB_SIZES))) {
      days[position.index]?.push(Math.floor(day) + random.below(JOB_DAYS));
    }
  }
}
