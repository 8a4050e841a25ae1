/** Words under the pointer: in every chart that has something to point at, plain, and left out of still pictures. */
import { describe, expect, it } from 'vitest';
import { layer, onScale } from '../../lib/chart/marks.js';
import { ofRow, pointer, tipped, withoutTips } from '../../lib/chart/tips.js';
import type { Chart, Layer } from '../../lib/chart/types.js';
import { chartSvg, draw } from '../../lib/render/svg.js';
import { emptyPlan, hostilePlan, ordinaryPlan } from '../fixtures/plan.js';
import { chartsOf } from './charts.js';

const layersOf = (chart: Chart): Layer[] => chart.spec.layer as Layer[];

function tipsOf(chart: Chart): string[] {
  return layersOf(chart)
    .filter(({ encoding }) => (encoding as Record<string, unknown>).tooltip !== undefined)
    .flatMap(({ data }) => (data as { values: { tip: string }[] }).values.map(({ tip }) => tip));
}

describe('words under the pointer', () => {
  // The second of a name is one for which something is not on record.
  const first = new Map(
    chartsOf(ordinaryPlan(), 1)
      .reverse()
      .map((chart) => [chart.name, chart]),
  );
  it.each([...first])('are in %s, with a number in each', (_name, chart) => {
    const tips = tipsOf(chart);
    expect(tips.length).toBeGreaterThan(0);
    for (const tip of tips) {
      expect(tip).toMatch(/\d|cannot tell|no need|run/);
      expect(tip).not.toMatch(/NaN|undefined|null|Infinity/);
    }
  });

  it('steer no text and carry no number that is none, whatever names a plant has', () => {
    for (const chart of [...chartsOf(hostilePlan(), 9), ...chartsOf(emptyPlan())]) {
      for (const tip of tipsOf(chart)) expect(tip).not.toMatch(/NaN|undefined|Infinity|[\u202a-\u202e]/);
    }
  });

  it('are no part of a still picture, which is the same without them', async () => {
    const chart = chartsOf(ordinaryPlan(), 1).find(({ name }) => name.startsWith('tight')) as Chart;
    const still = { ...chart.spec, layer: withoutTips(layersOf(chart)) };
    expect(JSON.stringify(still)).not.toContain('"tip"');
    const [live, bare] = [await draw(chart.spec), await draw(still)];
    const shown = (svg: string): string[] =>
      (svg.match(/<(?:path|line|rect|text)\b[^>]*>/g) ?? [])
        .filter((mark) => /fill|stroke/.test(mark) && !/opacity="0"/.test(mark))
        .sort();
    expect(shown(live.svg).length).toBeGreaterThan(20);
    expect(shown(bare.svg)).toEqual(shown(live.svg));
    expect(await chartSvg(chart)).not.toContain('tip');
  });
});

describe('tips by row', () => {
  const axes = { x: onScale('x', {}), y: onScale('y', {}) };
  const rows = [
    { x: 1, y: 1, row: 0.5 },
    { x: 2, y: 1, row: 2.5 },
  ];

  it('belong to the row in which a mark stands, also where rows are left out', () => {
    const { data } = tipped(layer({ type: 'point' }, rows, axes), ofRow(['one', 'two', 'three']));
    expect((data as { values: { tip: string }[] }).values.map(({ tip }) => tip)).toEqual(['one', 'three']);
  });

  it('go again with the layers that are for the pointer alone', () => {
    const plain = layer({ type: 'point' }, rows, axes);
    const kept = withoutTips([tipped(plain, ['a', 'b']), pointer(rows, axes, ['a', 'b'])]);
    expect(kept).toEqual([plain]);
  });
});
