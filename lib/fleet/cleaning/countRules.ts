/** How often each cleaning rule found something, with examples. */
import type { Done, RuleCount, RuleExample } from '../../findings.js';
import { CLEANING_RULES, type Cleaning, isOn } from './rules.js';

/** Examples that are kept of each kind. */
export const MOST_EXAMPLES = 3;

/** What one code found in one file. */
export interface CodeTally {
  code: string;
  done: Done;
  times: number;
  examples: RuleExample[];
}

/** The table of rules: counts are sums over the codes and files. */
export function countRules(tallies: readonly CodeTally[], cleaning: Cleaning): RuleCount[] {
  return CLEANING_RULES.map(({ name, codes }) => {
    const of = tallies.filter(({ code }) => (codes as readonly string[]).includes(code));
    const total = (done: Done): number =>
      of.filter((tally) => tally.done === done).reduce((sum, { times }) => sum + times, 0);
    const counts = { mended: total('mended'), setAside: total('set aside'), asked: total('used') };
    return {
      rule: name,
      on: isOn(cleaning, name),
      found: counts.mended + counts.setAside + counts.asked,
      ...counts,
      examples: of.flatMap(({ examples }) => examples).slice(0, MOST_EXAMPLES),
    };
  });
}
