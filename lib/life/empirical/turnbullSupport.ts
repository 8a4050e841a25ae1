/** Where masses can lie: the innermost intervals, and which of them each life may have failed in. */
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import { countBelow, countUpTo } from '../../numeric/sorted.js';
import type { LifeSample } from '../sampleTypes.js';

export interface Support {
  /** Ends of the intervals (from, to], ascending; from = to for an exact age. */
  from: Float64Array;
  to: Float64Array;
  /** Life i may have failed in intervals first[i] to last[i] - 1. */
  first: Int32Array;
  last: Int32Array;
  /** Intervals below seen[i] end before the entry of life i. */
  seen: Int32Array;
}

/** Order of ends at one age: an exact age begins, intervals end, intervals begin. */
const EXACT_BEGINS = 0;
const ENDS = 1;
const BEGINS = 2;

interface End {
  age: number;
  order: number;
}

/**
 * Precondition: lower <= upper, upper > entry. An interval is innermost where a beginning is followed at once by an end.
 * An entry counts as an end, since mass may lie before it.
 */
export function innermost(rows: LifeSample): Support {
  const ends = endsOf(rows);
  const from: number[] = [];
  const to: number[] = [];
  for (let k = 1; k < ends.length; k++) {
    const before = itemAt(ends, k - 1);
    const now = itemAt(ends, k);
    if (before.order === ENDS || now.order !== ENDS) continue;
    from.push(before.age);
    to.push(now.age);
  }
  const size = to.length;
  const rowsCount = rows.lower.length;
  const first = new Int32Array(rowsCount);
  const last = new Int32Array(rowsCount);
  const seen = new Int32Array(rowsCount);
  for (let i = 0; i < rowsCount; i++) {
    const lower = Math.max(floatAt(rows.lower, i), floatAt(rows.entry, i));
    const upper = floatAt(rows.upper, i);
    const exact = upper === floatAt(rows.lower, i);
    // An interval that ends at the age of an exact failure holds it.
    first[i] = exact ? countBelow(to, lower) : countUpTo(to, lower);
    last[i] = countUpTo(to, upper);
    seen[i] = countUpTo(to, floatAt(rows.entry, i));
    if (exact) {
      // The exact age itself is an interval of its own, the last that ends there.
      last[i] = Math.max(at(last, i), at(first, i) + 1);
    }
  }
  return {
    from: Float64Array.from(from),
    to: Float64Array.from(to),
    first,
    last: last.map((x) => Math.min(x, size)),
    seen,
  };
}

function endsOf(rows: LifeSample): End[] {
  const ends: End[] = [];
  for (let i = 0; i < rows.lower.length; i++) {
    const upper = floatAt(rows.upper, i);
    const entry = floatAt(rows.entry, i);
    const exact = upper === floatAt(rows.lower, i);
    ends.push({
      age: exact ? upper : Math.max(floatAt(rows.lower, i), entry),
      order: exact ? EXACT_BEGINS : BEGINS,
    });
    ends.push({ age: upper, order: ENDS });
    if (entry > 0) ends.push({ age: entry, order: ENDS });
  }
  return ends.sort((x, y) => x.age - y.age || x.order - y.order);
}
