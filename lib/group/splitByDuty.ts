/**
 * Whether the lives of a material differ by duty. Wear-out with one shape k: leaks in a cell (size, duty) are Poisson with
 * mean exp(size effect + duty effect) times the cell's sum of age^k, so that duties are compared size by size. Both
 * the model with and without duty effects are fitted by proportional fitting at each k, and each takes its best k
 * (likelihood-ratio test; Poisson form of the Weibull likelihood: Aitkin & Clayton 1980, from memory). Ages under 60
 * days are left out, so that fitting faults do not enter.
 */
import type { Fleet } from '../fleet/types.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { minimiseOnInterval } from '../numeric/minimise.js';
import { significant } from '../numeric/round.js';
import { chiSquareCdf } from '../numeric/special.js';
import { pValueWords } from '../numeric/words.js';
import { dutyOf, EARLY_DAYS, type History } from './history.js';
import { leakWeightOf, type Reading } from './samples.js';

/** Leaks that a duty needs to count in the test. */
const LEAKS_PER_DUTY = 5;
const TEST_LEVEL = 0.01;
/** Smallest spread (standard deviation of log scale between duties) worth a split. */
const SMALLEST_SPREAD = 0.1;
const LOG_SHAPES = [Math.log(0.4), Math.log(10)] as const;
const PASSES = 60;

export interface DutyTest {
  split: boolean;
  note: string;
}

/** A cell of size and duty: what the likelihood needs of it. */
interface Cell {
  size: number;
  duty: number;
  leaks: number;
  /** log age and net count: ends of watching with a plus, starts with a minus. */
  logAge: number[];
  netCount: number[];
}

interface Table {
  cells: Cell[];
  duties: string[];
  sizes: number;
  /** Sum of log age over leaks. */
  logLeakAges: number;
  leaks: number;
}

/** Tests one material. `inflation` above 1 says that positions repeat themselves: the statistic is divided by it. */
export function testDuties(
  fleet: Fleet,
  history: History,
  rows: readonly number[],
  reading: Reading,
  material: string,
  inflation: number,
): DutyTest {
  const table = tableOf(fleet, history, rows, reading);
  const counted = new Set(
    table.duties.map((_, d) => d).filter((d) => leaksOfDuty(table, d) >= LEAKS_PER_DUTY),
  );
  if (table.duties.length < 2) {
    return { split: false, note: `${material}: not split by duty, there is only one.` };
  }
  if (counted.size < 2) {
    return {
      split: false,
      note: `${material}: not split by duty, fewer than two duties have ${LEAKS_PER_DUTY} leaks, so a difference cannot be shown.`,
    };
  }
  const tested = { ...table, cells: table.cells.filter((cell) => counted.has(cell.duty)) };
  const without = best(tested, false);
  const withDuty = best(tested, true);
  const statistic = Math.max(0, 2 * (withDuty.logLikelihood - without.logLikelihood)) / inflation;
  const chance = 1 - chiSquareCdf(statistic, counted.size - 1);
  const spread = spreadOf(tested, [...counted], withDuty, inflation);
  return verdict(material, counted.size, chance, spread);
}

function verdict(material: string, duties: number, chance: number, spread: number): DutyTest {
  const facts =
    `likelihood-ratio test over ${duties} duties ${pValueWords(chance)}, ` +
    `lives differ between duties by ${significant(100 * spread, 2)} % (standard deviation of log scale)`;
  if (chance >= TEST_LEVEL) {
    return { split: false, note: `${material}: not split by duty, no difference shown (${facts}).` };
  }
  if (spread <= SMALLEST_SPREAD) {
    return {
      split: false,
      note: `${material}: not split by duty, the difference is too small to matter (${facts}).`,
    };
  }
  return { split: true, note: `${material}: split by duty (${facts}).` };
}

function tableOf(fleet: Fleet, history: History, rows: readonly number[], reading: Reading): Table {
  const duties = new Map<string, number>();
  const sizes = new Map<number, number>();
  const cells = new Map<string, Cell>();
  let logLeakAges = 0;
  let leaks = 0;
  for (const i of rows) {
    const life = at(history.life, i);
    const end = floatAt(history.age, i);
    const start = Math.max(floatAt(history.entry, i), EARLY_DAYS);
    if (end <= start) continue;
    const duty = indexIn(duties, dutyOf(fleet, life));
    const size = indexIn(sizes, floatAt(fleet.lives.size, life));
    const key = `${size}/${duty}`;
    const cell = cells.get(key) ?? { size, duty, leaks: 0, logAge: [], netCount: [] };
    cells.set(key, cell);
    cell.logAge.push(Math.log(end), Math.log(start));
    cell.netCount.push(1, -1);
    const weight = leakWeightOf(history, i, reading);
    cell.leaks += weight;
    leaks += weight;
    logLeakAges += weight * Math.log(end);
  }
  const merged = [...cells.values()].map(mergeAges);
  return { cells: merged, duties: [...duties.keys()], sizes: sizes.size, logLeakAges, leaks };
}

function indexIn<T>(known: Map<T, number>, value: T): number {
  const index = known.get(value) ?? known.size;
  known.set(value, index);
  return index;
}

/** Whole days repeat: one entry per distinct age. */
function mergeAges(cell: Cell): Cell {
  const net = new Map<number, number>();
  cell.logAge.forEach((age, i) => {
    net.set(age, (net.get(age) ?? 0) + itemAt(cell.netCount, i));
  });
  return { ...cell, logAge: [...net.keys()], netCount: [...net.values()] };
}

function leaksOfDuty({ cells }: Table, duty: number): number {
  return cells.filter((cell) => cell.duty === duty).reduce((sum, cell) => sum + cell.leaks, 0);
}

interface Fitted {
  logLikelihood: number;
  logShape: number;
  /** log of the duty effects. */
  dutyEffects: number[];
}

function best(table: Table, withDuty: boolean): Fitted {
  const found = minimiseOnInterval(
    (logShape) => -fitAt(table, logShape, withDuty).logLikelihood,
    LOG_SHAPES[0],
    LOG_SHAPES[1],
    { relative: 1e-5 },
  );
  return fitAt(table, found.at, withDuty);
}

/** Proportional fitting at one shape: each margin in turn is scaled until it holds the leaks recorded in it. */
function fitAt(table: Table, logShape: number, withDuty: boolean): Fitted {
  const shape = Math.exp(logShape);
  // Ages in units of a typical one, so that powers stay near 1.
  const unit = table.leaks > 0 ? table.logLeakAges / table.leaks : 0;
  const exposure = table.cells.map(({ logAge, netCount }) =>
    logAge.reduce((sum, age, i) => sum + itemAt(netCount, i) * Math.exp(shape * (age - unit)), 0),
  );
  const size = new Array<number>(table.sizes).fill(1);
  const duty = new Array<number>(table.duties.length).fill(1);
  for (let pass = 0; pass < (withDuty ? PASSES : 1); pass++) {
    scaleMargin(table, exposure, size, duty, (cell) => cell.size, size);
    if (withDuty) scaleMargin(table, exposure, size, duty, (cell) => cell.duty, duty);
  }
  let logLikelihood = table.leaks * logShape + shape * (table.logLeakAges - table.leaks * unit);
  table.cells.forEach((cell, c) => {
    const rate = itemAt(size, cell.size) * itemAt(duty, cell.duty);
    logLikelihood += (cell.leaks > 0 ? cell.leaks * Math.log(rate) : 0) - rate * itemAt(exposure, c);
  });
  return { logLikelihood, logShape, dutyEffects: duty.map(Math.log) };
}

function scaleMargin(
  { cells }: Table,
  exposure: readonly number[],
  size: readonly number[],
  duty: readonly number[],
  levelOf: (cell: Cell) => number,
  effects: number[],
): void {
  const leaks = new Array<number>(effects.length).fill(0);
  const expected = new Array<number>(effects.length).fill(0);
  cells.forEach((cell, c) => {
    const level = levelOf(cell);
    leaks[level] = itemAt(leaks, level) + cell.leaks;
    const rate = itemAt(size, cell.size) * itemAt(duty, cell.duty);
    expected[level] = itemAt(expected, level) + rate * itemAt(exposure, c);
  });
  effects.forEach((effect, level) => {
    if (itemAt(expected, level) > 0)
      effects[level] = (effect * itemAt(leaks, level)) / itemAt(expected, level);
  });
}

/** Standard deviation of log scale between duties, chance of the estimates taken off (moments). */
function spreadOf(table: Table, duties: readonly number[], fitted: Fitted, inflation: number): number {
  const shape = Math.exp(fitted.logShape);
  const places = duties.map((duty) => -itemAt(fitted.dutyEffects, duty) / shape);
  const chance = duties.map((duty) => inflation / (shape * shape * leaksOfDuty(table, duty)));
  const mean = places.reduce((sum, place) => sum + place, 0) / places.length;
  const variance = places.reduce((sum, place) => sum + (place - mean) ** 2, 0) / (places.length - 1);
  return Math.sqrt(Math.max(0, variance - chance.reduce((sum, value) => sum + value, 0) / chance.length));
}
