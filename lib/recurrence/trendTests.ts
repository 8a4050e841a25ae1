/** Do events come at a constant rate? Two classic tests, and what they do not test. */
import { UsageError } from '../errors.js';
import { gammaP, gammaQ, normalCdf } from '../numeric/special.js';
import { type EventColumns, recurrentEvents } from './recurrentEvents.js';
import { type EndedBy, placedEvents, systemHistories } from './systemHistories.js';

export type TrendDirection = 'more often' | 'less often' | 'none';

export interface TrendTest {
  statistic: number;
  /** Two-sided. */
  pValue: number;
  /** Which way the events lean, at whatever p. */
  direction: TrendDirection;
}

export interface TrendTests {
  laplace: TrendTest;
  handbook: TrendTest & { df: number };
  events: number;
  /** What a small p of these tests says, and what it does not. */
  meaning: string;
}

/** METHODS 3.3. */
const MEANING =
  'These test a constant rate, not renewal: where parts wear out and are renewed, events lean towards later ages too, and the tests reject. Use renewalVerdict to ask whether new parts last as long as old ones did.';

/**
 * Laplace's test and the chi-square test of the military handbook (MIL-HDBK-189; NIST/SEMATECH e-Handbook 8.2.3.4), pooled over
 * systems. Given how many events there were, a constant rate places each evenly over its watch: Laplace's statistic is how
 * far their mean lies from the middle, in standard errors (positive where events come more often later on); the handbook's is
 * 2 sum of log(length of watch / time into it), chi-square with two degrees per event (small where they come more often later).
 * @throws UsageError as `recurrentEvents`, for gaps of watching and where chance places no event
 */
export function trendTests(
  columns: EventColumns,
  { endedBy = 'time' }: { endedBy?: EndedBy } = {},
): TrendTests {
  const histories = systemHistories(recurrentEvents(columns, 'trendTests'), endedBy, 'trendTests');
  let [events, lean, variance, handbook] = [0, 0, 0, 0];
  for (const history of histories) {
    const length = history.end - history.start;
    for (const age of placedEvents(history, endedBy)) {
      const share = (age - history.start) / length;
      events++;
      lean += length * (share - 0.5);
      variance += (length * length) / 12;
      handbook -= 2 * Math.log(share);
    }
  }
  if (events === 0) throw new UsageError('trendTests', 'there are no events whose age could show a trend.');
  const laplace = lean / Math.sqrt(variance);
  const [below, above] = [gammaP(events, handbook / 2), gammaQ(events, handbook / 2)];
  return {
    laplace: {
      statistic: laplace,
      pValue: 2 * normalCdf(-Math.abs(laplace)),
      direction: directionOf(laplace),
    },
    handbook: {
      statistic: handbook,
      df: 2 * events,
      pValue: Math.min(1, 2 * Math.min(below, above)),
      direction: directionOf(above - below),
    },
    events,
    meaning: MEANING,
  };
}

function directionOf(lean: number): TrendDirection {
  if (lean === 0) return 'none';
  return lean > 0 ? 'more often' : 'less often';
}
