import { describe, expect, it } from 'vitest';
import { costRateChart, costSplit, intervalsOverview } from '../../lib/chart/index.js';
import { COLOUR } from '../../lib/chart/theme.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import { chartPage } from '../../lib/render/page.js';
import { displayData } from '../../lib/render/show.js';
import { chartSvg, draw, drawOnce } from '../../lib/render/svg.js';
import { hostilePlan, ordinaryPlan } from '../fixtures/plan.js';

const plan = ordinaryPlan();
const chart = costSplit(plan.cost, 'EUR');

describe('chartSvg', () => {
  it('is one image with a name and a description', async () => {
    const svg = await chartSvg(chart, { idPrefix: 'a1' });
    expect(svg).toMatch(/^<svg [^>]*role="img" aria-labelledby="a1-title a1-desc">/);
    expect(svg).toContain('<title id="a1-title">Where the money goes</title>');
    expect(svg).toContain('<desc id="a1-desc">686');
    expect(svg.slice(svg.indexOf('>'))).not.toMatch(/role=|aria-/);
  });

  it('gives two pictures no id in common', async () => {
    const clipped = costRateChart(plan.intervals[0] as IntervalAdvice, plan.groups[0] ?? null, 'EUR');
    const [one, two] = [
      await chartSvg(clipped, { idPrefix: 'a' }),
      await chartSvg(clipped, { idPrefix: 'b' }),
    ];
    const ids = (svg: string) => [...svg.matchAll(/\bid="([^"]+)"/g)].map(([, id]) => id);
    expect(ids(one).length).toBeGreaterThan(2);
    expect(ids(one).filter((id) => ids(two).includes(id))).toEqual([]);
    for (const [, id] of one.matchAll(/url\(#([^)]+)\)/g)) expect(ids(one)).toContain(id);
  });

  it('shortens the digits of places, never those of words', async () => {
    const { spec } = chart;
    const words = JSON.stringify(spec).replace('"label":"today"', '"label":"0.00123 today"');
    const svg = await chartSvg({ ...chart, description: 'a share of 0.00456', spec: JSON.parse(words) });
    expect(svg).toContain('>0.00123 today<');
    expect(svg).toContain('>a share of 0.00456<');
    expect(svg.replace(/>[^<]*</g, '><')).not.toMatch(/\d\.\d{3}/);
  });

  it('draws the same bytes twice', async () => {
    expect(await chartSvg(chart)).toBe(await chartSvg(chart));
  });

  it('draws a spec once where asked, and dresses it as often as needed', async () => {
    let drawings = 0;
    const once = drawOnce((spec) => {
      drawings += 1;
      return draw(spec);
    });
    const other = { ...chart, spec: { ...chart.spec, height: 123 } };
    const ahead = await chartSvg(chart, {}, once);
    expect(await chartSvg(chart, { idPrefix: 'c7' }, once)).toBe(await chartSvg(chart, { idPrefix: 'c7' }));
    expect(drawings).toBe(1);
    expect(await chartSvg(other, {}, once)).not.toBe(ahead);
    expect(drawings).toBe(2);
  });

  it('leaves the heading out where asked, and its room with it', async () => {
    const height = (svg: string): number => Number(/height="(\d+)"/.exec(svg)?.[1]);
    const [whole, bare] = [await chartSvg(chart), await chartSvg(chart, { heading: false })];
    expect(bare.match(/<text[^>]*>Where the money goes/)).toBeNull();
    expect(height(whole) - height(bare)).toBe(
      (chart.spec.usermeta as { headingHeight: number }).headingHeight,
    );
  });

  it('swaps every colour of the theme for a variable where asked', async () => {
    const svg = await chartSvg(chart, { variables: true });
    expect(svg).toContain('fill="var(--rust)"');
    for (const colour of Object.values(COLOUR)) expect(svg).not.toContain(`"${colour}"`);
    expect(await chartSvg(chart)).not.toContain('var(');
  });

  it('escapes what a user typed', async () => {
    const { intervals } = hostilePlan();
    const svg = await chartSvg(intervalsOverview(intervals, 'EUR'));
    expect(svg).not.toMatch(/<img|<script|<svg onload/);
    expect(svg).toContain('&lt;img');
  });
});

describe('chartPage', () => {
  it('holds the library, lists its scripts by hash and names nothing outside', async () => {
    const page = await chartPage(chart);
    expect(page.match(/'sha256-/g)).toHaveLength(4);
    expect(page).toContain("default-src 'none'");
    expect(page.match(/<script/g)).toHaveLength(4);
    expect(page).not.toMatch(/<script[^>]+src=|<link/);
  });
});

describe('displayData', () => {
  it('carries object, picture and words, and no page', async () => {
    const data = displayData(chart, await chartSvg(chart));
    expect(Object.keys(data)).toEqual(['application/vnd.vegalite.v5+json', 'image/svg+xml', 'text/plain']);
    expect(data['application/vnd.vegalite.v5+json']).toHaveProperty('$schema');
    expect(data['text/plain']).toContain(chart.description);
  });
});
