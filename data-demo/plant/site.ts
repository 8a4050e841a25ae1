/** Settings of the plant and its shutdowns to come. */
import { textFromDay } from '../../lib/numeric/day.js';
import { DATA_UNTIL, DUTIES, RECORDS_FROM } from './design.js';
import type { Row, TruePosition } from './types.js';
import {
  futureWindows,
  LINE_STOP_DAYS,
  linesOf,
  quarterlyLines,
  SHUTDOWN_DAYS,
  type Window,
} from './windows.js';

export const SHUTDOWN_COLUMNS = ['name', 'start', 'end', 'crew_hours', 'lines', 'stop_for'] as const;

/** The next shutdown of the plant is short of hands; for the later ones more are hired. */
const NEXT_CREW_HOURS = 330;
const CREW_HOURS = 420;
const LINE_STOP_CREW_HOURS = 90;

/** site.json as text. */
export function siteText(positions: readonly TruePosition[]): string {
  const site = {
    name: 'Weir Street demo plant',
    currency: 'EUR',
    records_from: RECORDS_FROM,
    data_until: DATA_UNTIL,
    event: 'leak',
    money: {
      labour_per_hour: { low: 50, likely: 60, high: 75 },
      fitting_hours: { low: 0.6, likely: 0.75, high: 1.1 },
      retighten_hours: { low: 0.15, likely: 0.2, high: 0.3 },
      recalibration_hours_per_accessory: { low: 0.25, likely: 0.35, high: 0.5 },
      resterilise_cost: { low: 150, likely: 250, high: 400 },
      planned_stop_hours: { low: 0.3, likely: 0.5, high: 1 },
      downtime_per_hour: downtimeByLine(),
      leak_downtime_hours: { low: 2, likely: 3.5, high: 6 },
      lost_batch_probability: { low: 0.002, likely: 0.005, high: 0.01 },
      batch_value: { low: 15_000, likely: 25_000, high: 40_000 },
      cleanup_cost: { low: 60, likely: 120, high: 250 },
      holding_rate_per_year: 0.25,
      order_cost: 85,
    },
    limits: [
      { material: 'EPDM', max_days: 1096 },
      { material: 'PTFE-faced EPDM', max_days: 1096, max_steam_cycles: 400 },
      { material: 'FKM', max_days: 1461 },
    ],
    targets: { served: { low: 0.9, normal: 0.95, high: 0.97, safety: 0.99 }, kit_complete: 0.98 },
    horizon_months: 24,
    review_days: 7,
    values: { material: { silicone: 'VMQ' } },
    aliases: Object.fromEntries(
      positions.flatMap(({ tag, former }) => (former === null ? [] : [[former.tag, tag]])),
    ),
  };
  return `${JSON.stringify(site, null, 2)}\n`;
}

function downtimeByLine(): Record<string, { low: number; likely: number; high: number }> {
  return Object.fromEntries(
    DUTIES.flatMap((duty) => {
      const [low, likely, high] = duty.downtime;
      return linesOf(duty).map((line) => [line, { low, likely, high }]);
    }),
  );
}

export function shutdownRows(windows: readonly Window[]): Row[] {
  const future = futureWindows(windows);
  const next = future.find(({ wholePlant }) => wholePlant);
  return future.flatMap((window) =>
    window.wholePlant ? [plantRow(window, window === next ? NEXT_CREW_HOURS : CREW_HOURS)] : lineRows(window),
  );
}

function plantRow({ start }: Window, crewHours: number): Row {
  const season = textFromDay(start).slice(5, 7) === '04' ? 'Spring' : 'Autumn';
  return {
    name: `${season} ${textFromDay(start).slice(0, 4)}`,
    start: textFromDay(start),
    end: textFromDay(start + SHUTDOWN_DAYS - 1),
    crew_hours: String(crewHours),
    lines: '',
    stop_for: 'anyway',
  };
}

/** One row per duty that stops every quarter: each has its own crew. */
function lineRows({ start }: Window): Row[] {
  const season = textFromDay(start).slice(5, 7) === '01' ? 'Winter' : 'Summer';
  return quarterlyLines().map(({ duty, lines }) => ({
    name: `${season} stop ${textFromDay(start).slice(0, 4)}, ${duty}`,
    start: textFromDay(start),
    end: textFromDay(start + LINE_STOP_DAYS - 1),
    crew_hours: String(LINE_STOP_CREW_HOURS),
    lines: lines.join('|'),
    stop_for: 'replacements',
  }));
}
