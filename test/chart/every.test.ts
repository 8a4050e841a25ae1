/**
 * What holds for every chart of every plan: it compiles without a word under both versions of the language, draws only numbers, has
 * title and units, and its words keep apart and inside.
 */
import { describe, expect, it } from 'vitest';
import { AXIS } from '../../lib/chart/texts.js';
import { wrapText } from '../../lib/chart/textWidth.js';
import { CHART_WIDTH, TITLE_SIZE } from '../../lib/chart/theme.js';
import type { Chart } from '../../lib/chart/types.js';
import { inLocale } from '../../lib/numeric/locale.js';
import type { Plan } from '../../lib/planTypes.js';
import { draw } from '../../lib/render/svg.js';
import { onePlan, withMoney } from '../fixtures/otherPlans.js';
import { emptyPlan, hostilePlan, manyGroupsPlan, ordinaryPlan, quietPlan } from '../fixtures/plan.js';
import { chartsOf } from './charts.js';
import { compilerOf5 } from './compilerOf5.js';
import { outside, overlapping, wordBoxes } from './pictureWords.js';

const PLANS: Record<string, Plan> = {
  ordinary: ordinaryPlan(),
  quiet: quietPlan(),
  empty: emptyPlan(),
  hostile: hostilePlan(),
  'with 1 group': onePlan(),
  'with 500 groups': manyGroupsPlan(500),
  'with sums of 1e9': withMoney(ordinaryPlan(), 2000),
  'with sums of 0.001': withMoney(ordinaryPlan(), 2e-9),
  German: { ...ordinaryPlan(), site: { ...ordinaryPlan().site, locale: 'de-DE' } },
};

/** Pictures whose only axis is the calendar. */
const WITHOUT_AXIS = ['life-timeline', 'expiry'];

const textsOf = (chart: Chart): string[] => [chart.title, chart.finding, chart.description];

const words = (text: string): string => text.replaceAll('\u00a0', ' ');

const AXIS_WORDS = Object.values(AXIS).map((each) => (typeof each === 'string' ? each : each('EUR')));

const warningsOf5 = compilerOf5();

/** Charts of a kind of which each of many groups and items has one: all where names matter, else a few. */
const MOST_OF_A_KIND: Record<string, number> = { hostile: 9, ordinary: 4 };
/** Plans for which the older compiler is asked too: each kind of chart full, empty and large. */
const BY_BOTH = ['ordinary', 'empty', 'with 500 groups'];

describe.each(Object.entries(PLANS))('every chart of the %s plan', (name, plan) => {
  const all = inLocale(plan.site.locale, () => chartsOf(plan, MOST_OF_A_KIND[name] ?? 2));
  const charts = name.includes('sums') ? all.filter(({ description }) => description.includes('EUR')) : all;
  it.each(charts.map((chart, i) => [`${i} ${chart.name}`, chart] as const))('%s', async (_chart, chart) => {
    const { svg, warnings } = await draw(chart.spec);
    expect(warnings).toEqual([]);
    if (BY_BOTH.includes(name)) expect(warningsOf5(chart.spec)).toEqual([]);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    for (const text of textsOf(chart)) {
      expect(text.trim().length).toBeGreaterThan(3);
      expect(text).not.toMatch(/NaN|undefined|Infinity|null/);
    }
    expect(chart.spec.description).toBe(chart.description);
    for (const row of chart.table.rows) expect(row).toHaveLength(chart.table.columns.length);
    const boxes = wordBoxes(svg);
    const shown = boxes.map(({ text }) => words(text));
    for (const line of wrapText(chart.title, CHART_WIDTH - 8, TITLE_SIZE, true))
      expect(shown).toContain(words(line));
    if (!WITHOUT_AXIS.some((name) => chart.name.startsWith(name))) {
      expect(shown.filter((text) => AXIS_WORDS.includes(text)).length).toBeGreaterThan(0);
    }
    expect(overlapping(boxes)).toEqual([]);
    expect(outside(svg, boxes)).toEqual([]);
  });
});

describe('decimal commas', () => {
  it('stand in every number with decimals that a picture shows', async () => {
    const { charts, plan } = { plan: PLANS.German as Plan, charts: chartsOf };
    for (const chart of inLocale(plan.site.locale, () => charts(plan, 1))) {
      const shown = wordBoxes((await draw(chart.spec)).svg).map(({ text }) => text);
      // A point between digits is the mark of thousands here: three digits follow it, or it is a fault.
      const wrong = shown.filter((text) => /\d\.\d/.test(text) && /\d\.(?!\d{3}(?!\d))\d/.test(text));
      expect(wrong, chart.name).toEqual([]);
    }
  });
});

describe('the words test itself', () => {
  const svg =
    '<svg viewBox="0 0 60 30"><g transform="translate(5,5)"><text x="0" transform="translate(0,10)" font-size="11px">one</text><text transform="translate(4,12)" font-size="11px">two</text></g><text transform="translate(50,20)" font-size="11px">outside</text></svg>';

  it('sees two words that lie on each other, and one that leaves the picture', () => {
    expect(overlapping(wordBoxes(svg))).toEqual(['"one" and "two"']);
    expect(outside(svg, wordBoxes(svg))).toEqual(['outside']);
  });

  it('sees upright words', () => {
    const upright =
      '<svg viewBox="0 0 60 90"><text text-anchor="middle" transform="translate(20,45) rotate(-90)" font-size="10px">upright words</text><text transform="translate(10,30)" font-size="10px">across</text></svg>';
    expect(overlapping(wordBoxes(upright))).toEqual(['"upright words" and "across"']);
  });
});

describe('the compiler of version 5', () => {
  it('tells of what it does not know', () => {
    const chart = chartsOf(PLANS.ordinary as Plan)[0] as Chart;
    const layers = [{ mark: 'point', encoding: { nowhere: { field: 'a', type: 'nominal' } } }];
    const odd = { ...chart.spec, layer: layers };
    expect(warningsOf5(odd).length).toBeGreaterThan(0);
  });
});
