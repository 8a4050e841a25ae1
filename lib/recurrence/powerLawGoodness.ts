/** Whether events may come from a power-law process: the test of Cramér and von Mises that goes with it. */
import { UsageError } from '../errors.js';
import { floatAt } from '../numeric/columns.js';
import { randomStream } from '../numeric/random.js';
import { type EventColumns, recurrentEvents } from './recurrentEvents.js';
import { type EndedBy, placedEvents, systemHistories } from './systemHistories.js';

export interface PowerLawGoodness {
  /** 1 / 12 M + sum over the M events in order of [(age / end)^shape - (2 j - 1) / 2 M]², with the shape without bias. */
  statistic: number;
  /** Chance of a statistic as large or larger if the process is right, from `resamples` drawn. */
  p: number;
  /** Events that chance places: all, or all but the last of each system where an event ended the watching. */
  events: number;
  resamples: number;
  seed: number;
}

/**
 * Given how many events each system had, their ages over the end of watching, raised to the shape, are as numbers even between 0 and 1,
 * so the law of the statistic depends on their number only (Crow 1974; MIL-HDBK-189; from memory); it is drawn here, where tables
 * have steps. Shapes that differ between systems, or a rate that turns, make it large.
 * @throws UsageError as `fitPowerLaw`, for systems watched late, fewer than three events, and resamples that are no whole number from 19
 */
export function powerLawGoodness(
  columns: EventColumns,
  options: { seed: number; resamples?: number; endedBy?: EndedBy },
): PowerLawGoodness {
  const { seed, resamples = 9999, endedBy = 'time' } = options;
  const where = 'powerLawGoodness';
  if (!(Number.isInteger(resamples) && resamples >= 19)) {
    throw new UsageError(where, 'resamples must be a whole number from 19.', resamples);
  }
  const histories = systemHistories(recurrentEvents(columns, where), endedBy, where);
  if (histories.some(({ start }) => start > 0)) {
    throw new UsageError(where, 'all systems must be watched from age 0.');
  }
  const logs = Float64Array.from(
    histories.flatMap((history) => placedEvents(history, endedBy).map((age) => Math.log(age / history.end))),
  );
  if (logs.length < 3) throw new UsageError(where, 'three events are needed or more.', logs.length);
  if (logs.every((log) => log === 0)) throw new UsageError(where, 'all events are at the end of watching.');
  const statistic = statisticOf(logs);
  const random = randomStream(seed, 'recurrence/power law');
  let asFar = 0;
  for (let k = 0; k < resamples; k++) {
    if (statisticOf(logs.map(() => Math.log(random.uniform()))) >= statistic) asFar++;
  }
  return { statistic, p: (1 + asFar) / (1 + resamples), events: logs.length, resamples, seed };
}

/** From the logs of age over end. */
function statisticOf(logs: Float64Array): number {
  const events = logs.length;
  const shape = (events - 1) / -logs.reduce((total, log) => total + log, 0);
  const sorted = logs.slice().sort();
  let total = 1 / (12 * events);
  for (let j = 0; j < events; j++) {
    total += (Math.exp(shape * floatAt(sorted, j)) - (2 * j + 1) / (2 * events)) ** 2;
  }
  return total;
}
