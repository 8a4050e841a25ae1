/** Which clock tells the lives of each group better: days, or the best of its counters. */
import type { WearClock } from '../group/wear/types.js';
import { fine } from './axes.js';
import { frameSpec, plotWidth } from './frame.js';
import { circles, diamonds, label, layer, onScale } from './marks.js';
import { endWords, type RowAxes, rowAxes, rowFrame } from './rows.js';
import { AXIS, TITLE } from './texts.js';
import { COLOUR } from './theme.js';
import { ofRow, tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, count, listed, percent, plainName } from './words.js';

const MOST_ROWS = 30;
/** Leads beyond this are drawn at the edge; their words say how far they reach. */
const EDGE = 16;
/** Less tells nothing (METHODS 3.2). */
const NO_DIFFERENCE = 2;
const DAYS = 'days';

/** What one row shows: by how much the best clock with a counter leads days, in AIC; below 0 where days lead. */
interface Row {
  name: string;
  clock: WearClock;
  counter: string;
  lead: number;
}

export function clocksCompared(clocks: readonly WearClock[]): Chart {
  const rows = rowsOf(clocks);
  const shown = rows.slice(0, MOST_ROWS);
  const title = TITLE.wearsThemDaysOrCounted;
  const finding = findingOf(clocks);
  const told = shown.slice(0, 8).map((row) => `${row.name} ${verdictWords(row)}`);
  const description = `${finding}.${told.length === 0 ? '' : ` ${told.join('; ')}${shown.length > 8 ? '; and more in the table' : ''}.`}`;
  return {
    name: 'clocks-compared',
    title,
    finding,
    description,
    spec: specOf(shown, { title, finding, description }),
    table: tableOf(rows),
    leftOut:
      rows.length > shown.length
        ? `The picture shows ${shown.length} of ${rows.length} groups compared; all are in the table and in wear.csv.`
        : null,
  };
}

/** Whatever was compared, each once: those that are told by a counter first, then by how far the two are apart. */
function rowsOf(clocks: readonly WearClock[]): Row[] {
  const seen = new Set<string>();
  const rows = clocks.flatMap((clock): Row[] => {
    const behind = (name: string | null): number | null =>
      clock.clocks.find((each) => each.clock === name)?.behind ?? null;
    // A clock that adds a count to days holds days as a part, and is no rival of them.
    const counter = clock.best === DAYS ? clock.rival : clock.best;
    const [days, its] = [behind(DAYS), behind(counter)];
    if (days === null || its === null || counter === null || seen.has(clock.comparedOn)) return [];
    seen.add(clock.comparedOn);
    return [{ name: plainName(clock.comparedOn), clock, counter, lead: days - its }];
  });
  return rows.sort((a, b) => b.lead - a.lead);
}

function findingOf(clocks: readonly WearClock[]): string {
  if (clocks.length === 0) return 'No use is on record, so that there is nothing but days';
  const told = clocks.filter(({ verdict }) => verdict === 'told');
  const names = [...new Set(told.map(({ clock }) => clock))].sort((a, b) =>
    a === DAYS ? -1 : b === DAYS ? 1 : a < b ? -1 : 1,
  );
  const parts = names.map((name) => `${told.filter(({ clock }) => clock === name).length} by ${name}`);
  const open = clocks.length - told.length;
  if (open > 0) parts.push(`of ${open} the records cannot tell`);
  return `Of ${count(clocks.length, 'group')}: ${listed(parts)}`;
}

function verdictWords({ clock, counter, lead }: Row): string {
  if (clock.verdict !== 'told') return 'cannot tell';
  return clock.clock === DAYS ? `days, by ${amount(-lead, 2)}` : `${counter}, by ${amount(lead, 2)}`;
}

function specOf(
  rows: readonly Row[],
  texts: { title: string; finding: string; description: string },
): Chart['spec'] {
  const axes = rowAxes(rows.map(({ name }) => name));
  const words = rows.map((row) => ({
    text: verdictWords(row),
    bold: row.clock.verdict === 'told',
    rust: row.clock.clock !== DAYS,
  }));
  const frame = rowFrame(axes, words, 150, true);
  const width = plotWidth(frame);
  return frameSpec({
    ...texts,
    height: axes.height,
    across: AXIS.muchBetterCounterTellsTheir,
    ...frame,
    layers: [...layersOf(rows, axes), ...axes.names, ...endWords(words, axes, frame, width)],
  });
}

function layersOf(rows: readonly Row[], axes: RowAxes): Layer[] {
  const scale = { domain: [-EDGE, EDGE], nice: false, zero: false };
  const x = onScale('lead', scale);
  const y = axes.y('row');
  const tips = ofRow(rows.map((row) => `${row.name}: ${verdictWords(row)}`));
  const values = rows.map(({ lead, clock }, i) => ({
    lead: fine(Math.max(-EDGE, Math.min(EDGE, lead))),
    row: i + 0.5,
    zero: 0,
    counter: clock.clock !== DAYS,
    told: clock.verdict === 'told',
  }));
  return [
    layer({ type: 'rule', opacity: 0 }, [{ lead: 0 }], {
      x: {
        field: 'lead',
        type: 'quantitative',
        scale,
        axis: {
          values: [-15, -10, -5, 0, 5, 10, 15],
          grid: true,
          labelExpr: "replace(datum.label, '-', '−')",
        },
      },
    }),
    layer(
      { type: 'rect', color: COLOUR.band, opacity: 1 },
      [{ low: -NO_DIFFERENCE, high: NO_DIFFERENCE, top: 0, foot: Math.max(1, rows.length) }],
      { x: onScale('low', scale), x2: { field: 'high' }, y: axes.y('top'), y2: { field: 'foot' } },
    ),
    layer({ type: 'rule', color: COLOUR.rule, strokeWidth: 1.5, opacity: 1 }, values, {
      x: onScale('zero', scale),
      x2: { field: 'lead' },
      y,
    }),
    tipped(
      circles(
        values.filter(({ counter }) => !counter),
        { x, y },
      ),
      tips,
    ),
    tipped(
      diamonds(
        values.filter(({ counter }) => counter),
        { x, y },
      ),
      tips,
    ),
    label([{ label: '← days' }], { x: { value: 0 }, y: { value: -8 } }, { color: COLOUR.text, size: 11 }),
    label(
      [{ lead: EDGE, label: 'a counter →' }],
      { x, y: { value: -8 } },
      { align: 'right', color: COLOUR.text, size: 11 },
    ),
  ];
}

function tableOf(rows: readonly Row[]): Chart['table'] {
  return {
    columns: [
      'Compared on',
      'Leaks',
      'Verdict',
      'Best with a counter',
      'Better than days by, AIC',
      'Resampled positions agree',
    ],
    rows: rows.map(({ name, clock, counter, lead }) => [
      name,
      clock.leaks,
      clock.verdict === 'told' ? clock.clock : 'cannot tell',
      counter,
      amount(Math.round(10 * lead) / 10, 4),
      clock.agreement === null ? null : percent(clock.agreement),
    ]),
  };
}
