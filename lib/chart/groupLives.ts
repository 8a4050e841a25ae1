/** Groups side by side as they are planned on: the age by which one in ten has leaked and the scale, each with its bounds. */

import type { Drawn, GroupResult } from '../group/resultTypes.js';
import { fine, logTicks, tickText } from './axes.js';
import { frameSpec, plotWidth } from './frame.js';
import { circles, layer, onScale } from './marks.js';
import { endWords, type RowAxes, rowAxes, rowFrame } from './rows.js';
import { AXIS, COLUMN, KEY, TITLE } from './texts.js';
import { COLOUR } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, count, fixed, monthsFromDays, monthsText, percent, plainName, range } from './words.js';

export const MOST_GROUPS = 30;

export function groupLives(groups: readonly GroupResult[]): Chart {
  const ranked = [...groups].sort((a, b) => a.planned.b10.median - b.planned.b10.median);
  const most = [...groups].sort((a, b) => b.positions - a.positions).slice(0, MOST_GROUPS);
  const shown = ranked.filter((group) => most.includes(group));
  const title = TITLE.howLongTheyLastGroup;
  const finding = findingOf(ranked);
  const description = `${finding}. ${shown.slice(0, 8).map(groupText).join('; ')}${shown.length > 8 ? '; and more in the table' : ''}.`;
  return {
    name: 'group-lives',
    title,
    finding,
    description,
    spec: specOf(shown, { title, finding, description }),
    table: tableOf(ranked),
    leftOut:
      ranked.length > shown.length
        ? `The picture shows the ${shown.length} groups with most positions; the rest is in the table.`
        : null,
  };
}

function findingOf(ranked: readonly GroupResult[]): string {
  const [first, last] = [ranked[0], ranked[ranked.length - 1]];
  if (first === undefined || last === undefined) return 'No group could be formed';
  const early = `One in ten has leaked by ${tenth(first)} in ${plainName(first.group)}`;
  return ranked.length === 1 ? early : `${early}, by ${tenth(last)} in ${plainName(last.group)}`;
}

const tenth = ({ planned: { b10 } }: GroupResult): string =>
  `${monthsText(b10.median)} months (${range(b10.low, b10.high, monthsText)})`;

function groupText(group: GroupResult): string {
  return `${plainName(group.group)} ${tenth(group)}, ${count(Math.round(group.failures), 'leak')} in ${count(group.lives, 'life', 'lives')}, ${isAssumed(group) ? 'assumed' : `borrowed ${percent(group.borrowed)}`}`;
}

/** No wear-out leak in the material: what is beyond the group's own lives is assumed, not borrowed. */
function isAssumed({ materialWearLeaks }: GroupResult): boolean {
  return materialWearLeaks < 1;
}

function borrowedCell(group: GroupResult): string {
  return isAssumed(group) ? 'assumed' : percent(group.borrowed);
}

function specOf(
  shown: GroupResult[],
  texts: { title: string; finding: string; description: string },
): Chart['spec'] {
  const rows = rowAxes(shown.map(({ group }) => plainName(group)));
  const words = shown.map((group) => ({
    text: `${amount(Math.round(group.failures), 9)} / ${amount(group.lives, 9)}; ${borrowedCell(group)}`,
  }));
  const frame = rowFrame(rows, words, 120);
  const width = plotWidth(frame);
  return frameSpec({
    ...texts,
    height: rows.height,
    across: AXIS.monthsSinceFittingLogScale,
    ...frame,
    layers: [
      ...layersOf(shown, rows),
      ...rows.names,
      ...endWords(words, rows, frame, width),
      ...keyLayers(width, frame.right),
    ],
  });
}

function layersOf(shown: GroupResult[], rows: RowAxes): Layer[] {
  const all = shown
    .flatMap(({ planned: { b10, scale } }) => [b10.low, b10.high, scale.low, scale.high])
    .map(monthsFromDays);
  const domain = [
    Math.max(0.1, Math.min(...all, 12) * 0.85),
    Math.min(1200, Math.max(...all, 13) * 1.1),
  ] as const;
  const scale = { type: 'log', domain: domain.map(fine), nice: false };
  const inside = (value: number): number =>
    fine(Math.min(Math.max(monthsFromDays(value), domain[0]), domain[1]));
  const values = shown.map(({ planned: { b10, scale } }, i) => ({
    row: i + 0.5,
    foot: i + 1,
    low: inside(b10.low),
    months: inside(b10.median),
    high: inside(b10.high),
    scaleLow: inside(scale.low),
    scale: inside(scale.median),
    scaleHigh: inside(scale.high),
  }));
  const y = rows.y('row');
  const axis = {
    values: logTicks(...domain),
    grid: true,
    labelExpr: tickText(),
    labelOverlap: true,
  };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ months: fine(domain[0]) }], {
      x: { field: 'months', type: 'quantitative', scale, axis },
    }),
    layer({ type: 'rule', color: COLOUR.grid, strokeWidth: 1 }, values, { y: rows.y('foot') }),
    layer({ type: 'rule', color: COLOUR.rule, strokeWidth: 3, opacity: 1 }, values, {
      x: onScale('scaleLow', scale),
      x2: { field: 'scaleHigh' },
      y,
    }),
    layer(
      { type: 'tick', orient: 'vertical', color: COLOUR.ink, thickness: 2.5, size: 12, opacity: 1 },
      values,
      { x: onScale('scale', scale), y },
    ),
    layer({ type: 'rule', color: COLOUR.ink, strokeWidth: 1.5, opacity: 1 }, values, {
      x: onScale('low', scale),
      x2: { field: 'high' },
      y,
    }),
    tipped(circles(values, { x: onScale('months', scale), y }, 50), shown.map(groupText)),
  ];
}

/** What circle and bar mean, and what stands at the right. */
function keyLayers(width: number, right: number): Layer[] {
  const text = (words: string, x: number, align: 'left' | 'right' = 'left'): Layer =>
    layer({ type: 'text', align, baseline: 'middle', color: COLOUR.text, fontSize: 11 }, [{ label: words }], {
      x: { value: x },
      y: { value: -12 },
      text: { field: 'label', type: 'nominal' },
    });
  return [
    circles([{}], { x: { value: 4 }, y: { value: -12 } } as never, 50),
    text(KEY.of10PercentLeaked, 13),
    layer({ type: 'rule', color: COLOUR.rule, strokeWidth: 3, opacity: 1 }, [{}], {
      x: { value: 86 },
      x2: { value: 104 },
      y: { value: -12 },
    }),
    text(KEY.scale63Percent, 109),
    text(KEY.leaksLivesBorrowed, width + right - 4, 'right'),
  ];
}

/** Both descriptions of each group, named apart. */
function tableOf(groups: readonly GroupResult[]): Chart['table'] {
  return {
    columns: [
      COLUMN.group,
      COLUMN.lives,
      COLUMN.leaks,
      COLUMN.plannedOnShapeBeta,
      COLUMN.plannedOnScaleEtaMonths,
      COLUMN.plannedOn10PercentLeaked,
      COLUMN.borrowedFromOtherGroups,
      COLUMN.ownDataShapeBeta,
      COLUMN.ownDataScaleEtaMonths,
      COLUMN.ownData10PercentLeaked,
    ],
    rows: groups.map((group) => [
      group.group,
      group.lives,
      Math.round(group.failures),
      drawnText(group.planned.shape, (value) => fixed(value, 1)),
      drawnText(group.planned.scale, monthsText),
      drawnText(group.planned.b10, monthsText),
      borrowedCell(group),
      ...ownCells(group),
    ]),
  };
}

function ownCells({ method, model, bounds, b10 }: GroupResult): string[] {
  if (method !== 'likelihood') return ['too few leaks', '', ''];
  return [
    `${fixed(model.shape, 1)} (${range(...bounds.shape, (value) => fixed(value, 1))})`,
    `${monthsText(model.scale)} (${range(...bounds.scale, monthsText)})`,
    `${monthsText(b10[1])} (${range(b10[0], b10[2], monthsText)})`,
  ];
}

function drawnText({ low, median, high }: Drawn, words: (value: number) => string): string {
  return `${words(median)} (${range(low, high, words)})`;
}
