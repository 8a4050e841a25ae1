/** What is said of one that stands out, and what to do about it. */
import { EARLY_DAYS } from '../../group/history.js';
import type { StandOut } from '../../group/standOut/types.js';
import { standOutName } from '../../group/standOut/warnings.js';
import { amount, count, range } from '../../numeric/words.js';
import { isEarlyOnly } from './expectations.js';
import type { LotRecall } from './types.js';

export function findingText(one: StandOut, recorded: number): string {
  const { kind, name, tested, leaks, expected, ratio, excess } = one;
  const what = tested === 'all leaks' ? count(leaks, 'leak') : `${count(leaks, 'leak')} before 60 days`;
  const which = { 'early leaks': 'early leaks', 'wear-out': 'wear-out', both: 'early leaks and wear-out' }[
    excess
  ];
  const note = recorded < 0.995 ? ' on record with a reason' : '';
  const times = `${amount(ratio.estimate, 2)} times as often as others of its groups once chance is allowed for (80 % range ${range(ratio.low, ratio.high, (x) => amount(x, 2))})`;
  const text = `${standOutName(kind, name)}: ${what}${note} where ${amount(expected, 2)} were expected, ${times}. The excess is ${which}.`;
  return text.charAt(0).toUpperCase() + text.slice(1);
}

export function todoText(one: StandOut, recall: LotRecall | null): string {
  const { kind, excess } = one;
  switch (kind) {
    case 'position':
      return excess === 'early leaks'
        ? 'At the next stop look at how it is fitted there: room to work, seat, bolts, stroke limiter.'
        : 'At the next stop look for what wears it: torque, seat, heat, water hammer, strokes, material. Until it is mended, replace it more often than its group.';
    case 'fitter':
      return 'Look at the method, not at the person: go through a fitting together (even tightening, closed to centre, re-tightened before start-up and after the first steam).';
    case 'lot':
      return `${shelfTodo(recall)}Ask the maker for the batch record. ${fittedTodo(recall, one)}`;
    case 'week':
      return `Find out what was special in that week: who fitted, tools, time, parts. ${fittedTodo(recall, one)}`;
  }
}

function shelfTodo(recall: LotRecall | null): string {
  const pieces = recall?.onShelf ?? 0;
  return pieces === 0 ? '' : `Lock away the ${amount(pieces, 9)} on the shelf. `;
}

function fittedTodo(recall: LotRecall | null, one: StandOut): string {
  const fitted = recall?.fitted ?? [];
  if (fitted.length === 0) return 'None of its diaphragms is fitted any more.';
  const young = fitted.filter(({ age }) => age === null || age < EARLY_DAYS).length;
  if (!isEarlyOnly(one))
    return `Replace the ${count(fitted.length, 'diaphragm')} still fitted at the next stop of each line.`;
  const old = `Those fitted for more than ${EARLY_DAYS} days are past the age at which bad fittings leak, and may stay.`;
  return young === 0
    ? old
    : `Re-tighten or replace the ${amount(young, 9)} fitted for less than ${EARLY_DAYS} days. ${old}`;
}
