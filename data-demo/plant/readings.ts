/** Counters: what readings.csv says. Counts rise by chance round the rate of their position; lives do not depend on them. */
import { addMonths, dayFromText, textFromDay } from '../../lib/numeric/day.js';
import type { RandomStream } from '../../lib/numeric/random.js';
import { DATA_UNTIL, RECORDS_FROM } from './design.js';
import { chance, poisson } from './draws.js';
import type { PlantedFault, Row, TruePosition } from './types.js';

export const READING_COLUMNS = ['position', 'date', 'strokes', 'steam_cycles', 'hot_cleans'] as const;

/** Share of positions without a counter. */
const NO_COUNTER_SHARE = 0.12;
const MONTHS_BETWEEN = 3;
/** Of duties that are hardly moved. */
const MONTHS_BETWEEN_SLOW = 12;
const FILE = 'readings.csv';

/** Shares of rows with a mistake. */
const MISTAKES: readonly { code: string; column: string; what: string; share: number }[] = [
  { code: 'reading-twice', column: 'date', what: 'read twice on one day', share: 0.002 },
  { code: 'position-unknown', column: 'position', what: 'tag mistyped', share: 0.001 },
  { code: 'reading-after-data', column: 'date', what: 'year mistyped into the future', share: 0.001 },
  {
    code: 'number-format',
    column: 'strokes',
    what: 'strokes written with a comma between thousands',
    share: 0.001,
  },
];
const RESET_SHARE = 0.03;

export interface Readings {
  rows: Row[];
  faults: PlantedFault[];
}

export function makeReadings(
  random: RandomStream,
  positions: readonly TruePosition[],
  withFaults: boolean,
): Readings {
  const rows: Row[] = [];
  const faults: PlantedFault[] = [];
  for (const position of positions) {
    const own = random.fork(`position ${position.index}`);
    const missing = chance(own, NO_COUNTER_SHARE);
    const reset = chance(own, RESET_SHARE) && withFaults;
    if (missing) continue;
    const counted = countersOf(own, position, reset);
    for (const { row, fell } of counted) {
      rows.push(row);
      const fault = {
        code: 'counter-went-down',
        file: FILE,
        column: 'strokes',
        what: 'counter began again at zero',
      };
      if (fell) faults.push({ ...fault, row: rows.length });
    }
  }
  return withFaults ? spoiled(random.fork('mistakes'), rows, faults) : { rows, faults };
}

function countersOf(
  random: RandomStream,
  position: TruePosition,
  reset: boolean,
): { row: Row; fell: boolean }[] {
  const until = Math.min(position.retired ?? Infinity, dayFromText(DATA_UNTIL) as number);
  const start = Math.max(position.commissioned, dayFromText(RECORDS_FROM) as number);
  const between = position.strokesPerDay < 10 ? MONTHS_BETWEEN_SLOW : MONTHS_BETWEEN;
  const days: number[] = [];
  for (let k = 0; addMonths(start, between * k) <= until - 5; k++) {
    days.push(addMonths(start, between * k) + random.below(5));
  }
  const resetAt = reset ? 4 + random.below(8) : -1;
  let counts = [0, 0, 0];
  let fell = false;
  return days.map((day, k) => {
    const span = k === 0 ? 200 : day - (days[k - 1] as number);
    const rise = [position.strokesPerDay, position.steamPerWeek / 7, position.hotCleansPerWeek / 7].map(
      (rate) => poisson(random, rate * span),
    );
    const before = counts[0] as number;
    counts =
      k === resetAt
        ? rise.map((count) => Math.floor(count / 3))
        : counts.map((count, c) => count + (rise[c] ?? 0));
    fell = (counts[0] as number) < before;
    const row = {
      position: position.tag,
      date: textFromDay(day),
      strokes: String(counts[0]),
      steam_cycles: position.duty.steamPerWeek > 0 ? String(counts[1]) : '',
      hot_cleans: position.duty.hotCleansPerWeek > 0 ? String(counts[2]) : '',
    };
    return { row, fell };
  });
}

/** Puts mistakes into rows that are not the last of their position nor next to a reset. */
function spoiled(random: RandomStream, rows: readonly Row[], faults: readonly PlantedFault[]): Readings {
  const near = new Set(faults.flatMap(({ row }) => [(row ?? 0) - 2, (row ?? 0) - 1, row ?? 0]));
  const kind = new Map<number, (typeof MISTAKES)[number]>();
  for (const mistake of MISTAKES) {
    for (let k = 0; k < Math.round(mistake.share * rows.length); ) {
      const i = random.below(rows.length - 1);
      const fits = !kind.has(i) && !near.has(i) && Number(rows[i]?.strokes) >= 1000 && isPlain(rows[i]);
      if (!fits) continue;
      kind.set(i, mistake);
      k += 1;
    }
  }
  const written: Row[] = [];
  const listed: PlantedFault[] = [];
  const falls = new Set(faults.map(({ row }) => row));
  rows.forEach((row, i) => {
    const mistake = kind.get(i);
    if (mistake?.code === 'reading-twice') written.push(row);
    written.push(mistake === undefined ? row : withMistake(row, mistake.code));
    if (mistake !== undefined) {
      listed.push({
        code: mistake.code,
        file: FILE,
        row: written.length,
        column: mistake.column,
        what: mistake.what,
      });
    }
    if (falls.has(i + 1)) {
      const fall = faults.find((fault) => fault.row === i + 1) as PlantedFault;
      listed.push({ ...fall, row: written.length });
    }
  });
  return { rows: written, faults: listed };
}

function isPlain(row: Row | undefined): boolean {
  return /^[A-F]\d-V\d+$/.test(row?.position ?? '');
}

function withMistake(row: Row, code: string): Row {
  switch (code) {
    case 'position-unknown':
      return { ...row, position: (row.position ?? '').replace('-V', '-W') };
    case 'reading-after-data':
      return { ...row, date: `203${row.date?.slice(3)}` };
    case 'number-format':
      return { ...row, strokes: (row.strokes ?? '').replace(/\B(?=(\d{3})+$)/g, ',') };
    default:
      return { ...row, strokes: String(Number(row.strokes) + 1) };
  }
}
