/** What holds for every chart of every plan: it compiles without a word, draws only numbers, and its words keep apart. */
import { describe, expect, it } from 'vitest';
import { textWidth } from '../../lib/chart/textWidth.js';
import { CHART_WIDTH } from '../../lib/chart/theme.js';
import type { Chart } from '../../lib/chart/types.js';
import { draw } from '../../lib/render/svg.js';
import { emptyPlan, hostilePlan, manyGroupsPlan, ordinaryPlan, quietPlan } from '../fixtures/plan.js';
import { chartsOf } from './charts.js';

const PLANS = {
  ordinary: ordinaryPlan(),
  quiet: quietPlan(),
  empty: emptyPlan(),
  hostile: hostilePlan(),
  'with 500 groups': manyGroupsPlan(500),
};

interface Box {
  text: string;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/** Boxes of all words of a picture, in its own px, from the transforms round them. */
function textBoxes(svg: string): Box[] {
  const boxes: Box[] = [];
  const offsets: [number, number][] = [[0, 0]];
  for (const [token, name, attributes = '', text = ''] of svg.matchAll(/<(\/?g|text)\b([^>]*)>([^<]*)/g)) {
    if (name === '/g') offsets.pop();
    else {
      const [x, y] = offsets[offsets.length - 1] as [number, number];
      const shift = /translate\(([-\d.]+),\s*([-\d.]+)\)/.exec(attributes);
      const place: [number, number] = [x + Number(shift?.[1] ?? 0), y + Number(shift?.[2] ?? 0)];
      if (name === 'g') offsets.push(token.endsWith('/>') ? place : place);
      else if (!/rotate/.test(attributes) && !/opacity="0"/.test(attributes))
        boxes.push(...boxOf(text, attributes, place));
    }
  }
  return boxes;
}

function boxOf(raw: string, attributes: string, [x, y]: [number, number]): Box[] {
  const text = raw.replace(/&amp;/g, '&').replace(/&lt;/g, '<').replace(/&gt;/g, '>');
  if (text.trim() === '') return [];
  const size = Number(/font-size="([\d.]+)/.exec(attributes)?.[1] ?? 11);
  const width = textWidth(text, size, /font-weight="bold"/.test(attributes));
  const anchor = /text-anchor="(\w+)"/.exec(attributes)?.[1] ?? 'start';
  const left = anchor === 'middle' ? x - width / 2 : anchor === 'end' ? x - width : x;
  return [{ text, left, right: left + width, top: y - size * 0.72, bottom: y + size * 0.2 }];
}

function overlapping(boxes: Box[]): string[] {
  const found: string[] = [];
  boxes.forEach((a, i) => {
    for (const b of boxes.slice(i + 1)) {
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      if (across > 1 && down > 1) found.push(`"${a.text}" and "${b.text}"`);
    }
  });
  return found;
}

const textsOf = (chart: Chart): string[] => [chart.title, chart.finding, chart.description];

describe.each(Object.entries(PLANS))('every chart of the %s plan', (_name, plan) => {
  it.each(chartsOf(plan).map((chart, i) => [`${i} ${chart.name}`, chart] as const))(
    '%s',
    async (_chart, chart) => {
      const { svg, warnings } = await draw(chart.spec);
      expect(warnings).toEqual([]);
      expect(svg).not.toMatch(/NaN|undefined|Infinity/);
      for (const text of textsOf(chart)) {
        expect(text.trim().length).toBeGreaterThan(3);
        expect(text).not.toMatch(/NaN|undefined|Infinity|null/);
      }
      expect(chart.spec.description).toBe(chart.description);
      for (const row of chart.table.rows) expect(row).toHaveLength(chart.table.columns.length);
      const boxes = textBoxes(svg);
      expect(boxes.length).toBeGreaterThan(0);
      expect(overlapping(boxes)).toEqual([]);
      expect(
        boxes.filter((box) => box.left < -1 || box.right > CHART_WIDTH + 1).map(({ text }) => text),
      ).toEqual([]);
    },
  );
});

describe('the words test itself', () => {
  it('sees two words that lie on each other', () => {
    const svg =
      '<svg><g transform="translate(5,5)"><text x="0" transform="translate(0,10)" font-size="11px">one</text><text transform="translate(4,12)" font-size="11px">two</text></g></svg>';
    expect(overlapping(textBoxes(svg))).toEqual(['"one" and "two"']);
  });
});
