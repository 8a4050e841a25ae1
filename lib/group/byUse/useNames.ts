/** Names of the classes of a group: "EPDM DN 25, 10 to 14 steam cycles a week". */
import { amount } from '../../numeric/words.js';
import type { GroupUse } from '../types.js';

const DAYS_PER_WEEK = 7;
/** More digits than this tell no two positions apart. */
const MOST_DIGITS = 6;

/** One name a class, no two alike; "use not known" where there is none. Of a group that is one class: its own name. */
export function useNames(group: string, uses: readonly (GroupUse | undefined)[]): string[] {
  if (uses.length === 1) return [group];
  for (let digits = 2; digits < MOST_DIGITS; digits++) {
    const names = namesAt(group, uses, digits);
    if (new Set(names).size === names.length) return names;
  }
  return namesAt(group, uses, MOST_DIGITS);
}

function namesAt(group: string, uses: readonly (GroupUse | undefined)[], digits: number): string[] {
  return uses.map((use) => `${group}, ${use === undefined ? 'use not known' : usedWords(use, digits)}`);
}

/** "10 to 14 steam cycles a week", "0.5 to 2 strokes a day". */
export function usedWords({ counter, rates: [least, most] }: GroupUse, digits = 2): string {
  const [times, per] = counter === 'strokes' ? [1, 'a day'] : [DAYS_PER_WEEK, 'a week'];
  const [low, high] = [amount(times * least, digits), amount(times * most, digits)];
  return `${low === high ? low : `${low} to ${high}`} ${counter} ${per}`;
}
