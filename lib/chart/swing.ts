/** How far each assumption by itself moves the saving, widest first. */

import type { Swing } from '../yearly/outlookTypes.js';
import type { CostComparison } from '../yearly/types.js';
import { fine, spanTicks, tickText } from './axes.js';
import { frameSpec, plotWidth } from './frame.js';
import { label, layer, onScale } from './marks.js';
import { moneyWords } from './money.js';
import { type RowAxes, rowAxes } from './rows.js';
import { AXIS, COLUMN, TITLE } from './texts.js';
import { textWidth } from './textWidth.js';
import { COLOUR, LABEL_SIZE } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, listed, plainName, range } from './words.js';

const ROW = 30;
/** Rows of the picture, at most; the table has all. */
const MOST_ROWS = 9;
/** Over the widths at the right end. */
const SWING_WORD = 'swing';
/** A swing below this share of the widest is no more than a line. */
const SMALLEST = 0.002;

/** "leak downtime hours", "lives of EPDM". */
export function assumptionName(assumption: string): string {
  return plainName(assumption)
    .replace(/^life models of /, 'lives of ')
    .replace(/_/g, ' ');
}

export function swingChart(cost: CostComparison, currency: string): Chart {
  const { ranked } = cost.outlook.swings;
  const widest = ranked[0]?.width ?? 0;
  const shown = ranked.filter(({ width }) => width > SMALLEST * widest).slice(0, MOST_ROWS);
  const title = TITLE.whatSavingHangsOn;
  const finding = findingOf(cost, currency);
  const description = descriptionOf(cost, shown, currency);
  return {
    name: 'swing',
    title,
    finding,
    description,
    spec: specOf(cost, shown, { title, finding, description }, currency),
    table: tableOf(cost, currency),
    leftOut: leftOut(cost, shown),
  };
}

function findingOf(cost: CostComparison, currency: string): string {
  const { saving, ranked } = cost.outlook.swings;
  const money = moneyWords(cost);
  const [first] = ranked;
  if (first === undefined || first.width === 0)
    return 'No assumption that is given as a range moves the saving';
  const [low, high] = endsOf(first);
  const most = `Most by ${assumptionName(first.assumption)}: saving ${range(low, high, money)} instead of ${money(saving)} ${currency} a year`;
  const turning = ranked.filter(turns).map(({ assumption }) => assumptionName(assumption));
  if (turning.length > 0) return `${most}; whether it is a saving at all hangs on ${listed(turning)}`;
  return `${most}; no single assumption turns it into a ${saving >= 0 ? 'loss' : 'saving'}`;
}

const endsOf = ({ savingAtLow, savingAtHigh }: Swing): [number, number] =>
  savingAtLow <= savingAtHigh ? [savingAtLow, savingAtHigh] : [savingAtHigh, savingAtLow];

const turns = (swing: Swing): boolean => {
  const [low, high] = endsOf(swing);
  return low < 0 && high > 0;
};

function descriptionOf(cost: CostComparison, shown: readonly Swing[], currency: string): string {
  const money = moneyWords(cost);
  const each = shown.map((swing) => swingText(swing, money));
  const list =
    each.length === 0
      ? ''
      : ` Saving, ${currency} a year, with one at its ends and all others at their means: ${each.join('; ')}.`;
  return `${findingOf(cost, currency)}.${list}`;
}

function swingText(swing: Swing, money: (value: number) => string): string {
  return `${assumptionName(swing.assumption)} (${valueWords(swing)}) ${range(...endsOf(swing), money)}`;
}

/** "2 to 6 hours", or "low to high" where there is no one number. */
function valueWords(swing: Swing): string {
  const [low, high] = valueEnds(swing);
  return `${low} to ${high}${swing.low === null ? '' : ` ${swing.unit ?? ''}`}`;
}

function valueEnds({ low, high, kind }: Swing): [string, string] {
  if (low === null || high === null) return kind === 'setting' ? ['low', 'high'] : ['5 %', '95 %'];
  return [amount(low), amount(high)];
}

function specOf(
  cost: CostComparison,
  shown: readonly Swing[],
  texts: { title: string; finding: string; description: string },
  currency: string,
): Chart['spec'] {
  const rows = rowAxes(shown.map(nameWithUnit), ROW);
  const money = moneyWords(cost);
  const widths = [...shown.map((swing) => money(swing.width)), SWING_WORD];
  const right = Math.ceil(Math.max(...widths.map((text) => textWidth(text, LABEL_SIZE, true)))) + 26;
  const { saving } = cost.outlook.swings;
  const values = [saving, ...shown.flatMap(endsOf)];
  const [least, most] = [Math.min(...values), Math.max(...values)];
  // Room for the words beside the longest bars.
  const width = plotWidth({ left: rows.left, right });
  const room = ((most - least || Math.abs(saving) || 1) * 46) / Math.max(40, width - 92);
  const domain = [least - room, most + room];
  const ticks = spanTicks(least, most === least ? least + 1 : most, 4).filter(
    (tick) => tick >= (domain[0] ?? 0) && tick <= (domain[1] ?? 0),
  );
  const scale = { domain, nice: false, zero: false };
  return frameSpec({
    ...texts,
    height: rows.height,
    left: rows.left,
    right,
    across: AXIS.savingMoneyYearLongRun(currency),
    layers: [
      layer({ type: 'rule', opacity: 0 }, [{ value: saving }], {
        x: {
          field: 'value',
          type: 'quantitative',
          scale,
          axis: { values: ticks, grid: true, labelExpr: tickText(), labelOverlap: true, labelFlush: false },
        },
      }),
      ...barLayers(shown, rows, scale, money),
      ...meanLayers(saving, scale, money),
      ...rows.names,
      ...widthLayers(shown, rows, width, money),
    ],
  });
}

/** Name over what its ends are, where the name does not say so. */
function nameWithUnit({ assumption, unit, low, kind }: Swing): string {
  const name = assumptionName(assumption);
  if (kind === 'life models') return `${name}\n5 % to 95 % of the models`;
  if (unit === null || assumption.includes(unit)) return name;
  return `${name}\n${low === null ? `${unit}, by line` : unit}`;
}

function barLayers(
  shown: readonly Swing[],
  rows: RowAxes,
  scale: Record<string, unknown>,
  money: (value: number) => string,
): Layer[] {
  const bars = shown.map((swing, i) => {
    const [from, to] = endsOf(swing);
    return { from: fine(from), to: fine(to), top: i + 0.22, bottom: i + 0.78 };
  });
  const ends = shown.flatMap((swing, i) => {
    const [low, high] = valueEnds(swing);
    const isRising = swing.savingAtLow <= swing.savingAtHigh;
    const [left, right] = isRising ? [low, high] : [high, low];
    const [from, to] = endsOf(swing);
    return [
      { at: fine(from), row: i + 0.5, label: left, isLeft: true },
      { at: fine(to), row: i + 0.5, label: right, isLeft: false },
    ];
  });
  const words = (isLeft: boolean): Layer =>
    label(
      ends.filter((end) => end.isLeft === isLeft),
      { x: onScale('at', scale), y: rows.y('row') },
      { align: isLeft ? 'right' : 'left', dx: isLeft ? -5 : 5, color: COLOUR.text },
    );
  return [
    tipped(
      layer({ type: 'rect', color: COLOUR.navy, opacity: 1 }, bars, {
        x: onScale('from', scale),
        x2: { field: 'to' },
        y: rows.y('top'),
        y2: { field: 'bottom' },
      }),
      shown.map((swing) => swingText(swing, money)),
    ),
    words(true),
    words(false),
  ];
}

/** The saving with everything at its mean, and 0 where it is in view. */
function meanLayers(saving: number, scale: { domain: number[] }, money: (value: number) => string): Layer[] {
  const x = onScale('value', scale);
  const rule = (value: number, color: string, dash: number[]): Layer =>
    layer({ type: 'rule', color, strokeWidth: 1.5, strokeDash: dash, opacity: 1 }, [{ value: fine(value) }], {
      x,
    });
  const [low = 0, high = 0] = scale.domain;
  const zero = low < 0 && high > 0 ? [rule(0, COLOUR.ink, [1, 0])] : [];
  return [
    ...zero,
    rule(saving, COLOUR.rust, [4, 3]),
    label(
      [{ value: fine(saving), label: `all at their means: ${money(saving)}` }],
      { x, y: { value: -8 } },
      { align: 'center', bold: true, color: COLOUR.rust },
    ),
  ];
}

/** Widths at the right end. */
function widthLayers(
  shown: readonly Swing[],
  rows: RowAxes,
  width: number,
  money: (value: number) => string,
): Layer[] {
  return [
    label(
      shown.map((swing, i) => ({ row: i + 0.5, label: money(swing.width) })),
      { x: { value: width + 8 }, y: rows.y('row') },
      { bold: true },
    ),
    label(
      [{ label: SWING_WORD }],
      { x: { value: width + 8 }, y: { value: -8 } },
      { color: COLOUR.text, size: 11 },
    ),
  ];
}

function tableOf(cost: CostComparison, currency: string): Chart['table'] {
  const money = moneyWords(cost);
  return {
    columns: [
      COLUMN.assumption,
      COLUMN.fromAndTo,
      `Saving at low, ${currency} a year`,
      COLUMN.savingAtHigh,
      COLUMN.swing,
      COLUMN.intervalsOffBestLow,
      COLUMN.atHigh,
    ],
    rows: cost.outlook.swings.ranked.map((swing) => [
      assumptionName(swing.assumption),
      valueWords(swing),
      money(swing.savingAtLow),
      money(swing.savingAtHigh),
      money(swing.width),
      money(swing.regretAtLow),
      money(swing.regretAtHigh),
    ]),
  };
}

function leftOut({ outlook, missing }: CostComparison, shown: readonly Swing[]): string | null {
  const rest = outlook.swings.ranked.filter((swing) => !shown.includes(swing));
  const small = rest.filter(({ width }) => width > 0).map(({ assumption }) => assumptionName(assumption));
  const exact = rest.filter(({ width }) => width === 0).map(({ assumption }) => assumptionName(assumption));
  const parts = [
    small.length === 0 ? '' : `Not drawn, as they move little: ${listed(small)}.`,
    exact.length === 0 ? '' : `Given as one number, or without effect: ${listed(exact)}.`,
    missing.length === 0 ? '' : `Not given, so not weighed at all: ${listed(missing.map(assumptionName))}.`,
  ].filter((part) => part !== '');
  return parts.length === 0 ? null : parts.join(' ');
}
