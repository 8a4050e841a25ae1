/** Each chart says what its numbers say. */
import { describe, expect, it } from 'vitest';
import { meanAt } from '../../lib/chart/costCanvas.js';
import {
  changeWords,
  costByIntervalChart,
  costRateChart,
  costSplit,
  demandByMonth,
  downtimeChart,
  groupLives,
  intervalsOverview,
  payBackChart,
  probabilityPlot,
  recordedLeaks,
  shutdownLoad,
  stockCover,
  swingChart,
  yearlyCostPath,
  yearlyWorkPath,
} from '../../lib/chart/index.js';
import { pieces } from '../../lib/chart/words.js';
import type { GroupResult } from '../../lib/group/resultTypes.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import { manyGroupsPlan, ordinaryPlan } from '../fixtures/plan.js';

const plan = ordinaryPlan();
const group = plan.groups[0] as GroupResult;
const interval = plan.intervals[0] as IntervalAdvice;
const plain = (text: string): string => text.replace(/\u00a0/g, ' ');

describe('findings and descriptions', () => {
  it('the probability plot names lives, leaks, shape and scale', () => {
    const { finding, description } = probabilityPlot(group);
    expect(finding).toBe(
      '410 lives, 31 leaks; 10 % leaked by 600 to 710 days by these alone, planned on 610 to 690 days (90 % bounds)',
    );
    expect(description).toContain('Own data: shape (beta) 3.1, 2.8 to 3.4');
    expect(description).toContain(
      'Planned on, own data and groups alike: shape 3.2, 2.9 to 3.3 (wearing out)',
    );
    expect(description).toContain('63.2 %');
    expect(description).toContain('Faulty fittings that leak early: 2 % (1.2 % to 3.4 %)');
  });

  it('the probability plot has one curve where the own data say too little, and calls wear-out assumed where no leak shows it', () => {
    const fkm = plan.groups.find(({ material }) => material === 'FKM') as GroupResult;
    const { finding, description, spec } = probabilityPlot(fkm);
    expect(finding).toMatch(/^88 lives, 3 leaks; too few to stand alone, planned on .* days for 10 % leaked/);
    expect(description).not.toContain('Own data');
    expect(description).toContain('wear-out assumed: no leak has shown it');
    expect(description).not.toContain('borrowed');
    expect(JSON.stringify(spec)).toContain('planned on: β');
    expect(JSON.stringify(spec)).not.toContain('own data: β');
    expect(JSON.stringify(spec)).not.toContain('"wearing out"');
    expect(JSON.stringify(probabilityPlot(group).spec)).toContain('own data: β 3.1');
  });

  it('the chart of lives shows what is planned on, and its table both', () => {
    const { table, spec, title } = groupLives(plan.groups);
    expect(title).toContain('what is planned on');
    const column = (name: string): number => table.columns.indexOf(name);
    const row = table.rows.find(([name]) => name === 'EPDM DN 25, bioreactor') ?? [];
    expect(row[column('Planned on: shape (beta)')]).toBe('3.2 (2.9 to 3.3)');
    expect(row[column('Own data: shape (beta)')]).toBe('3.1 (2.8 to 3.4)');
    const small = table.rows.find(([name]) => name === 'FKM DN 25, hot water loop') ?? [];
    expect(small[column('Own data: shape (beta)')]).toBe('too few leaks');
    expect(small[column('Borrowed from other groups')]).toBe('assumed');
    expect(JSON.stringify(spec)).toContain(String(((group.planned.b10.median / 365.25) * 12).toFixed(0)));
  });

  it('the probability plot leaves out a point at 100 %, which has no place on its scales, and says so', () => {
    const ended = { age: [0.5, 300, 900], failed: [0.002, 0.1, 1], running: [400] };
    const { leftOut, spec } = probabilityPlot({ ...group, empirical: ended });
    expect(leftOut).toContain('where no life is left');
    expect(JSON.stringify(spec)).not.toContain('"age":900');
    expect(probabilityPlot(group).leftOut).toBeNull();
  });

  it('the numbers of a cost curve never give one interval two costs', () => {
    for (const each of plan.intervals) {
      const labels = costRateChart(each, null, 'EUR').table.rows.map(([months]) => months);
      expect(labels.length).toBeGreaterThan(5);
      expect(new Set(labels).size).toBe(labels.length);
    }
  });

  it('the cost curve names proposal, today and the 2 % span', () => {
    const { finding, description } = costRateChart(interval, group, 'EUR');
    expect(finding).toBe('Replace at 8 months, today 12 months; 7 to 9 months cost within 2 % of the least');
    expect(description).toContain('chance that it costs less: 93 %');
    expect(description).toContain('beyond that the curve is an extrapolation');
  });

  it('the overview counts what changes', () => {
    expect(intervalsOverview(plan.intervals, 'EUR').finding).toBe(
      'Of 8 groups: 3 shorter, 1 longer, 1 kept (within 2 % of the least cost already), 2 kept for want of records, 1 run until they leak',
    );
  });

  it('an interval under a month is said in days, and never as kept where the maker’s limit brings it down', () => {
    const held: IntervalAdvice = {
      ...interval,
      action: 'keep',
      direction: 'shorten',
      keptFor: 'maker’s limit',
      today: 365,
      days: 12,
      months: null,
    };
    expect(changeWords(held)).toBe('12 months → 12 days');
    expect(changeWords({ ...held, today: 12, direction: 'leave' })).toBe('keep 12 days');
    // Whole in the picture, not cut at its edge.
    expect(JSON.stringify(intervalsOverview([held], 'EUR').spec)).toContain('"12 months → 12 days"');
    const { finding, spec } = costRateChart(held, group, 'EUR');
    expect(finding).toMatch(/^Replace at 12 days, today 12 months/);
    expect(JSON.stringify(spec)).toContain('proposed 12 days');
  });

  it('the overview gives a chance of being cheaper only for an interval that changes', () => {
    const { rows } = intervalsOverview(plan.intervals, 'EUR').table;
    const kept = new Set(
      plan.intervals.filter(({ action }) => action === 'keep').map(({ group: name }) => name),
    );
    expect(kept.size).toBe(3);
    for (const row of rows) expect(row[7] === null, String(row[0])).toBe(kept.has(String(row[0])));
  });

  it('the cost split says so where no batch value is given, and leaves the batches out', () => {
    const downtime = costSplit({ ...plan.cost, covers: 'downtime only' }, 'EUR');
    expect(downtime.title).toContain('downtime only');
    expect(JSON.stringify(downtime.spec)).not.toContain('Lost batches');
    expect(JSON.stringify(costSplit(plan.cost, 'EUR').spec)).toContain('Lost batches');
  });

  it('recorded leaks are counted with those expected without a reason, inside or outside the range', () => {
    const { finding, spec, table } = recordedLeaks(plan.cost);
    expect(finding).toMatch(/^4 of 4 whole years inside the range, counting those expected without a reason/);
    expect(finding).toMatch(/mean of 2023 to 2025: 64, by the formula 53 to 69$/);
    // 2024: 52 named lie below 53, 55.5 with those expected do not.
    const low: [number, number] = [53, 90];
    const above = recordedLeaks({ ...plan.cost, today: { ...plan.cost.today, leaksRange: low } });
    expect(above.finding).toMatch(/^4 of 4/);
    const beyond: [number, number] = [71, 90];
    const none = recordedLeaks({ ...plan.cost, today: { ...plan.cost.today, leaksRange: beyond } });
    expect(none.finding).toMatch(/^0 of 4 whole years inside the range/);
    expect(JSON.stringify(spec)).toContain('"all":55.5');
    expect(table.rows[3]).toEqual([2024, 52, '3.5', '100 %']);
    const named = plan.cost.recordedLeaksPerYear.map((year) => ({ ...year, withoutReason: 0 }));
    const known = recordedLeaks({ ...plan.cost, recordedLeaksPerYear: named });
    expect(known.finding).toMatch(/^\d of 4 whole years inside the range; the formula says/);
    expect(known.description).not.toContain('without a reason');
  });

  it('years ahead: every diaphragm fitted, by what it is fitted for', () => {
    const { title, finding, table } = yearlyWorkPath(plan.cost);
    expect(title).toBe('Diaphragms fitted year by year');
    const [first] = plan.cost.proposed.years;
    const split = `${pieces(first?.scheduled ?? 0)} on schedule, 34 after leaks, 46 after openings`;
    expect(finding).toContain(`First year ${pieces(first?.replacements ?? 0)} proposed (${split})`);
    expect(finding).toMatch(/; year 5: 794 and 640$/);
    expect((first?.scheduled ?? 0) + 34 + 46).toBeCloseTo(first?.replacements ?? 0, 9);
    expect(table.columns).toHaveLength(6);
    expect(yearlyCostPath(plan.cost, 'EUR').table.columns).toHaveLength(3);
  });

  it('cost against interval names proposal, today and both ends, and what longer ones pass over', () => {
    const chart = costByIntervalChart(plan.cost, 'EUR');
    expect(plain(chart.finding)).toBe(
      '472 000 EUR a year as proposed, 686 000 today; with all intervals at 50 % of these 400 000, at 200 % 1 033 000',
    );
    expect(plain(chart.description)).toContain('leaks: downtime 58 000, 177 000 and 536 000');
    expect(chart.leftOut).toBe(
      'Longer intervals are shown to be understood, not to be done: at 200 %, 20 positions would be beyond the maker’s limit and 77 beyond the age that the records speak of.',
    );
    const downtime = costByIntervalChart({ ...plan.cost, covers: 'downtime only' }, 'EUR');
    expect(downtime.title).toContain('downtime only');
    expect(JSON.stringify(downtime.spec)).not.toContain('lost batches');
  });

  it('downtime against replacements says what more work buys', () => {
    const { front } = plan.cost.outlook;
    if (front === null) throw new Error('no front');
    const chart = downtimeChart(front, 'EUR');
    expect(plain(chart.finding)).toBe(
      'Proposed: 794 fitted and 154 h of downtime a year, 154 more and 108 h less than today',
    );
    expect(plain(chart.leftOut ?? '')).toBe(
      'Beyond the proposal, with all intervals at 80 %, each further replacement saves 7 minutes of downtime but costs 34 EUR on balance.',
    );
    expect(downtimeChart({ ...front, oneMore: null }, 'EUR').leftOut).toMatch(/no more replacements/);
    const dear = { factor: 0.8, hoursSaved: -2, costSaved: 900 };
    expect(downtimeChart({ ...front, oneMore: dear }, 'EUR').leftOut).toMatch(
      /adds 2 hours of downtime but saves 900 EUR/,
    );
  });

  it('the swing names what moves the saving most, what is exact and what is not given', () => {
    const chart = swingChart({ ...plan.cost, missing: ['cleanup_cost'] }, 'EUR');
    expect(plain(chart.finding)).toMatch(
      /^Most by lost batch probability: saving −\d[\d ]+ to [\d ]+ instead of 214 000 EUR a year; whether it is a saving at all hangs on lost batch probability$/,
    );
    expect(chart.leftOut).toBe(
      'Given as one number, or without effect: labour per hour. Not given, so not weighed at all: cleanup cost.',
    );
    expect(chart.table.rows.map(([name]) => name)).toContain('labour per hour');
    expect(plain(chart.description)).toContain('lost batch probability (0.01 to 0.2 chance per leak)');
    const ranked = plan.cost.outlook.swings.ranked.slice(1);
    const outlook = { ...plan.cost.outlook, swings: { ...plan.cost.outlook.swings, ranked } };
    expect(swingChart({ ...plan.cost, outlook }, 'EUR').finding).toMatch(
      /no single assumption turns it into a loss$/,
    );
    const none = { ...outlook, swings: { ...outlook.swings, ranked: [] } };
    expect(swingChart({ ...plan.cost, outlook: none }, 'EUR').finding).toMatch(/^No assumption/);
  });

  it('pay-back says the year with its range, or that it never comes', () => {
    const said = (change: Partial<typeof plan.cost.outlook.payBack>): string => {
      const payBack = { ...plan.cost.outlook.payBack, ...change };
      return plain(payBackChart({ ...plan.cost, outlook: { ...plan.cost.outlook, payBack } }, 'EUR').finding);
    };
    expect(said({})).toMatch(
      /^Paid back by the end of year 3 \(range: year 1 to later than year 5; chance 90 % within 5 years\); [\d ]+ EUR after 5 years/,
    );
    expect(said({ verdict: 'at once', year: 1, range: [1, 1], chance: 1 })).toMatch(
      /^Pays from the first year on; /,
    );
    expect(said({ verdict: 'at once', year: 1 })).toMatch(
      /^Pays from the first year on \(chance 90 % within 5 years\); /,
    );
    expect(said({ verdict: 'never within the horizon', year: null, chance: 0.2 })).toMatch(
      /^On average does not pay back within 5 years \(chance that it does: 20 %\); /,
    );
    expect(said({ verdict: 'nothing changes', year: null })).toMatch(/^Nothing changes/);
  });

  it('demand names the month with most', () => {
    const months = plan.demand.filter(({ item }) => item === 'DIA-1000');
    expect(demandByMonth('DIA-1000', months).finding).toMatch(/most in May 2026: 28 \(80 %: 20 to 35\)$/);
  });

  it('shutdown load says what does not fit', () => {
    expect(shutdownLoad(plan.shutdowns, plan.shutdownPlan).finding).toMatch(
      /^Do not fit: 4 in Spring shutdown 2026, 4 in Autumn shutdown 2026 and 4 in Spring shutdown 2027, 4 positions among them more than once; most hours are short in .*: [\d.]+ h$/,
    );
    const fitting = plan.shutdowns.map((load) => ({ ...load, doNotFit: 0 }));
    const tasks = plan.shutdownPlan.map((task) => ({ ...task, fits: true }));
    expect(shutdownLoad(fitting, tasks).finding).toBe('All planned replacements fit into 3 shutdowns');
  });

  it('groups and items beyond what a picture holds are said to be left out and kept in the table', () => {
    const many = manyGroupsPlan(500);
    const overview = intervalsOverview(many.intervals, 'EUR');
    expect(overview.leftOut).toContain('470 more are in the table');
    expect(overview.table.rows).toHaveLength(500);
    expect(groupLives(many.groups).leftOut).toContain('30 groups');
    expect(stockCover(many.stock).leftOut).toContain('470 more');
    expect(groupLives(plan.groups).leftOut).toBeNull();
  });
});

describe('meanAt', () => {
  it('joins the points of the curve by straight lines and holds the ends', () => {
    const curve = { ageDays: [100, 200], mean: [10, 20], low: [], high: [], early: [] };
    expect(meanAt(curve, 150)).toBe(15);
    expect(meanAt(curve, 50)).toBe(10);
    expect(meanAt(curve, 900)).toBe(20);
  });
});
