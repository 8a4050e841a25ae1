/** What is said of what stands out, as data: a code, a text, and what to do. */
import type { Warning } from '../../findings.js';
import { amount, dateWords, listed } from '../../numeric/words.js';
import type { StandOut, StandOutKind, StandOutSearch } from './types.js';

const MOST_NAMED = 6;

export function standOutWarnings(found: readonly StandOut[], searches: readonly StandOutSearch[]): Warning[] {
  return [...found.flatMap(cannotTell), ...tooMany(searches)];
}

/** "lot EP25-0027", "the week of 6 May 2024". */
export function standOutName(kind: StandOutKind | 'line', name: string): string {
  return kind === 'week' ? `the week of ${dateWords(name)}` : `${kind} ${name}`;
}

function cannotTell({ kind, name, sameAs }: StandOut): Warning[] {
  if (sameAs.length === 0) return [];
  const others = listed(
    sameAs.map((other) => standOutName(other.kind, other.name)),
    MOST_NAMED,
  );
  const own = standOutName(kind, name);
  return [
    {
      code: 'stand-out-not-apart',
      text: `Nearly all diaphragms of ${own} also belong to ${others}: the records cannot tell which of them it is.`,
      todo: 'Look at all of them before acting on one.',
    },
  ];
}

/** So many found that the law of the groups itself may be in question. */
function tooMany(searches: readonly StandOutSearch[]): Warning[] {
  return searches
    .filter(({ tested, found }) => found > 10 && found > tested / 5)
    .map(({ kind, tested, found }) => ({
      code: 'stand-outs-many',
      text: `${amount(found, 9)} of ${amount(tested, 9)} ${kind}s stand out: more than a fifth is no longer an exception.`,
      todo: 'Ask whether these diaphragms belong in one group: duty, size and material may leave out what matters.',
    }));
}
