/** Lives of groups with the day each was fitted and its number in its position: what renewal is judged on. */
import type { Fleet } from '../../fleet/types.js';
import { at, floatAt, wholeAt } from '../../numeric/columns.js';
import type { FittedLives } from '../../recurrence/renewalVerdict.js';
import { EARLY_DAYS } from '../history.js';
import type { FollowedLives } from '../standOut/followed.js';

/** A leak known to the day counts at the middle of it: beside ages of 60 days and more its width says nothing. */
const A_DAY = 1;

export interface WearOutLives extends FittedLives {
  lifeNumber: Float64Array;
  group: Float64Array;
  leaks: number;
  positions: number;
}

/**
 * Followed lives by group, watched from 60 days on, so that faulty fittings do not speak (METHODS 3.1). Removals without a reason
 * count as sound then. Rows stay in order.
 */
export function wearOutLives(fleet: Fleet, followed: FollowedLives, groups: number): WearOutLives[] {
  const numbers = lifeNumbers(fleet);
  const rows: number[][] = Array.from({ length: groups }, () => []);
  for (let i = 0; i < followed.length; i++) {
    if (floatAt(followed.upper, i) > entryOf(followed, i)) rows[wholeAt(followed.group, i)]?.push(i);
  }
  return rows.map((own) => livesOf(fleet, followed, numbers, own));
}

/** Lives of several groups in one table. */
export function joined(parts: readonly WearOutLives[]): WearOutLives {
  const all = <Row>(column: (part: WearOutLives) => Iterable<Row>): Row[] =>
    parts.flatMap((part) => [...column(part)]);
  const cluster = Int32Array.from(all(({ sample }) => sample.cluster));
  return {
    sample: {
      lower: Float64Array.from(all(({ sample }) => sample.lower)),
      upper: Float64Array.from(all(({ sample }) => sample.upper)),
      entry: Float64Array.from(all(({ sample }) => sample.entry)),
      count: Float64Array.from(all(({ sample }) => sample.count)),
      cluster,
    },
    fitted: all(({ fitted }) => Array.from(fitted)),
    lifeNumber: Float64Array.from(all(({ lifeNumber }) => lifeNumber)),
    group: Float64Array.from(all(({ group }) => group)),
    leaks: parts.reduce((total, { leaks }) => total + leaks, 0),
    positions: new Set(cluster).size,
  };
}

function livesOf(
  fleet: Fleet,
  followed: FollowedLives,
  numbers: Float64Array,
  rows: readonly number[],
): WearOutLives {
  const column = (value: (i: number) => number): Float64Array => Float64Array.from(rows, value);
  const leaked = (i: number): boolean => at(followed.leak, i) === 1;
  const lifeOf = (i: number): number => wholeAt(followed.life, i);
  const cluster = Int32Array.from(rows, (i) => wholeAt(fleet.lives.position, lifeOf(i)));
  return {
    sample: {
      lower: column((i) => (leaked(i) ? ageAtLeak(followed, i).lower : floatAt(followed.lower, i))),
      upper: column((i) => (leaked(i) ? ageAtLeak(followed, i).upper : Infinity)),
      entry: column((i) => entryOf(followed, i)),
      count: new Float64Array(rows.length).fill(1),
      cluster,
    },
    fitted: column((i) => floatAt(fleet.lives.fitted, lifeOf(i))),
    lifeNumber: column((i) => floatAt(numbers, lifeOf(i))),
    group: column((i) => wholeAt(followed.group, i)),
    leaks: rows.filter(leaked).length,
    positions: new Set(cluster).size,
  };
}

function entryOf({ entry }: FollowedLives, i: number): number {
  return Math.max(floatAt(entry, i), EARLY_DAYS);
}

function ageAtLeak(followed: FollowedLives, i: number): { lower: number; upper: number } {
  const [lower, upper] = [floatAt(followed.lower, i), floatAt(followed.upper, i)];
  const entry = entryOf(followed, i);
  if (upper - lower > A_DAY) return { lower: Math.max(lower, entry), upper };
  const middle = Math.max((lower + upper) / 2, (entry + upper) / 2);
  return { lower: middle, upper: middle };
}

/** Number of each life in its position on record, from 1, those without a day of fitting placed by their removal. */
function lifeNumbers({ lives, positions }: Fleet): Float64Array {
  const whens = Float64Array.from(lives.fitted, (fitted, i) =>
    Number.isNaN(fitted) ? floatAt(lives.removed, i) - 0.5 : fitted,
  );
  const order = Uint32Array.from(whens.keys()).sort((i, j) => floatAt(whens, i) - floatAt(whens, j) || i - j);
  const seen = new Float64Array(positions.length);
  const numbers = new Float64Array(lives.length);
  for (const i of order) {
    const p = wholeAt(lives.position, i);
    seen[p] = floatAt(seen, p) + 1;
    numbers[i] = floatAt(seen, p);
  }
  return numbers;
}
