/** Words and numbers of the chart of leaks by line. */
import type { LeakCurve, LineLeaks, Recurrence, WatchedLeaks } from '../group/recurrence/types.js';
import { COLUMN } from './texts.js';
import type { Chart } from './types.js';
import { amount, count, dateWords, listed, percent, plainName, range } from './words.js';

/** Lines by name in the finding and in the description. */
const MOST_IN_FINDING = 3;
const MOST_IN_WORDS = 6;

/** What is said of all lines and of the plant. */
export type LeaksSeen = Pick<Recurrence, 'plant' | 'lines'>;

/** A line as readers see it. */
export function lineName({ line }: Pick<LineLeaks, 'line'>): string {
  return plainName(line) === '' ? 'no line given' : plainName(line);
}

/** Lines that differ, the clearest first. */
export function differingLines(lines: readonly LineLeaks[], how: 'more' | 'less'): LineLeaks[] {
  return lines.filter(({ differs }) => differs === how).sort((a, b) => (a.p ?? 1) - (b.p ?? 1));
}

export function findingOf({ plant, lines }: LeaksSeen): string {
  if (plant.perYear === null) return 'No position was watched, so no leak can be counted';
  const rate = `the plant has ${rateWords(plant)}`;
  if (lines.length < 2) return `One line: ${rate}`;
  const [more, less] = [differingLines(lines, 'more'), differingLines(lines, 'less')];
  if (more.length + less.length === 0)
    return `None of ${count(lines.length, 'line')} leaks more or less often than chance brings; ${rate}`;
  const names = (found: readonly LineLeaks[]): string => listed(found.map(lineName), MOST_IN_FINDING);
  const [first, how] = more.length > 0 ? [more, 'more'] : [less, 'less'];
  const differ = `${names(first)} ${first.length === 1 ? 'leaks' : 'leak'} ${how} often than the other lines`;
  const others = more.length > 0 && less.length > 0 ? `, less often ${names(less)}` : '';
  return `${differ}${others}; ${rate}`;
}

/** "0.14 leaks per position and year (0.13 to 0.15)". */
function rateWords({ perYear }: Pick<WatchedLeaks, 'perYear'>): string {
  if (perYear === null) return 'nothing watched';
  const { estimate, low, high } = perYear;
  return `${amount(estimate, 2)} leaks per position and year (${range(low, high ?? Infinity, twoDigits)})`;
}

function twoDigits(value: number): string {
  return amount(value, 2);
}

export function descriptionOf({ plant, lines }: LeaksSeen, finding: string): string {
  const { curve } = plant;
  if (curve === null) return `${finding}.`;
  const last = curve.mean.at(-1) ?? 0;
  const bounds = boundsWords(curve);
  const differ = lines
    .filter(({ differs }) => differs === 'more' || differs === 'less')
    .sort((a, b) => (a.p ?? 1) - (b.p ?? 1))
    .map((line) => `${lineName(line)} ${amount(endOf(line.curve), 2)} leaks per position${timesPart(line)}`);
  const names = differ.length === 0 ? '' : ` Lines that differ: ${listed(differ, MOST_IN_WORDS)}.`;
  return `${finding}. From ${dateWords(curve.from)} to ${dateWords(curve.until)} a position of the plant had ${amount(last, 2)} leaks on average${bounds}.${names}`;
}

function boundsWords({ low, high }: Pick<LeakCurve, 'low' | 'high'>): string {
  const [from, to] = [low.at(-1) ?? null, high.at(-1) ?? null];
  return from === null || to === null ? '' : ` (90 % range ${range(from, to, twoDigits)})`;
}

function timesPart({ times }: LineLeaks): string {
  return times === null ? '' : `, ${amount(times.estimate, 2)} times as often as the others`;
}

export function endOf(curve: LeakCurve | null): number {
  return curve?.mean.at(-1) ?? 0;
}

export function tableOf({ plant, lines }: LeaksSeen): Chart['table'] {
  const cells = (name: string, each: WatchedLeaks): (string | number)[] => [
    name,
    each.positions,
    each.leaks,
    each.perYear === null ? 'not watched' : twoDigits(each.perYear.estimate),
    each.perYear === null ? '' : range(each.perYear.low, each.perYear.high ?? Infinity, twoDigits),
    each.curve === null ? '' : `${twoDigits(endOf(each.curve))}${boundsWords(each.curve)}`,
  ];
  return {
    columns: [
      COLUMN.line,
      COLUMN.positions,
      COLUMN.leaks,
      COLUMN.leaksPerPositionYear,
      COLUMN.of90PercentRange,
      COLUMN.leaksPerPositionSoFar,
      COLUMN.chanceOfSuchDifference,
      COLUMN.differs,
    ],
    rows: [
      [...cells('plant', plant), '', ''],
      ...lines.map((line) => [
        ...cells(lineName(line), line),
        line.adjusted === null ? '' : percent(line.adjusted),
        line.differs,
      ]),
    ],
  };
}
