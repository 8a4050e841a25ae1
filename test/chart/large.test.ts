/** Charts of a very large plant: no picture grows with the plant, and each says what it leaves out. */
import { describe, expect, it } from 'vitest';
import { probabilityPlot } from '../../lib/chart/index.js';
import { thinned } from '../../lib/chart/thinned.js';
import type { GroupResult } from '../../lib/group/resultTypes.js';
import { draw } from '../../lib/render/svg.js';
import { largePlan } from '../fixtures/largePlan.js';
import { chartsOf } from './charts.js';

const MOST_MARKS = 2000;
const plan = largePlan(500, 10_000);

describe('charts of 500 groups and 10 000 positions', () => {
  it.each(chartsOf(plan).map((chart, i) => [`${i} ${chart.name}`, chart] as const))(
    '%s has few marks',
    async (_name, chart) => {
      const { svg, warnings } = await draw(chart.spec);
      expect(warnings).toEqual([]);
      expect(svg).not.toMatch(/NaN|undefined|Infinity/);
      const marks = svg.match(/<(?:path|line|rect|text|circle)\b/g)?.length ?? 0;
      expect(marks).toBeGreaterThan(3);
      expect(marks).toBeLessThan(MOST_MARKS);
    },
  );

  it('says how many leaks and ticks of so many are drawn', () => {
    const group = plan.groups[0] as GroupResult;
    expect(probabilityPlot(group).leftOut).toBe(
      '600 leaks drawn of 10\u00a0000, evenly by age. 600 ticks drawn of 10\u00a0000, evenly by age.',
    );
    const few = { ...group.empirical, running: [1, 2, 3], age: [5], failed: [0.1] };
    expect(probabilityPlot({ ...group, empirical: few }).leftOut).toBeNull();
  });
});

describe('thinned', () => {
  it('keeps both ends, the order and the number asked for', () => {
    const list = Array.from({ length: 1001 }, (_, i) => i);
    const kept = thinned(list, 11);
    expect(kept).toEqual([0, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000]);
    expect(thinned(list, 1001)).toBe(list);
  });
});
