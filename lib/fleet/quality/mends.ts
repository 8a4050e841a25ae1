/** Which mend of the records would help most: what keeps lives out of the fits, by cause. */
import { at, floatAt } from '../../numeric/columns.js';
import { count } from '../../numeric/words.js';
import { HISTORY_FILES } from '../columnNames.js';
import { lifeRow } from '../lifeRows.js';
import type { FleetRecords } from '../read.js';
import { type Fleet, REASONS } from '../types.js';
import type { FileTally } from './fileTallies.js';

/** One cause, and what to do about it. */
export interface Mend {
  code: string;
  file: string;
  /** Rows that it touches: set aside, or used without what is missing. */
  rows: number;
  /** Rows of these that are set aside. */
  rowsSetAside: number;
  /** Lives that would come into the fits: at most one a row of the history. */
  livesGained: number;
  /** Lives that are in the fits and would say more. */
  livesClearer: number;
  what: string;
  todo: string;
  /** The first place; null where none is to be named. */
  row: number | null;
  value: string | null;
}

/** Rows set aside for these say nothing that another row does not say: no life is lost with them. */
const NOTHING_LOST: readonly string[] = [
  'life-duplicate',
  'order-cancelled',
  'order-contradicts-lives',
  'order-in-lives',
  'order-repeated',
  'removed-before-records',
  'removed-before-service',
  'row-blank',
  'row-in-two-files',
  'row-of-examples',
  'row-of-totals',
  'row-of-units',
];

/** Every cause, that which gains most lives first. Rows set aside add up to those of the findings. */
export function mends({ fleet, found }: FleetRecords): Mend[] {
  const files = new Set(fleet.findings.files.map(({ file }) => file));
  const aside = found.filter(
    ({ file, done, row }) => done === 'set aside' && row !== null && files.has(file),
  );
  const undated = unknownFitting(fleet, aside);
  const rest = undated === null ? aside : aside.filter((tally) => !isUndated(tally, undated.file));
  const others = [undated, unknownReasons(fleet, found)].filter((mend) => mend !== null);
  return [...rest.map(mendOf), ...others].sort(byHelp);
}

/** Rows without a day of fitting are set aside from fitting and kept as openings: they are in the lives too. */
function isUndated({ file, code }: FileTally, history: string): boolean {
  return file === history && code === 'fitted-missing';
}

function byHelp(a: Mend, b: Mend): number {
  return b.livesGained - a.livesGained || b.livesClearer - a.livesClearer || b.rows - a.rows;
}

function mendOf({ code, file, times, text, todo, row, value }: FileTally): Mend {
  const isHistory = (HISTORY_FILES as readonly string[]).includes(file);
  const gains = isHistory && !NOTHING_LOST.includes(code);
  return {
    code,
    file,
    rows: times,
    rowsSetAside: times,
    livesGained: gains ? times : 0,
    livesClearer: 0,
    what: text,
    todo,
    row,
    value,
  };
}

/** Lives that are kept for openings and demand, and whose age is not known. */
function unknownFitting(fleet: Fleet, aside: readonly FileTally[]): Mend | null {
  const { lives } = fleet;
  const file = historyFile(fleet);
  const early = file === 'work-orders.csv' ? firstOfPositions(fleet) : new Set<number>();
  const without = livesOf(fleet).filter((i) => Number.isNaN(floatAt(lives.fitted, i)) && !early.has(i));
  if (without.length === 0) return null;
  const first = aside.find((tally) => isUndated(tally, file));
  return {
    code: 'fitting-day-unknown',
    file,
    rows: without.filter((i) => at(lives.row, i) > 0).length,
    rowsSetAside: first?.times ?? 0,
    livesGained: without.length,
    livesClearer: 0,
    what: `${count(without.length, 'life has', 'lives have')} no known day of fitting, so no age: counted as openings and demand, left out of the fits.`,
    todo: 'Look for the days of fitting in work orders, log books and issues from stores.',
    row: first?.row ?? null,
    value: null,
  };
}

/** The life of each position that ended first. From orders it has no day of fitting, as it began before them: no fault of theirs. */
function firstOfPositions(fleet: Fleet): Set<number> {
  const { position, removed } = fleet.lives;
  const first = new Map<number, number>();
  const endOf = (i: number): number => (Number.isNaN(floatAt(removed, i)) ? Infinity : floatAt(removed, i));
  for (const i of livesOf(fleet)) {
    const before = first.get(at(position, i));
    if (before === undefined || endOf(i) < endOf(before)) first.set(at(position, i), i);
  }
  return new Set(first.values());
}

/** Removals in the fits of which it is not known whether they leaked. */
function unknownReasons(fleet: Fleet, found: readonly FileTally[]): Mend | null {
  const { lives } = fleet;
  const without = livesOf(fleet).filter(
    (i) =>
      !Number.isNaN(floatAt(lives.removed, i)) &&
      REASONS[at(lives.reason, i)] === 'unknown' &&
      lifeRow(fleet, i, 'leak').kind !== 'set aside',
  );
  if (without.length === 0) return null;
  const words = wordsToSay(fleet, found);
  return {
    code: 'reason-unknown',
    file: historyFile(fleet),
    rows: without.length,
    rowsSetAside: 0,
    livesGained: 0,
    livesClearer: without.length,
    what: `${count(without.length, 'removal has', 'removals have')} no reason that can be read, so whether it leaked is a guess.${words.what}`,
    todo: `${words.todo}Ask for the reasons, those named below first.`,
    row: null,
    value: words.value,
  };
}

/** Words for reasons that are not known: said in the settings they are read in one go. */
function wordsToSay(
  fleet: Fleet,
  found: readonly FileTally[],
): { what: string; todo: string; value: string | null } {
  const history: readonly string[] = HISTORY_FILES;
  const isWord = found.some(({ file, code }) => history.includes(file) && code === 'word-unknown');
  const cells = isWord
    ? fleet.findings.problems.filter(
        ({ file, code, column }) => history.includes(file) && code === 'word-unknown' && column === 'reason',
      )
    : [];
  const first = cells[0]?.value ?? null;
  if (first === null) return { what: '', todo: '', value: null };
  return {
    what: ` ${count(cells.length, 'cell of the column holds a word', 'cells of the column hold words')} that no list has.`,
    todo: 'Say in site.json under "values", "reason", what your words mean. ',
    value: first,
  };
}

function livesOf({ lives }: Fleet): number[] {
  return Array.from({ length: lives.length }, (_, i) => i);
}

function historyFile({ filesRead }: Fleet): string {
  return HISTORY_FILES.find((file) => filesRead.includes(file)) ?? HISTORY_FILES[0];
}
