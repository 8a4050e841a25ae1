/** How often a line leaks against the others, in a sentence, and what to do. */
import { amount, count, range } from '../../numeric/words.js';
import type { LineLeaks, Ranged } from './types.js';

type Facts = Omit<LineLeaks, 'text' | 'todo'>;

export function lineWords(line: Facts): Pick<LineLeaks, 'text' | 'todo'> {
  return { text: textOf(line), todo: todoOf(line) };
}

function textOf(line: Facts): string {
  const { perYear, leaks, positions, years, times, differs, expected } = line;
  if (perYear === null) return 'No position of it was watched, so nothing can be said.';
  const seen = `${count(leaks, 'leak')} at ${count(positions, 'position')} in ${amount(years, 3)} position-years`;
  if (differs === 'cannot tell') return `${seen}: there is nothing to compare it with.`;
  const chance = `${amount(expected ?? 0, 2)} expected if it were like the others`;
  if (differs === 'no') return `${seen}, ${chance}: no more of a difference than chance brings.`;
  const size =
    times === null
      ? 'while no other line leaked'
      : times.estimate === 0
        ? `at most ${amount(times.high ?? 0, 2)} times as often as the others`
        : `${timesWords(times)} as often as the others`;
  return `${seen}, ${chance}: it leaks ${differs} often, ${size}.`;
}

/** "2.1 times (90 % range 1.5 to 3)". */
export function timesWords({ estimate, low, high }: Ranged): string {
  const bounds = high === null ? `${amount(low, 2)} or more` : range(low, high, (each) => amount(each, 2));
  return `${amount(estimate, 2)} times (90 % range ${bounds})`;
}

function todoOf({ differs, withoutReason, leaks }: Facts): string {
  const unknown =
    withoutReason > 0.2 * Math.max(leaks, 2)
      ? ` About ${amount(withoutReason, 2)} of its removals without a reason were leaks too: ask for these reasons.`
      : '';
  return `${WHAT_TO_DO[differs]}${unknown}`.trim();
}

const WHAT_TO_DO: Record<LineLeaks['differs'], string> = {
  more: 'Look for what it does unlike the others: materials and intervals first, then cleaning, heat, torque and pressure shocks.',
  less: 'Look at what it does unlike the others: the others may learn from it, or leaks of it are not recorded.',
  no: '',
  'cannot tell': '',
};
