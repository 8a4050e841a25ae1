/** What leaks more often than its groups' laws expect: so many times as often, drawn towards 1, with the 80 % range. */
import type { StandOutReport, StandOutRow } from '../yearly/standOuts/types.js';
import { decimalText, fine, logTicks } from './axes.js';
import { frameSpec, plotWidth } from './frame.js';
import { diamonds, layer, onScale } from './marks.js';
import { endWords, type RowAxes, rowAxes, rowFrame } from './rows.js';
import { AXIS, COLUMN, TITLE } from './texts.js';
import { COLOUR } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, count, counted, dateWords, listed, plainName, range } from './words.js';

const MOST_ROWS = 24;
const ROW = 30;
/** Ranges are drawn so far. */
const MOST_TIMES = 50;

/** Strongest first, as in the report of what stands out. */
export function standOutsChart(report: StandOutReport): Chart {
  const { rows } = report;
  const shown = rows.slice(0, MOST_ROWS);
  const title = TITLE.whatLeaksMoreOften;
  const finding = findingOf(report);
  const each = shown.map(
    (row) => `${nameOf(row)}: ${leaksText(row)}, ${timesText(row)}; too many are ${row.excess}`,
  );
  const description = `${finding}.${each.length === 0 ? '' : ` ${each.join('. ')}.`}`;
  return {
    name: 'stand-outs',
    title,
    finding,
    description,
    spec: specOf(shown, { title, finding, description }),
    table: tableOf(rows),
    leftOut:
      rows.length > shown.length
        ? `The picture shows the ${shown.length} strongest of ${rows.length}; all are in the table.`
        : null,
  };
}

const KINDS = { position: 'positions', lot: 'lots', fitter: 'fitters', week: 'weeks of fitting' } as const;

function findingOf({ rows, searches, rate }: StandOutReport): string {
  const looked = searches
    .filter(({ tested }) => tested > 0)
    .map(({ kind, tested }) => `${amount(tested, 9)} ${KINDS[kind]}`);
  if (looked.length === 0) return 'Nothing was looked through: no life could be followed';
  const of = `Of ${listed(looked)}`;
  const [worst] = [...rows].sort((a, b) => b.ratio.estimate - a.ratio.estimate);
  if (worst === undefined) return `${of} none leaks more often than chance explains`;
  return `${of} ${counted(rows.length, 'leaks', 'leak')} more often than chance explains, most ${nameOf(worst)}: ${timesText(worst)}; one in ${Math.round(1 / rate)} named may be chance`;
}

function nameOf({ kind, name }: StandOutRow): string {
  if (kind === 'week') return `week of ${dateWords(name)}`;
  return kind === 'position' ? plainName(name) : `${kind} ${plainName(name)}`;
}

function placeOf({ kind, groups, lives }: StandOutRow): string {
  return kind === 'position' ? plainName(groups[0] ?? '') : count(lives, 'diaphragm');
}

const leaksText = ({ leaks, expected }: StandOutRow): string =>
  `${count(leaks, 'leak')}, ${amount(expected, 2)} expected`;

const twoDigits = (value: number): string => amount(value, 2);

const timesText = ({ ratio: { estimate, low, high } }: StandOutRow): string =>
  `${twoDigits(estimate)} times as often (80 %: ${range(low, high, twoDigits)})`;

function specOf(
  rows: readonly StandOutRow[],
  texts: { title: string; finding: string; description: string },
): Chart['spec'] {
  const axes = rowAxes(
    rows.map((row) => `${nameOf(row)}\n${placeOf(row)}`),
    ROW,
  );
  const words = rows.map((row) => ({ text: leaksText(row) }));
  const frame = rowFrame(axes, words, 140);
  return frameSpec({
    ...texts,
    height: axes.height,
    across: AXIS.timesAsOftenLogScale,
    ...frame,
    layers: [...layersOf(rows, axes), ...axes.names, ...endWords(words, axes, frame, plotWidth(frame))],
  });
}

function layersOf(rows: readonly StandOutRow[], axes: RowAxes): Layer[] {
  const ends = rows.flatMap(({ ratio }) => [ratio.low, ratio.high]);
  const low = Math.max(0.1, Math.min(0.8, ...ends)) / 1.1;
  const high = Math.min(MOST_TIMES, Math.max(2, ...ends)) * 1.1;
  const scale = { type: 'log', domain: [fine(low), fine(high)], nice: false };
  const held = (value: number): number => fine(Math.max(low, Math.min(high, value)));
  const values = rows.map(({ ratio }, i) => ({
    times: held(ratio.estimate),
    low: held(ratio.low),
    high: held(ratio.high),
    row: i + 0.5,
  }));
  const tips = rows.map((row) => `${nameOf(row)}: ${leaksText(row)}; ${timesText(row)}`);
  const [x, y] = [onScale('times', scale), axes.y('row')];
  const axis = {
    values: logTicks(low, high),
    grid: true,
    labelExpr: decimalText("format(datum.value, '~g')"),
  };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ times: 1 }], {
      x: { field: 'times', type: 'quantitative', scale, axis },
    }),
    layer({ type: 'rule', color: COLOUR.rule, strokeDash: [3, 3], opacity: 1 }, [{ times: 1 }], { x }),
    tipped(
      layer({ type: 'rule', color: COLOUR.rust, strokeWidth: 2, opacity: 1 }, values, {
        x: onScale('low', scale),
        x2: { field: 'high' },
        y,
      }),
      tips,
    ),
    tipped(diamonds(values, { x, y }), tips),
  ];
}

function tableOf(rows: readonly StandOutRow[]): Chart['table'] {
  return {
    columns: [
      COLUMN.what,
      COLUMN.group,
      COLUMN.lives,
      COLUMN.leaks,
      COLUMN.leaksExpected,
      COLUMN.timesAsOften,
      COLUMN.of80PercentRange,
      COLUMN.tooMany,
    ],
    rows: rows.map((row) => [
      nameOf(row),
      listed(row.groups.map(plainName), 3),
      row.lives,
      row.leaks,
      amount(row.expected, 2),
      twoDigits(row.ratio.estimate),
      range(row.ratio.low, row.ratio.high, twoDigits),
      row.excess,
    ]),
  };
}
