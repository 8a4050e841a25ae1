/** What is drawn on the plane of a cost curve, from the back to the front. */

import { isKept } from '../interval/adviceKind.js';
import type { IntervalAdvice } from '../interval/types.js';
import { at } from '../numeric/columns.js';
import { countAxis, fine, monthTicks, tickText } from './axes.js';
import { type Canvas, meanAt } from './costCanvas.js';
import { plotWidth } from './frame.js';
import { hatching } from './hatching.js';
import { circles, diamonds, label, layer, onScale } from './marks.js';
import { textWidth } from './textWidth.js';
import { COLOUR, LABEL_SIZE } from './theme.js';
import { pointer } from './tips.js';
import type { Layer } from './types.js';
import { amount, monthsFromDays, monthsOrDays, range } from './words.js';

/** Height of the plot and room beside it, px. */
export const HEIGHT = 230;
export const LEFT = 56;
export const RIGHT = 18;

export function costLayers(interval: IntervalAdvice, canvas: Canvas): Layer[] {
  return [
    axesLayer(canvas),
    ...spanLayers(interval, canvas),
    ...curveLayers(interval, canvas),
    ...beyondLayers(canvas),
    ...barLayers(interval, canvas),
    ...pointLayers(interval, canvas),
  ];
}

function axesLayer({ months, ticks, scaleX, scaleY }: Canvas): Layer {
  const axisX = {
    values: monthTicks(months),
    labelExpr: tickText(),
    grid: false,
  };
  return layer({ type: 'rule', opacity: 0 }, [{ months: 0, cost: 0 }], {
    x: { field: 'months', type: 'quantitative', scale: scaleX, axis: axisX },
    y: { field: 'cost', type: 'quantitative', scale: scaleY, axis: countAxis(ticks) },
  });
}

/** The 2 % span as a soft area. */
function spanLayers(interval: IntervalAdvice, canvas: Canvas): Layer[] {
  return spanRect(interval, canvas, COLOUR.soft, 0);
}

/** The 2 % span as a bar on the axis, which also shows in grey print. */
function barLayers(interval: IntervalAdvice, canvas: Canvas): Layer[] {
  return spanRect(interval, canvas, COLOUR.rust, HEIGHT - 5);
}

function spanRect(
  { within2percent }: IntervalAdvice,
  { months, x }: Canvas,
  color: string,
  top: number,
): Layer[] {
  if (within2percent === null) return [];
  const [from, to] = within2percent.map((age) => fine(Math.min(monthsFromDays(age), months))) as [
    number,
    number,
  ];
  return [
    layer({ type: 'rect', color, opacity: 1 }, [{ months: from, to }], {
      x,
      x2: { field: 'to' },
      y: { value: top },
      y2: { value: HEIGHT },
    }),
  ];
}

function curveLayers({ curve }: IntervalAdvice, canvas: Canvas): Layer[] {
  const { x, y, months } = canvas;
  const values = curve.ageDays
    .map((age, i) => ({
      months: fine(monthsFromDays(age)),
      mean: fine(at(curve.mean, i)),
      low: fine(at(curve.low, i)),
      high: fine(at(curve.high, i)),
      early: fine(at(curve.early, i)),
    }))
    .filter((row) => row.months <= months * 1.03);
  const early = earlyLabel(values, canvas);
  return [
    layer({ type: 'area', interpolate: 'monotone', clip: true, color: COLOUR.band, opacity: 0.85 }, values, {
      x,
      y: y('low'),
      y2: { field: 'high' },
    }),
    layer({ type: 'area', interpolate: 'monotone', clip: true, color: COLOUR.fill, opacity: 1 }, values, {
      x,
      y: y('early'),
    }),
    layer(
      { type: 'line', interpolate: 'monotone', clip: true, strokeWidth: 2, color: COLOUR.ink, opacity: 1 },
      values,
      {
        x,
        y: y('mean'),
      },
    ),
    pointer(values, { x, y: y('mean') }, costText),
    ...early,
  ];
}

function costText({ months, mean, low, high, early }: Record<string, unknown>): string {
  const words = (value: unknown): string => amount(Number(value));
  return `${words(months)} months: ${words(mean)} (${range(Number(low), Number(high))}), of it early leaks ${words(early)}`;
}

/** Names the early-leak part where it is tall enough to see. */
function earlyLabel(rows: { months: number; early: number }[], { months, ticks, y }: Canvas): Layer[] {
  const width = plotWidth({ left: LEFT, right: RIGHT });
  const words = 'early leaks of faulty fittings';
  const start = months * (1 - textWidth(words, LABEL_SIZE) / width);
  const row = rows.find((each) => each.months >= start);
  const top = ticks[ticks.length - 1] ?? 1;
  if (row === undefined || row.early < top * 0.004) return [];
  return [
    label(
      [{ early: row.early, label: words }],
      { x: { value: width - 4 }, y: y('early') },
      { align: 'right', dy: -9, color: COLOUR.text },
    ),
  ];
}

/** Hatching where the records do not speak. */
function beyondLayers({ group, months, ticks, x, scaleX, scaleY }: Canvas): Layer[] {
  const support = group?.supportedAge ?? null;
  if (support === null || monthsFromDays(support) >= months * 0.97) return [];
  const from = monthsFromDays(support);
  const top = ticks[ticks.length - 1] ?? 1;
  const width = plotWidth({ left: LEFT, right: RIGHT });
  const lines = hatching({ x: [from, months], y: [0, top] }, { x: width / months, y: HEIGHT / top }, 9);
  const words = 'beyond the records';
  const room = (1 - from / months) * width;
  const text = room > textWidth(words, LABEL_SIZE) + 8;
  return [
    layer({ type: 'rule', color: COLOUR.rule, strokeWidth: 0.8, opacity: 0.55 }, lines, {
      x: onScale('x', scaleX),
      x2: { field: 'x2' },
      y: onScale('y', scaleY),
      y2: { field: 'y2' },
    }),
    layer(
      { type: 'rule', strokeDash: [3, 3], color: COLOUR.text, strokeWidth: 1, opacity: 1 },
      [{ months: fine(from) }],
      { x },
    ),
    ...(text ? [beyondLabel(words, width)] : []),
  ];
}

function beyondLabel(words: string, width: number): Layer {
  return layer(
    { type: 'text', align: 'right', baseline: 'bottom', color: COLOUR.text, fontSize: LABEL_SIZE },
    [{ label: words }],
    { x: { value: width }, y: { value: -4 }, text: { field: 'label', type: 'nominal' } },
  );
}

/** Today as a circle, the proposal as a diamond, labels on opposite sides with a leader line. */
function pointLayers(interval: IntervalAdvice, canvas: Canvas): Layer[] {
  const { x, y } = canvas;
  const proposed = interval.action === 'run' ? null : interval.days;
  const today = interval.today;
  const row = (age: number) => [
    { months: fine(monthsFromDays(age)), cost: fine(meanAt(interval.curve, age)) },
  ];
  const axes = { x, y: y('cost') };
  const layers: Layer[] = [];
  const left = proposed !== null && (today === null || proposed <= today);
  if (today !== null) {
    layers.push(...callout(row(today), canvas, `today ${monthsOrDays(today)}`, !left, false));
    layers.push(circles(row(today), axes, 80));
  }
  if (proposed !== null) {
    layers.push(
      ...callout(
        row(proposed),
        canvas,
        `${isKept(interval) ? 'keep' : 'proposed'} ${monthsOrDays(proposed)}`,
        left,
        true,
      ),
    );
    layers.push(diamonds(row(proposed), axes, 90));
  }
  return layers;
}

function callout(
  rows: { months: number; cost: number }[],
  canvas: Canvas,
  text: string,
  wantLeft: boolean,
  rust: boolean,
): Layer[] {
  const { x, y, months } = canvas;
  const color = rust ? COLOUR.rust : COLOUR.ink;
  const width = plotWidth({ left: LEFT, right: RIGHT });
  const px = ((rows[0]?.months ?? 0) / months) * width;
  const room = textWidth(text, LABEL_SIZE, true) + 8;
  const left = wantLeft ? px > room : px > width - room;
  const level = rust ? 12 : 28;
  const values = rows.map((row) => ({ ...row, label: text }));
  return [
    layer({ type: 'rule', strokeDash: [2, 3], color, strokeWidth: 1, opacity: 1 }, values, {
      x,
      y: y('cost'),
      y2: { value: level - 6 },
    }),
    layer(
      {
        type: 'text',
        align: left ? 'right' : 'left',
        baseline: 'middle',
        dx: left ? -5 : 5,
        color,
        fontSize: LABEL_SIZE,
        fontWeight: 'bold',
      },
      values,
      { x, y: { value: level }, text: { field: 'label', type: 'nominal' } },
    ),
  ];
}
