/** Positions by calendar: each diaphragm a bar from fitting to removal, leaks marked, so that a position that leaks again and again shows. */
import type { PositionLives } from '../fleet/positionLives.js';
import { type Day, textFromDay } from '../numeric/day.js';
import { fine } from './axes.js';
import { frameSpec, plotWidth } from './frame.js';
import { diamonds, layer, onScale } from './marks.js';
import { endWords, type RowAxes, rowAxes, rowFrame } from './rows.js';
import { fitText } from './textWidth.js';
import { COLOUR, TICK_SIZE } from './theme.js';
import { dateAxis } from './timeAxis.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { count, dateWords, plainName } from './words.js';

const MOST_ROWS = 24;
const ROW_HEIGHT = 20;
/** Tags stand on one line, cut where they are wider, px. */
const NAME_ROOM = 150;
/** Beyond this number of marks bars of one position are drawn as one, and leaks alone stay single. */
const MOST_MARKS = 2000;

interface Row extends PositionLives {
  leaks: number;
}

/** Positions with the most leaks first, then by name; `title` says which they are. */
export function lifeTimeline(positions: readonly PositionLives[], title: string): Chart {
  const ranked = positions
    .map((each): Row => ({ ...each, leaks: each.lives.filter(({ end }) => end === 'leak').length }))
    .filter(({ lives }) => lives.length > 0)
    .sort((a, b) => b.leaks - a.leaks || (a.position < b.position ? -1 : 1));
  const shown = ranked.slice(0, MOST_ROWS);
  const merged = shown.reduce((sum, { lives }) => sum + lives.length, 0) > MOST_MARKS;
  const finding = findingOf(ranked);
  const lists = shown
    .slice(0, 6)
    .map((row) => `${plainName(row.position)} ${leaksWords(row)} in ${count(row.lives.length, 'diaphragm')}`);
  const description = `${finding}.${lists.length > 0 ? ` Most leaks: ${lists.join('; ')}.` : ''}`;
  return {
    name: 'life-timeline',
    title: plainName(title),
    finding,
    description,
    spec: specOf(shown, merged, { title: plainName(title), finding, description }),
    table: tableOf(ranked),
    leftOut: leftOutWords(ranked, shown, merged),
  };
}

const leaksWords = ({ leaks }: Row): string => (leaks === 0 ? 'no leak' : count(leaks, 'leak'));

function findingOf(ranked: readonly Row[]): string {
  const [first] = ranked;
  if (first === undefined) return 'No life has a day of fitting';
  const leaking = ranked.filter(({ leaks }) => leaks > 0).length;
  const again = ranked.filter(({ leaks }) => leaks > 1).length;
  const most = first.leaks > 1 ? `; most in ${plainName(first.position)}, ${leaksWords(first)}` : '';
  return `Of ${count(ranked.length, 'position')} ${leaking} leaked at least once and ${again} more than once${most}`;
}

function leftOutWords(ranked: readonly Row[], shown: readonly Row[], merged: boolean): string | null {
  const undated = ranked.reduce((sum, row) => sum + row.undated, 0);
  const parts = [
    ranked.length > shown.length
      ? `The picture shows the ${MOST_ROWS} positions with most leaks of ${ranked.length}.`
      : '',
    merged ? `With over ${MOST_MARKS} diaphragms those of one position are drawn as one bar.` : '',
    undated > 0
      ? `${count(undated, 'diaphragm')} whose day of fitting is not known ${undated === 1 ? 'is' : 'are'} left out.`
      : '',
  ].filter((part) => part !== '');
  return parts.length === 0 ? null : parts.join(' ');
}

function specOf(
  shown: readonly Row[],
  merged: boolean,
  texts: { title: string; finding: string; description: string },
): Chart['spec'] {
  const rows = rowAxes(
    shown.map(({ position }) => fitText(plainName(position), NAME_ROOM, TICK_SIZE)),
    ROW_HEIGHT,
  );
  const words = shown.map((row) => ({ text: leaksWords(row), bold: row.leaks > 1, rust: row.leaks > 1 }));
  const frame = rowFrame(rows, words, 90, true);
  const width = plotWidth(frame);
  return frameSpec({
    ...texts,
    height: rows.height,
    bottom: 38,
    ...frame,
    layers: [
      ...layersOf(shown, merged, rows, width),
      ...rows.names,
      ...endWords(words, rows, frame, width),
      ...keyLayers(),
    ],
  });
}

function layersOf(shown: readonly Row[], merged: boolean, axes: RowAxes, width: number): Layer[] {
  const all = shown.flatMap(({ lives }) => lives);
  const first = all.reduce((least: Day, { from }) => Math.min(least, from), all[0]?.from ?? 0);
  const span = all.reduce((most, { until }) => Math.max(most, until - first), 1);
  const scale = { domain: [0, fine(span * 1.01)], nice: false, zero: false };
  const bars = shown.flatMap(({ lives }, i) => {
    const drawn = merged ? lives.slice(0, 1).map((life) => ({ ...life, until: last(lives) })) : lives;
    // A gap of a pixel parts one diaphragm from the next.
    const gap = (1.5 * span) / width;
    return drawn.map(({ from, until }) => ({
      row: i + 0.5,
      from: fine(from - first),
      until: fine(Math.max(until - first - gap, from - first)),
    }));
  });
  const leaks = shown.flatMap(({ lives }, i) =>
    lives
      .filter(({ end }) => end === 'leak')
      .map(({ until }) => ({ row: i + 0.5, day: fine(until - first) })),
  );
  const y = axes.y('row');
  const leakDays = shown.flatMap(({ position, lives }) =>
    lives
      .filter(({ end }) => end === 'leak')
      .map(({ until }) => `${plainName(position)}: leak on ${dateWords(textFromDay(until))}`),
  );
  return [
    layer({ type: 'rule', opacity: 0 }, [{ day: 0 }], {
      x: {
        field: 'day',
        type: 'quantitative',
        scale,
        axis: { ...dateAxis(textFromDay(first), span, width), grid: true },
      },
    }),
    layer({ type: 'rule', color: COLOUR.fill, strokeWidth: 6, opacity: 1 }, bars, {
      x: onScale('from', scale),
      x2: { field: 'until' },
      y,
    }),
    tipped(diamonds(leaks, { x: onScale('day', scale), y }, 60), leakDays),
  ];
}

const last = (lives: PositionLives['lives']): Day =>
  lives.reduce((most, { until }) => Math.max(most, until), -Infinity);

function keyLayers(): Layer[] {
  const text = (words: string, x: number): Layer =>
    layer(
      { type: 'text', align: 'left', baseline: 'middle', color: COLOUR.text, fontSize: 11 },
      [{ label: words }],
      { x: { value: x }, y: { value: -12 }, text: { field: 'label', type: 'nominal' } },
    );
  return [
    layer({ type: 'rule', color: COLOUR.fill, strokeWidth: 6, opacity: 1 }, [{}], {
      x: { value: 0 },
      x2: { value: 22 },
      y: { value: -12 },
    }),
    text('one diaphragm', 28),
    diamonds([{}], { x: { value: 122 }, y: { value: -12 } } as never, 60),
    text('leak', 131),
  ];
}

function tableOf(ranked: readonly Row[]): Chart['table'] {
  return {
    columns: ['Position', 'Line', 'Diaphragms', 'Leaks', 'Days of the leaks'],
    rows: ranked.map(({ position, line, lives, leaks }) => [
      plainName(position),
      plainName(line),
      lives.length,
      leaks,
      lives
        .filter(({ end }) => end === 'leak')
        .map(({ until }) => dateWords(textFromDay(until)))
        .join(', '),
    ]),
  };
}
