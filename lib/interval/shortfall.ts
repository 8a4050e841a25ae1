/** What does not fit into the crew hours, counted one way wherever it is said. */
import { count, listed } from '../numeric/words.js';
import type { ShutdownTask } from './types.js';

/** Shutdowns named one by one. */
const MOST_NAMED = 4;

/** "26 in Autumn 2026 and 15 in Spring 2028, 7 of them at both"; null where everything fits. */
export function shortfallWords(tasks: readonly ShutdownTask[]): string | null {
  const short = tasks.filter(({ fits }) => !fits);
  if (short.length === 0) return null;
  const byStop = countsOf(short, ({ start, shutdown }) => JSON.stringify([start, shutdown]));
  const words = [...byStop].map(([key, number]) => {
    const [, shutdown] = JSON.parse(key) as [string, string];
    return `${number} in ${shutdown}`;
  });
  const again = [...countsOf(short, ({ position }) => position).values()].filter((times) => times > 1).length;
  const more = again === 0 ? '' : `, ${againWords(again, byStop.size)}`;
  return `${words.length > MOST_NAMED ? manyWords(words, short.length, byStop.size) : listed(words)}${more}`;
}

function manyWords(words: readonly string[], all: number, stops: number): string {
  return `${count(all, 'replacement')} over ${stops} shutdowns, first ${words[0] ?? ''}`;
}

function againWords(positions: number, stops: number): string {
  const are = `${count(positions, 'position')} among them`;
  return stops === 2 ? `${are} at both` : `${are} more than once`;
}

function countsOf<T>(list: readonly T[], key: (each: T) => string): Map<string, number> {
  const counts = new Map<string, number>();
  for (const each of list) counts.set(key(each), (counts.get(key(each)) ?? 0) + 1);
  return counts;
}
