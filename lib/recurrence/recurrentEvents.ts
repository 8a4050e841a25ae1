/** The door for events that come again and again: checks columns once, so that every estimator behind it may trust them. */
import { UsageError } from '../errors.js';
import { at, floatAt } from '../numeric/columns.js';

/** Watches in one table and events in another. Ages in any one unit, counted from when a system was new. */
export interface WatchColumns {
  /** Which system each spell of watching belongs to; a system may have several spells. */
  system: ArrayLike<number | string>;
  /** Age at which watching began; 0 by default. */
  start?: ArrayLike<number>;
  /** Age at which watching ended. */
  end: ArrayLike<number>;
  eventSystem: ArrayLike<number | string>;
  eventAge: ArrayLike<number>;
  /** How many events, or what the event cost; 1 by default. */
  eventCount?: ArrayLike<number>;
}

/**
 * One table, a row per piece of watching: `event` is what happened at `stop`, 0 for nothing. Without `start` every system was
 * watched from age 0 to its largest `stop`, and rows are events (or 0 for the end of watching).
 */
export interface EventRows {
  id: ArrayLike<number | string>;
  start?: ArrayLike<number>;
  stop: ArrayLike<number>;
  event: ArrayLike<number | boolean>;
}

export type EventColumns = WatchColumns | EventRows;

/** Checked events: system codes from 0, spells (start, end], events sorted by age. */
export interface RecurrentEvents {
  systems: number;
  watch: { system: Int32Array; start: Float64Array; end: Float64Array };
  event: { system: Int32Array; age: Float64Array; count: Float64Array };
}

/**
 * @throws UsageError naming the row (from 1) for ages that are not finite numbers or negative, a watch that ends at or before its
 * start, two watches of one system that overlap, an event of an unknown system or outside every watch of its system (the start
 * does not belong to a watch, the end does), a negative count, unequal lengths and a table without a watch
 */
export function recurrentEvents(columns: EventColumns, where: string): RecurrentEvents {
  const { watch, event } = 'eventAge' in columns ? fromWatches(columns, where) : fromRows(columns, where);
  if (watch.system.length === 0) throw new UsageError(where, 'at least one system must have been watched.');
  const codes = new Map<number | string, number>();
  const watchSystem = Int32Array.from(watch.system, (name) => {
    const code = codes.get(name) ?? codes.size;
    codes.set(name, code);
    return code;
  });
  requireWatches(where, watchSystem, watch.start, watch.end);
  const kept = [...event.age.keys()].filter((k) => floatAt(event.count, k) > 0);
  kept.sort((i, j) => floatAt(event.age, i) - floatAt(event.age, j));
  const eventSystem = Int32Array.from(event.system, (name, k) => codes.get(name) ?? unknown(where, name, k));
  requireInside(where, watchSystem, watch, eventSystem, event.age);
  return {
    systems: codes.size,
    watch: { system: watchSystem, start: watch.start, end: watch.end },
    event: {
      system: Int32Array.from(kept, (k) => at(eventSystem, k)),
      age: Float64Array.from(kept, (k) => floatAt(event.age, k)),
      count: Float64Array.from(kept, (k) => floatAt(event.count, k)),
    },
  };
}

interface Read {
  watch: { system: (number | string)[]; start: Float64Array; end: Float64Array };
  event: { system: (number | string)[]; age: Float64Array; count: Float64Array };
}

function fromWatches(columns: WatchColumns, where: string): Read {
  const rows = columns.system.length;
  const events = columns.eventSystem.length;
  const { start, eventCount } = columns;
  return {
    watch: {
      system: names(where, 'system', columns.system),
      start: start === undefined ? new Float64Array(rows) : numbers(where, 'start', start, rows),
      end: numbers(where, 'end', columns.end, rows),
    },
    event: {
      system: names(where, 'eventSystem', columns.eventSystem),
      age: numbers(where, 'eventAge', columns.eventAge, events),
      count:
        eventCount === undefined
          ? new Float64Array(events).fill(1)
          : numbers(where, 'eventCount', eventCount, events),
    },
  };
}

function fromRows(columns: EventRows, where: string): Read {
  const id = names(where, 'id', columns.id);
  const stop = numbers(where, 'stop', columns.stop, id.length);
  const count = numbers(where, 'event', Array.from(columns.event, Number), id.length);
  const event = { system: id, age: stop, count };
  if (columns.start !== undefined) {
    const start = numbers(where, 'start', columns.start, id.length);
    return { watch: { system: id, start, end: stop }, event };
  }
  const last = new Map<number | string, number>();
  id.forEach((name, i) => {
    last.set(name, Math.max(last.get(name) ?? 0, floatAt(stop, i)));
  });
  const end = Float64Array.from(last.values());
  return { watch: { system: [...last.keys()], start: new Float64Array(end.length), end }, event };
}

function names(where: string, name: string, column: ArrayLike<number | string>): (number | string)[] {
  return Array.from(column, (value, i) => {
    const good = typeof value === 'string' ? value !== '' : Number.isFinite(value);
    if (good) return value;
    throw new UsageError(where, `row ${i + 1}: ${name} must be a number or a text.`, value);
  });
}

function numbers(where: string, name: string, column: ArrayLike<number>, rows: number): Float64Array {
  if (column.length !== rows) {
    throw new UsageError(where, `column ${name} must have ${rows} rows like its table.`, column.length);
  }
  return Float64Array.from(column, (value: unknown, i) => {
    if (typeof value === 'number' && value >= 0 && value < Infinity) return value;
    throw new UsageError(where, `row ${i + 1}: ${name} must be a finite number at or above 0.`, value);
  });
}

function unknown(where: string, name: number | string, k: number): never {
  throw new UsageError(where, `event ${k + 1}: its system was never watched.`, name);
}

function requireWatches(where: string, system: Int32Array, start: Float64Array, end: Float64Array): void {
  for (let i = 0; i < system.length; i++) {
    if (floatAt(end, i) > floatAt(start, i)) continue;
    throw new UsageError(where, `row ${i + 1}: watching must end after it began.`, floatAt(end, i));
  }
  const order = Uint32Array.from(system.keys()).sort(
    (i, j) => at(system, i) - at(system, j) || floatAt(start, i) - floatAt(start, j),
  );
  for (let k = 1; k < order.length; k++) {
    const [i, j] = [at(order, k - 1), at(order, k)];
    if (at(system, i) !== at(system, j) || floatAt(end, i) <= floatAt(start, j)) continue;
    const rule = `rows ${Math.min(i, j) + 1} and ${Math.max(i, j) + 1}: two watches of one system overlap.`;
    throw new UsageError(where, rule, floatAt(start, j));
  }
}

function requireInside(
  where: string,
  watchSystem: Int32Array,
  watch: Read['watch'],
  eventSystem: Int32Array,
  age: Float64Array,
): void {
  const bySystem = new Map<number, number[]>();
  watchSystem.forEach((code, i) => {
    bySystem.set(code, [...(bySystem.get(code) ?? []), i]);
  });
  for (let k = 0; k < age.length; k++) {
    const spells = bySystem.get(at(eventSystem, k)) ?? [];
    const t = floatAt(age, k);
    if (spells.some((i) => t > floatAt(watch.start, i) && t <= floatAt(watch.end, i))) continue;
    const rule = `event ${k + 1}: its system was not watched then. A watch holds ages above its start up to its end; an event on the first day may be given half a day.`;
    throw new UsageError(where, rule, t);
  }
}
