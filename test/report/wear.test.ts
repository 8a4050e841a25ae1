/** What wears, as the engineer reads it; wear.csv and the due dates by clock. */
import { describe, expect, it } from 'vitest';
import { clocksCompared, lifeByUse } from '../../lib/chart/index.js';
import type { WearClock } from '../../lib/group/wear/types.js';
import { csvFiles } from '../../lib/report/csv.js';
import { figures } from '../../lib/report/figure.js';
import { wearPart } from '../../lib/report/wear.js';
import { ordinaryPlan } from '../fixtures/plan.js';
import { NO_WEAR, wearOf } from '../fixtures/wear.js';

const plan = { ...ordinaryPlan(), wear: wearOf() };
const textOf = (markup = ''): string =>
  markup
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

describe('the part of the report', () => {
  const text = textOf(wearPart(plan, figures())?.markup);

  it('counts verdicts and says what planning by use means and what to do when it changes', () => {
    expect(text).toContain(
      '1 group wears by days whatever their use, 1 by what is counted; of 1 the records cannot tell',
    );
    expect(text).toContain('These groups are planned by their count.');
    expect(text).toContain('When the use of a position changes for good');
  });

  it('has the interval, its positions, effects and where counts come from', () => {
    expect(text).toContain('310 steam cycles');
    expect(text).toContain('A1-V003 200 5.6 388 16 Jul 2026 20 Jun 2026 to no limit');
    expect(text).toContain('A1-V004 unknown unknown none not known');
    expect(text).toContain('twice the steam cycles: 0.62 times the life (0.5 to 0.77)');
    expect(text).toContain('5 % measured, 60 % between readings');
  });

  it('is one line where nothing is on record, and nothing where nothing is to be said', () => {
    const note = 'No strokes are on record. Counters read twice a year would tell.';
    const line = wearPart({ wear: { ...NO_WEAR, notes: [note] } }, figures());
    expect(textOf(line?.markup)).toBe(`What wears them ${note}`);
    expect(wearPart({ wear: NO_WEAR }, figures())).toBeNull();
  });
});

describe('clocks compared', () => {
  const { groups } = plan.wear;

  it('says how many are told by what', () => {
    const { finding, table } = clocksCompared(groups);
    expect(finding).toBe('Of 3 groups: 1 by days, 1 by steam cycles and of 1 the records cannot tell');
    expect(table.rows.map((row) => row.slice(0, 5))).toEqual([
      ['EPDM DN 25, sterile line', 24, 'steam cycles', 'steam cycles', '13.4'],
      ['FKM DN 15', 24, 'cannot tell', 'strokes', '1.2'],
      ['EPDM DN 50, dairy', 24, 'days', 'strokes', '−41.5'],
    ]);
  });

  it('holds days against their rival, not against a clock that holds them', () => {
    const joined: WearClock = {
      ...(groups[1] as WearClock),
      clocks: [
        { clock: 'days and strokes', behind: 0, agreed: 0.3, weight: 2 },
        { clock: 'days', behind: 0.5, agreed: 0.6, weight: null },
        { clock: 'strokes', behind: 9.5, agreed: 0.1, weight: null },
      ],
    };
    expect(clocksCompared([joined]).table.rows[0]?.[4]).toBe('−9');
  });

  it('leaves what many groups were compared on in one row', () => {
    const twice = groups.map((each) => ({ ...each, comparedOn: 'EPDM, all sizes' }));
    expect(clocksCompared(twice).table.rows.length).toBe(1);
  });
});

describe('life by use', () => {
  it('says the clear effects of use first', () => {
    const { finding, table, description } = lifeByUse(plan.wear.effects);
    expect(finding).toBe('Clear effects of use: EPDM 0.62 times at twice the steam cycles');
    expect(table.rows[0]).toEqual(['EPDM', 'twice the steam cycles', '0.62', '0.50', '0.77']);
    expect(description).toContain('twice the steam cycles: 0.62 times the life');
  });

  it('says so where none is clear, and where nothing can be said', () => {
    const [one] = plan.wear.effects;
    const unclear = one?.effects.map((each) => ({ ...each, clear: false })) ?? [];
    expect(lifeByUse([{ ...(one as NonNullable<typeof one>), effects: unclear }]).finding).toMatch(
      /every range of use holds 1/,
    );
    expect(lifeByUse([]).finding).toBe('Leaks are too few to say how life goes with use');
  });
});

describe('tables', () => {
  it('wear.csv has a row a group', () => {
    const [head = '', ...rows] = csvFiles(plan)['wear.csv'].trimEnd().split('\r\n');
    expect(head.split(',').slice(0, 6)).toEqual([
      'group',
      'compared_on',
      'lives',
      'leaks',
      'verdict',
      'clock',
    ]);
    expect(rows.length).toBe(3);
    expect(rows[0]).toContain(
      'told,steam cycles,steam cycles,days,13.4,0.96,13.4,0,,,2.9,460,400,530,310,270,360,260,180,420',
    );
  });

  it('due-dates.csv has the day by the count where a clock is told', () => {
    const [first, ...rest] = plan.dueDates;
    if (first === undefined) throw new Error('no due date');
    const byClock = {
      clock: 'steam cycles',
      count: 310,
      due: '2026-07-16',
      range: ['2026-06-20', null] as [string, null],
    };
    const [head = '', row = '', other = ''] = csvFiles({
      ...plan,
      dueDates: [{ ...first, byClock }, ...rest],
    })['due-dates.csv'].split('\r\n');
    const place = head.split(',').indexOf('clock');
    expect(head.split(',').slice(place, place + 4)).toEqual([
      'clock',
      'due_by_clock',
      'due_by_clock_earliest',
      'due_by_clock_latest',
    ]);
    expect(row).toContain(',steam cycles,2026-07-16,2026-06-20,,');
    expect(other).not.toContain('steam cycles');
  });
});
