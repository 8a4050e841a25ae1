/** The choice of clock in words. */

import type { Bounds } from '../../life/sampleTypes.js';
import { amount, count, listed, percent } from '../../numeric/words.js';
import { LEAST_LEAD } from './pickClock.js';
import type { ClockChoice, ClockLaw } from './types.js';
import { DAYS } from './types.js';

/** All of it in some short sentences. */
export function clockWords(choice: Omit<ClockChoice, 'words'>): string {
  const { onDays, leftOut } = choice;
  const stay =
    onDays.rows.length === 0
      ? []
      : [
          `${count(onDays.rows.length, 'life', 'lives')} of unknown exposure ${onDays.rows.length === 1 ? 'stays' : 'stay'} in days: ${listed(onDays.names, 5)}.`,
        ];
  return [...verdict(choice), ...lawWords(choice.clock, choice.law), ...stay, ...leftOut].join(' ');
}

function verdict({
  verdict: told,
  best,
  rival,
  lead,
  agreement,
  reasons,
  draws,
}: Omit<ClockChoice, 'words'>): string[] {
  if (told === 'told') {
    const ahead = `the clock of ${rival} is ${amount(lead ?? 0, 3)} behind in AIC, where ${LEAST_LEAD} counts as a difference`;
    return [
      `These lives are best told by ${best}: ${ahead}, and ${percent(agreement)} of ${draws} resampled plants choose the same.`,
    ];
  }
  const todo =
    'Intervals stay in days. Positions of one kind that are used at different rates tell clocks apart.';
  return [
    `The data cannot tell which clock wears these diaphragms (${best} fit best): ${reasons.join(' ')}`,
    todo,
  ];
}

function lawWords(clock: string, law: ClockLaw): string[] {
  const { weight, level } = law;
  const range = ({ estimate, low, high }: Bounds, unit: string): string =>
    `${amount(estimate)} ${unit} (${percent(level)} range ${amount(low)} to ${amount(high)})`;
  const unit = weight === null ? clock : `${DAYS} so counted`;
  const worth =
    weight === null
      ? []
      : [`One count of ${clock.replace(`${DAYS} and `, '')} wears as much as ${range(weight, DAYS)}.`];
  return [...worth, `Half have failed by ${range(law.half, unit)}, one in ten by ${range(law.tenth, unit)}.`];
}
