/** Likelihood region, what stands out, backlog and stock against service say what their numbers say. */
import { describe, expect, it } from 'vitest';
import {
  backlogChart,
  likelihoodRegionChart,
  standOutsChart,
  stockServiceChart,
} from '../../lib/chart/index.js';
import type { CheckedGroup } from '../../lib/planTypes.js';
import { draw } from '../../lib/render/svg.js';
import type { StockAdvice } from '../../lib/stock/types.js';
import { ordinaryPlan } from '../fixtures/plan.js';
import { regionOf, serviceOf } from '../fixtures/projection.js';
import { NO_STAND_OUTS } from '../fixtures/standOuts.js';

const plan = ordinaryPlan();
const group = plan.groups[0] as CheckedGroup;
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('shape and scale together', () => {
  const region = regionOf(group);
  const chart = likelihoodRegionChart(region, { name: group.group, planned: group.planned });

  it('names the best pair, the outer region and whether leaks by chance are in it', () => {
    expect(plain(chart.finding)).toMatch(
      /^Best shape \(beta\) 3\.1, scale \(eta\) 1 350 days; 90 %: shape 2\.[0-9] to 4\.[0-9], scale [\d ]+ to [\d ]+ days; wearing out \(shape above 1\)$/,
    );
    expect(chart.description).toContain('From 31 leaks in 410 lives');
    expect(chart.description).toContain(
      'faulty fittings, 2 % at the best pair, is found anew for every pair',
    );
    expect(chart.description).toContain('log likelihood divided by 1.2');
    expect(chart.description).toContain('Planned on: shape');
    expect(chart.leftOut).toBeNull();
    expect(JSON.stringify(chart.spec)).not.toContain('leaks by chance');
    const chance = likelihoodRegionChart(regionOf({ ...group, model: { ...group.model, shape: 1.1 } }), {
      name: 'x',
    });
    expect(chance.finding).toMatch(/not told from leaks by chance \(shape 1\)$/);
    expect(JSON.stringify(chance.spec)).toContain('shape 1: leaks by chance');
    expect(JSON.stringify(chance.spec)).not.toContain('planned on');
  });

  it('has a row for each level, with the level of one parameter alone that has the same ends', () => {
    expect(chart.table.rows.map(([level, , , , , alone]) => [level, alone])).toEqual([
      ['50 %', '76 %'],
      ['90 %', '97 %'],
    ]);
  });

  it('has numbers on both axes, however short or long they are', async () => {
    for (const spread of [0.001, 0.02, 0.1, 0.3, 0.5, 0.8, 1.2, 2]) {
      for (const shape of [0.3, 0.96, 2.7, 40]) {
        const span = (middle: number): [number, number] => [
          middle * Math.exp(-spread),
          middle * Math.exp(spread),
        ];
        const contours = region.contours.map((each) => ({
          ...each,
          shapeRange: span(shape),
          scaleRange: span(777),
        }));
        const { spec } = likelihoodRegionChart({ ...region, shape, scale: 777, contours }, { name: 'x' });
        const { svg } = await draw(spec);
        const axes = svg.split('role-axis-label').slice(1);
        expect(axes).toHaveLength(2);
        for (const axis of axes) {
          const shown = (axis.split('</g>')[0] ?? '').match(/<text [^>]*opacity="1"/g) ?? [];
          expect(shown.length, `${shape} and ${spread}`).toBeGreaterThan(1);
        }
      }
    }
  });

  it('is cut, and says so, where the scale has hardly an end; and warns of few leaks', () => {
    const few = regionOf({ ...group, failures: 2 });
    const wide = {
      ...few,
      contours: few.contours.map((each) => ({ ...each, scaleRange: [500, 9e6] as [number, number] })),
    };
    const { leftOut, description } = likelihoodRegionChart(wide, { name: 'x' });
    expect(plain(leftOut ?? '')).toMatch(
      /^The picture is cut at [\d ]+ to 27 000 days: 90 % reaches 500 to 9 000 000 days/,
    );
    expect(description).toContain('less often than they say');
  });
});

describe('what leaks more often', () => {
  it('counts what was looked through, names the worst and how sure it is', () => {
    const { finding, table, leftOut } = standOutsChart(plan.standOuts);
    expect(finding).toBe(
      'Of 120 positions, 90 lots, 60 fitters and 30 weeks of fitting 4 leak more often than chance explains, most A1-V003: 2.8 times as often (80 %: 1.8 to 3.8); one in 10 named may be chance',
    );
    expect(table.rows.map(([what]) => what)).toEqual([
      'A1-V003',
      'lot EP25-0027',
      'fitter F4',
      'week of 2 Jun 2025',
    ]);
    expect(leftOut).toBeNull();
    const rows = Array.from({ length: 60 }, () => plan.standOuts.rows).flat();
    expect(standOutsChart({ ...plan.standOuts, rows }).leftOut).toBe(
      'The picture shows the 24 strongest of 240; all are in the table.',
    );
  });

  it('says so where nothing stands out, and where nothing could be looked through', () => {
    expect(standOutsChart({ ...plan.standOuts, rows: [] }).finding).toMatch(
      /none leaks more often than chance explains$/,
    );
    expect(standOutsChart(NO_STAND_OUTS).finding).toMatch(/^Nothing was looked through/);
  });
});

describe('positions past their interval', () => {
  const backlog = {
    from: '2026-01-01',
    span: 200,
    day: [0, 30, 150, 200],
    past: [12, 0, 5, 0],
    stops: [
      { name: 'Winter', day: 30, replaced: 20, after: 0 },
      { name: 'Summer', day: 200, replaced: 9, after: 0 },
    ],
  };

  it('names today, the stop that ends it, and what comes later', () => {
    const { finding, table } = backlogChart(backlog);
    expect(finding).toBe(
      '12 positions are past the proposed interval today, none after Winter (31 Jan 2026); later at most 5, between one shutdown and the next',
    );
    expect(table.rows).toEqual([
      ['1 Jan 2026', 'today', null, 12],
      ['31 Jan 2026', 'Winter', 20, 0],
      ['20 Jul 2026', 'Summer', 9, 0],
    ]);
  });

  it('says what is left where no stop ends it, and that nothing is planned where nothing is', () => {
    const stuck = {
      ...backlog,
      past: [12, 8, 9, 3],
      stops: backlog.stops.map((stop) => ({ ...stop, after: 3 })),
    };
    expect(backlogChart(stuck).finding).toMatch(/; 3 still after the last shutdown planned$/);
    const none = { from: '2026-01-01', span: 0, day: [0], past: [0], stops: [] };
    expect(backlogChart(none).finding).toBe(
      '0 positions are past the proposed interval today; no replacement is planned',
    );
  });
});

describe('stock against service', () => {
  const advice = plan.stock[0] as StockAdvice;
  const service = serviceOf(advice);

  it('gives today, as advised, and what the target takes', () => {
    const { finding, description, leftOut } = stockServiceChart(service, 'EUR');
    const { today, advised, least } = service;
    expect(finding).toContain(`with ${today.level} pieces, as advised`);
    expect(finding).toMatch(new RegExp(`takes ${least.level}$`));
    expect(advised.level).toBe(advice.reorderPoint + advice.orderQuantity);
    expect(description).toContain('8 leaks a year are expected');
    expect(description).toContain('One piece more costs 35 EUR');
    expect(leftOut).toMatch(/^The line orders 2 pieces at a time/);
    expect(stockServiceChart({ ...service, advisedLot: 2 }, 'EUR').leftOut).toBeNull();
  });

  it('says so where no leak asks for a piece', () => {
    expect(stockServiceChart({ ...service, leaksPerYear: 0 }, 'EUR').finding).toMatch(/^No leak is expected/);
  });
});
