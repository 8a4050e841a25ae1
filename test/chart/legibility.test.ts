/**
 * In grey, and to readers without red or without green cones, what stands beside each other in a chart stays apart: by its colour, or
 * by its form (circle and diamond, line and dashes, bar and line) where the colours look alike.
 */
import { describe, expect, it } from 'vitest';
import { COLOUR, DARK } from '../../lib/chart/theme.js';
import type { Chart, Layer } from '../../lib/chart/types.js';
import { ordinaryPlan } from '../fixtures/plan.js';
import { chartsOf } from './charts.js';
import { apart, contrast, lab, linear, SIGHTS } from './colours.js';

/** Least distance of two colours in L*a*b* for marks told apart by colour alone; 2 is about the least that an eye sees at all. */
const LEAST = 15;
/** The same of areas, which are large and lie on each other; of an area and the paper. */
const LEAST_OF_AREAS = 7;

/** Areas that look alike in grey, and what tells them apart there. */
const TOLD_OTHERWISE: Record<string, string> = {
  'cost band and soft': 'the span within 2 % is drawn again as a bar on the axis',
};

interface Mark {
  form: string;
  colour: string;
  area: boolean;
}

const AREAS = ['area', 'rect', 'bar'];

/** Marks of a spec that carry data: form (kind, shape, dashes) and colours; grids, hairlines of the axes and texts are none. */
function marksOf(chart: Chart): Mark[] {
  return (chart.spec.layer as Layer[]).flatMap(({ mark: given, encoding }) => {
    const mark = given as Record<string, unknown>;
    const { type, opacity, strokeDash, shape, fill, stroke, color } = mark;
    if (type === 'text' || opacity === 0) return [];
    const dashes = (encoding as Record<string, unknown>).strokeDash ?? strokeDash ?? [];
    const dashed = !['[]', '[1,0]'].includes(JSON.stringify(dashes));
    const area = AREAS.includes(String(type)) || (type === 'line' && typeof fill === 'string');
    const form =
      `${type === 'rule' ? 'line' : type} ${shape ?? ''} ${dashed ? JSON.stringify(dashes) : ''}`.trim();
    const own = area ? (fill ?? color) : (stroke ?? color);
    return typeof own === 'string' && own !== COLOUR.grid && own !== COLOUR.paper
      ? [{ form, colour: own, area }]
      : [];
  });
}

const nameOf = (colour: string): string =>
  Object.entries(COLOUR).find(([, value]) => value === colour)?.[0] ?? colour;

/** Pairs that only colour tells apart, by name, with their least distance. */
function pairsOf(chart: Chart): { pair: string; areas: boolean; least: number }[] {
  const marks = marksOf(chart);
  return marks.flatMap((one, i) =>
    marks
      .slice(i + 1)
      .filter(
        ({ colour, area, form }) =>
          colour !== one.colour && (area ? one.area : form === one.form && !one.area),
      )
      .map(({ colour, area }) => ({
        pair: [nameOf(one.colour), nameOf(colour)].sort().join(' and '),
        areas: area,
        least: Math.min(...SIGHTS.map((sight) => apart(one.colour, colour, sight))),
      })),
  );
}

const CHARTS = chartsOf(ordinaryPlan(), 4);
const KINDS = [...new Map(CHARTS.map((chart) => [chart.name.split('-')[0], chart])).values()];

describe('colours that stand beside each other', () => {
  it.each(CHARTS.map((chart, i) => [`${i} ${chart.name}`, chart] as const))('part in %s', (_name, chart) => {
    const kind = chart.name.split('-')[0];
    const alike = pairsOf(chart).filter(
      ({ pair, areas, least }) =>
        least < (areas ? LEAST_OF_AREAS : LEAST) && TOLD_OTHERWISE[`${kind} ${pair}`] === undefined,
    );
    expect(alike).toEqual([]);
  });

  it('are looked at: most charts have a pair that only colour tells apart, or none needs it', () => {
    expect(KINDS.length).toBeGreaterThan(20);
    expect(CHARTS.filter((chart) => marksOf(chart).length > 0)).toHaveLength(CHARTS.length);
    expect(CHARTS.flatMap(pairsOf).length).toBeGreaterThan(20);
  });

  it('part from the paper, areas too', () => {
    for (const chart of CHARTS) {
      for (const { colour, area } of marksOf(chart)) {
        const least = area ? LEAST_OF_AREAS : LEAST;
        for (const sight of SIGHTS)
          expect(apart(colour, COLOUR.paper, sight), nameOf(colour)).toBeGreaterThan(least);
      }
    }
  });

  it('are those of the theme', () => {
    const known = Object.values(COLOUR) as string[];
    for (const chart of CHARTS) {
      const used = JSON.stringify(chart.spec.layer).match(/#[0-9a-f]{6}/g) ?? [];
      expect(used.filter((colour) => !known.includes(colour))).toEqual([]);
    }
  });
});

describe('words', () => {
  const inks = ['ink', 'text', 'rust', 'navy'] as const;
  it.each([
    ['white', COLOUR],
    ['dark', DARK],
  ] as const)('have a contrast of 4.5 on %s paper and on its bands', (_name, palette) => {
    for (const ink of inks) {
      expect(contrast(palette[ink], palette.paper), ink).toBeGreaterThan(4.5);
      expect(contrast(palette[ink], palette.band), `${ink} on band`).toBeGreaterThan(4.4);
    }
  });
});

describe('the simulation', () => {
  it('leaves greys grey, and takes red and green together where they are alike to the eye', () => {
    for (const sight of SIGHTS) expect(apart('#808080', '#808080', sight)).toBe(0);
    expect(apart('#000000', '#ffffff', 'protanopia')).toBeCloseTo(100, 0);
    // Table 1 rows add up to 1, so white stays white.
    expect(apart('#ffffff', '#ffffff', 'deuteranopia')).toBe(0);
    const [red, green] = ['#c03030', '#5a7a20'];
    const plain = Math.hypot(...lab(linear(red)).map((x, i) => x - (lab(linear(green))[i] ?? 0)));
    expect(apart(red, green, 'deuteranopia')).toBeLessThan(0.4 * plain);
  });
});
