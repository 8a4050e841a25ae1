/** How many events a system has had by each age, on average, without a model. */
import { UsageError } from '../errors.js';
import { at, floatAt } from '../numeric/columns.js';
import { normalQuantile } from '../numeric/special.js';
import { type EventColumns, type RecurrentEvents, recurrentEvents } from './recurrentEvents.js';

/** As for lives: estimates without a model begin where so many are watched (METHODS 1.2). */
const FEWEST_AT_RISK = 5;

export interface MeanCumulativeOptions {
  /** Two-sided, 0.9 by default. */
  level?: number;
  /** Bounds on the log axis by default, so that they stay above 0; 'plain' ones are symmetric and may fall below it. */
  bounds?: 'log' | 'plain';
  /** The estimate begins at the smallest start of a watch with so many systems watched just after it; 5 by default. */
  fewestAtRisk?: number;
}

/** Columns by age at event; the mean holds from that age to the next. */
export interface MeanCumulative {
  age: Float64Array;
  /** Mean number (or cost) of events per system from `start` up to and with that age. */
  mean: Float64Array;
  low: Float64Array;
  high: Float64Array;
  standardError: Float64Array;
  /** Systems watched at that age. */
  atRisk: Float64Array;
  /** Number (or cost) of events at that age. */
  events: Float64Array;
  /** Events count from this age on: 0 unless watching began late. */
  start: number;
  /** Largest age watched: beyond it nothing is known. */
  end: number;
  level: number;
}

/**
 * Mean cumulative number of events per system (Nelson 1988) with the robust variance of Lawless & Nadeau (1995), which asks for
 * independent systems but for no law of events within one (both from memory). Counts or costs, ties, late starts and gaps of
 * watching are taken; watching must not end because of the events. Where few systems are left the variance is too small.
 * @throws UsageError as `recurrentEvents`, and for a level not between 0 and 1
 */
export function meanCumulative(columns: EventColumns, options: MeanCumulativeOptions = {}): MeanCumulative {
  const { level = 0.9, bounds = 'log', fewestAtRisk = FEWEST_AT_RISK } = options;
  if (!(level > 0 && level < 1)) {
    throw new UsageError('meanCumulative', 'level must be between 0 and 1.', level);
  }
  const events = recurrentEvents(columns, 'meanCumulative');
  const start = startAge(events, fewestAtRisk);
  const sums = accumulate(events, start);
  const z = normalQuantile(0.5 + level / 2);
  const limit = (sign: number): Float64Array =>
    sums.mean.map((mean, k) => {
      const width = sign * z * floatAt(sums.standardError, k);
      return bounds === 'plain' ? mean + width : mean * Math.exp(width / mean);
    });
  const end = events.watch.end.reduce((most, age) => Math.max(most, age), 0);
  return { ...sums, low: limit(-1), high: limit(1), start, end, level };
}

/** Smallest start of a watch with enough systems watched just after it; the smallest of all where there never are. */
function startAge({ watch }: RecurrentEvents, fewest: number): number {
  const starts = watch.start.slice().sort();
  const ends = watch.end.slice().sort();
  let ended = 0;
  for (let k = 0; k < starts.length; k++) {
    const now = floatAt(starts, k);
    if (k + 1 < starts.length && floatAt(starts, k + 1) === now) continue;
    while (ended < ends.length && floatAt(ends, ended) <= now) ended++;
    if (k + 1 - ended >= fewest) return now;
  }
  return floatAt(starts, 0);
}

/**
 * Variance of the mean: sum over systems of a², where a adds up [events of the system - events per system] / at risk while the
 * system is watched. Instead of moving every a at every age, what all the watched ones lose is kept in one number `lost`, and
 * sums over the watched follow: cost goes with the number of events and watches, not with their product.
 */
function accumulate(
  { systems, watch, event }: RecurrentEvents,
  start: number,
): Pick<MeanCumulative, 'age' | 'mean' | 'standardError' | 'atRisk' | 'events'> {
  const walk = { a: new Float64Array(systems), lost: 0, n: 0, sum: 0, squares: 0 };
  const starts = Uint32Array.from(watch.start.keys()).sort(
    (i, j) => floatAt(watch.start, i) - floatAt(watch.start, j),
  );
  const ends = Uint32Array.from(watch.end.keys()).sort(
    (i, j) => floatAt(watch.end, i) - floatAt(watch.end, j),
  );
  const out = {
    age: [] as number[],
    mean: [] as number[],
    standardError: [] as number[],
    atRisk: [] as number[],
    events: [] as number[],
  };
  let [nextStart, nextEnd, mean] = [0, 0, 0];
  for (let k = 0; k < event.age.length; ) {
    const now = floatAt(event.age, k);
    // A watch holds ages above its start up to its end, so one may end and the next begin at one age: ends first.
    for (; nextEnd < ends.length && floatAt(watch.end, at(ends, nextEnd)) < now; nextEnd++) {
      const i = at(ends, nextEnd);
      for (
        ;
        nextStart < starts.length && floatAt(watch.start, at(starts, nextStart)) < floatAt(watch.end, i);
        nextStart++
      ) {
        enter(walk, at(watch.system, at(starts, nextStart)));
      }
      leave(walk, at(watch.system, i));
    }
    for (; nextStart < starts.length && floatAt(watch.start, at(starts, nextStart)) < now; nextStart++) {
      enter(walk, at(watch.system, at(starts, nextStart)));
    }
    let total = 0;
    for (; k < event.age.length && floatAt(event.age, k) === now; k++) {
      if (now <= start) continue;
      gain(walk, at(event.system, k), floatAt(event.count, k) / walk.n);
      total += floatAt(event.count, k);
    }
    if (now <= start) continue;
    lose(walk, total / (walk.n * walk.n));
    mean += total / walk.n;
    out.age.push(now);
    out.mean.push(mean);
    out.standardError.push(Math.sqrt(Math.max(walk.squares, 0)));
    out.atRisk.push(walk.n);
    out.events.push(total);
  }
  return {
    age: Float64Array.from(out.age),
    mean: Float64Array.from(out.mean),
    standardError: Float64Array.from(out.standardError),
    atRisk: Float64Array.from(out.atRisk),
    events: Float64Array.from(out.events),
  };
}

/** `a` of a watched system is a[i] - lost; `sum` runs over the watched, `squares` over all. */
interface Walk {
  a: Float64Array;
  lost: number;
  n: number;
  sum: number;
  squares: number;
}

function enter(walk: Walk, i: number): void {
  walk.sum += floatAt(walk.a, i);
  walk.a[i] = floatAt(walk.a, i) + walk.lost;
  walk.n++;
}

function leave(walk: Walk, i: number): void {
  walk.a[i] = floatAt(walk.a, i) - walk.lost;
  walk.sum -= floatAt(walk.a, i);
  walk.n--;
}

function gain(walk: Walk, i: number, by: number): void {
  const before = floatAt(walk.a, i) - walk.lost;
  walk.squares += by * (2 * before + by);
  walk.sum += by;
  walk.a[i] = floatAt(walk.a, i) + by;
}

function lose(walk: Walk, by: number): void {
  walk.squares += by * (walk.n * by - 2 * walk.sum);
  walk.sum -= walk.n * by;
  walk.lost += by;
}
