/** Every cleaning rule on and off: what it finds, what is done, and that rows add up either way. */
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors.js';
import type { RuleCount } from '../../../lib/findings.js';
import { CLEANING_RULES, type CleaningName, SWITCHABLE } from '../../../lib/fleet/cleaning/rules.js';
import type { Fleet } from '../../../lib/fleet/types.js';
import { livesOf, readFiles, SITE, withCode } from '../files.js';

interface Case {
  rule: CleaningName;
  lives?: string[];
  orders?: string[];
  positions?: string[];
  cleaning?: Record<string, boolean | number>;
  /** Found, mended, set aside, asked with the rule on. */
  counts: [number, number, number, number];
  on: string[];
  off: string[];
}

function read({ lives, orders, positions }: Case, cleaning: Record<string, boolean | number> = {}): Fleet {
  return readFiles({
    'positions.csv': `position,size,out_of_service_since,material_next\n${(positions ?? ['V1,25,,']).join('\n')}\n`,
    ...(lives && { 'lives.csv': `position,material,fitted,removed,reason,size,lot\n${lives.join('\n')}\n` }),
    ...(orders && { 'work-orders.csv': `position,date,work,material,reason\n${orders.join('\n')}\n` }),
    'site.json': { ...SITE, cleaning },
  });
}

function ruleOf(fleet: Fleet, rule: CleaningName): RuleCount {
  return fleet.findings.rules.find((one) => one.rule === rule) as RuleCount;
}

const CASES: Case[] = [
  {
    rule: 'overlaps',
    lives: [
      'V1,EPDM,2020-01-01,2021-01-01,leak,,',
      'V1,EPDM,2020-06-01,2022-01-01,leak,,',
      'V1,EPDM,2022-01-01,,,,',
    ],
    counts: [2, 0, 2, 0],
    on: ['V1 EPDM 25 2022-01-01..? row 3'],
    off: [
      'V1 EPDM 25 2020-01-01..2021-01-01 row 1',
      'V1 EPDM 25 2020-06-01..2022-01-01 row 2',
      'V1 EPDM 25 2022-01-01..? row 3',
    ],
  },
  {
    rule: 'gaps',
    lives: [
      'V1,EPDM,2020-01-01,2021-01-01,leak,,',
      'V1,EPDM,2021-03-01,2023-01-01,leak,,',
      'V1,EPDM,2023-03-01,,,,',
    ],
    counts: [2, 0, 0, 2],
    on: [
      'V1 EPDM 25 2020-01-01..2021-01-01 row 1',
      'V1 EPDM 25 2021-03-01..2023-01-01 row 2',
      'V1 EPDM 25 2023-03-01..? row 3',
    ],
    off: [
      'V1 EPDM 25 2020-01-01..2021-01-01 row 1',
      'V1 EPDM 25 2021-03-01..2023-01-01 row 2',
      'V1 EPDM 25 2023-03-01..? row 3',
    ],
  },
  {
    rule: 'removed_before_fitted',
    lives: ['V1,EPDM,2021-01-01,2020-01-01,leak,,', 'V1,EPDM,2022-01-01,,,,'],
    counts: [1, 0, 1, 0],
    on: ['V1 EPDM 25 2022-01-01..? row 2'],
    off: ['V1 EPDM 25 ?..2020-01-01 row 1', 'V1 EPDM 25 2022-01-01..? row 2'],
  },
  {
    rule: 'future_dates',
    lives: ['V1,EPDM,2023-01-01,2024-07-15,leak,,'],
    counts: [1, 1, 0, 0],
    on: ['V1 EPDM 25 2023-01-01..? row 1'],
    off: [],
  },
  {
    rule: 'placeholder_dates',
    lives: ['V1,EPDM,1970-01-01,2021-01-01,leak,,', 'V1,EPDM,2021-01-01,9999-12-31,,,'],
    counts: [2, 2, 0, 0],
    on: ['V1 EPDM 25 ?..2021-01-01 row 1', 'V1 EPDM 25 2021-01-01..? row 2'],
    off: ['V1 EPDM 25 1970-01-01..2021-01-01 row 1', 'V1 EPDM 25 ?..? row 0'],
  },
  {
    rule: 'two_digit_years',
    lives: ['V1,EPDM,31.12.20,13.02.22,leak,,', 'V1,EPDM,13.02.2022,,,,'],
    counts: [2, 2, 0, 0],
    on: ['V1 EPDM 25 2020-12-31..2022-02-13 row 1', 'V1 EPDM 25 2022-02-13..? row 2'],
    off: ['V1 EPDM 25 2022-02-13..? row 2'],
  },
  {
    rule: 'repeated_rows',
    lives: [
      'V1,EPDM,2020-01-01,2021-01-01,leak,,',
      'V1,EPDM,2020-01-01,2021-01-01,leak,,',
      'V1,EPDM,2021-01-01,,,,',
    ],
    counts: [1, 0, 1, 0],
    on: ['V1 EPDM 25 2020-01-01..2021-01-01 row 1', 'V1 EPDM 25 2021-01-01..? row 3'],
    off: ['V1 EPDM 25 2021-01-01..? row 3'],
  },
  {
    rule: 'repeated_rows',
    orders: [
      'V1,2020-01-01,fitted,EPDM,',
      'V1,2021-01-01,replaced,EPDM,leak',
      'V1,2021-01-01,replaced,EPDM,leak',
    ],
    counts: [1, 0, 1, 0],
    on: ['V1 EPDM 25 2020-01-01..2021-01-01 row 2', 'V1 EPDM 25 2021-01-01..? row 2'],
    off: [
      'V1 EPDM 25 2020-01-01..2021-01-01 row 2',
      'V1 EPDM 25 2021-01-01..2021-01-01 row 3',
      'V1 EPDM 25 2021-01-01..? row 3',
    ],
  },
  {
    rule: 'material_within_life',
    orders: [
      'V1,2020-01-01,fitted,EPDM,',
      'V1,2020-06-01,retightened,FKM,',
      'V1,2021-01-01,replaced,FKM,leak',
    ],
    counts: [1, 0, 0, 1],
    on: ['V1 EPDM 25 ?..2021-01-01 row 3', 'V1 FKM 25 2021-01-01..? row 3'],
    off: ['V1 EPDM 25 2020-01-01..2021-01-01 row 3', 'V1 FKM 25 2021-01-01..? row 3'],
  },
  {
    rule: 'sizes',
    lives: ['V1,EPDM,2020-01-01,,,40,'],
    counts: [1, 0, 0, 1],
    on: ['V1 EPDM 40 2020-01-01..? row 1'],
    off: ['V1 EPDM 40 2020-01-01..? row 1'],
  },
  {
    rule: 'blank_words',
    lives: ['V1,EPDM,2020-01-01,2021-01-01,leak,,-', 'V1,EPDM,2021-01-01,n/a,,,'],
    counts: [2, 2, 0, 0],
    on: ['V1 EPDM 25 2020-01-01..2021-01-01 row 1', 'V1 EPDM 25 2021-01-01..? row 2'],
    off: ['V1 EPDM 25 2020-01-01..2021-01-01 row 1', 'V1 EPDM 25 ?..? row 0'],
  },
  {
    rule: 'tags',
    positions: ['V-0017,25,,', 'V-18,25,,', 'V-018,25,,'],
    lives: [
      'V-17,EPDM,2020-01-01,2020-02-01,leak,,',
      'v \u2013 0017\u200b,EPDM,2020-02-01,2020-03-01,leak,,',
      'V-0017,EPDM,2020-03-01,,,,',
      'V-0018,EPDM,2020-01-01,,,,',
    ],
    counts: [2, 2, 0, 0],
    on: [
      'V-0017 EPDM 25 2020-01-01..2020-02-01 row 1',
      'V-0017 EPDM 25 2020-02-01..2020-03-01 row 2',
      'V-0017 EPDM 25 2020-03-01..? row 3',
    ],
    off: ['V-0017 EPDM 25 2020-03-01..? row 3'],
  },
  {
    rule: 'out_of_service',
    positions: ['V1,25,2022-01-01,'],
    lives: ['V1,EPDM,2020-01-01,2021-01-01,leak,,', 'V1,EPDM,2021-01-01,2022-01-20,scheduled,,'],
    counts: [1, 1, 0, 0],
    on: ['V1 EPDM 25 2020-01-01..2021-01-01 row 1', 'V1 EPDM 25 2021-01-01..2022-01-01 row 2'],
    off: ['V1 EPDM 25 2020-01-01..2021-01-01 row 1'],
  },
  {
    rule: 'missing_lives',
    lives: ['V1,EPDM,2020-01-01,2021-01-01,leak,,'],
    counts: [1, 1, 0, 0],
    on: ['V1 EPDM 25 2020-01-01..2021-01-01 row 1', 'V1 EPDM 25 2021-01-01..? row 0'],
    off: ['V1 EPDM 25 2020-01-01..2021-01-01 row 1'],
  },
  {
    rule: 'left_open',
    lives: ['V1,EPDM,2020-01-01,,,,', 'V1,EPDM,2021-01-01,2022-01-01,leak,,', 'V1,EPDM,2022-01-01,,leak,,'],
    counts: [2, 0, 2, 0],
    on: ['V1 EPDM 25 2021-01-01..2022-01-01 row 2', 'V1 EPDM 25 ?..? row 0'],
    off: [],
  },
  {
    rule: 'dates',
    lives: ['V1,EPDM,2020-02-30,2021-01-01,leak,,', 'V1,EPDM,2021-01-01,,,,'],
    counts: [1, 0, 1, 0],
    on: ['V1 EPDM 25 2021-01-01..? row 2'],
    off: [],
  },
];

function adds({ findings }: Fleet): void {
  expect(findings.rowsIn).toBe(findings.rowsUsed + findings.rowsSetAside);
  for (const { found, mended, setAside, asked, examples } of findings.rules) {
    expect(found).toBe(mended + setAside + asked);
    expect(examples.length).toBeLessThanOrEqual(Math.min(3, found));
    expect(examples.length > 0).toBe(found > 0);
  }
}

describe('cleaning rules', () => {
  it('each have a case here', () => {
    expect([...new Set(CASES.map(({ rule }) => rule))].sort()).toEqual(
      CLEANING_RULES.map(({ name }) => name).sort(),
    );
  });

  it.each(CASES)('$rule, on: found, counted and shown', (one) => {
    const fleet = read(one);
    adds(fleet);
    expect(livesOf(fleet)).toEqual(one.on);
    const { on, found, mended, setAside, asked } = ruleOf(fleet, one.rule);
    expect([on, found, mended, setAside, asked]).toEqual([true, ...one.counts]);
  });

  it.each(CASES.filter(({ rule }) => SWITCHABLE.includes(rule)))('$rule, off: as documented', (one) => {
    const off = { [one.rule]: false };
    if (one.off.length === 0) {
      expect(() => read(one, off)).toThrow(InputError);
      return;
    }
    const fleet = read(one, off);
    adds(fleet);
    expect(livesOf(fleet)).toEqual(one.off);
    expect(ruleOf(fleet, one.rule).on).toBe(false);
    expect(withCode(fleet, 'setting-unknown')).toEqual([]);
  });

  it('that cannot be switched off, or do not exist, are unknown settings', () => {
    const fleet = read(CASES[0] as Case, { dates: false, overlap: false });
    expect(withCode(fleet, 'setting-unknown').map(({ column }) => column)).toEqual([
      'cleaning.dates',
      'cleaning.overlap',
    ]);
    expect(ruleOf(fleet, 'dates').on).toBe(true);
    expect(() => read(CASES[0] as Case, { overlaps: 0 })).toThrow(
      /cleaning\.overlaps.*must be true or false/,
    );
    expect(() => read(CASES[0] as Case, { most_days: -1 })).toThrow(/cleaning\.most_days/);
  });

  it('show where they found something: file, row, column, value and what was done', () => {
    const fleet = read(CASES.find(({ rule }) => rule === 'placeholder_dates') as Case);
    expect(ruleOf(fleet, 'placeholder_dates').examples).toEqual([
      { file: 'lives.csv', row: 1, column: 'fitted', value: '1970-01-01', done: 'mended' },
      { file: 'lives.csv', row: 2, column: 'removed', value: '9999-12-31', done: 'mended' },
    ]);
  });
});

describe('how much a mend may alter the length of a life', () => {
  const service = (removed: string, cleaning = {}): Fleet =>
    read(
      {
        ...(CASES.find(({ rule }) => rule === 'out_of_service') as Case),
        lives: ['V1,EPDM,2020-01-01,2021-01-01,leak,,', `V1,EPDM,2021-01-01,${removed},scheduled,,`],
      },
      cleaning,
    );
  const future = (removed: string, cleaning = {}): Fleet =>
    read(
      {
        ...(CASES[0] as Case),
        lives: ['V1,EPDM,2020-01-01,2021-01-01,leak,,', `V1,EPDM,2021-01-01,${removed},,,`],
      },
      cleaning,
    );

  it('is 31 days past the end of service', () => {
    expect(service('2022-02-01').lives.length).toBe(2);
    expect(service('2022-02-02').lives.length).toBe(1);
    expect(withCode(service('2022-02-02'), 'life-out-of-service')).toHaveLength(1);
  });

  it('is three days for lines of one order, or fewer where site.json says so', () => {
    const lives = (cleaning: Record<string, number>): number =>
      readFiles({
        'positions.csv': 'position,size\nV1,25\n',
        'work-orders.csv':
          'position,date,work,material,order\nV1,2020-01-01,fitted,EPDM,1\nV1,2021-01-01,replaced,EPDM,2\nV1,2021-01-03,replaced,EPDM,2\n',
        'site.json': { ...SITE, cleaning },
      }).lives.length;
    expect([lives({}), lives({ most_days: 90 }), lives({ most_days: 1 })]).toEqual([2, 2, 3]);
  });

  it('is a year for removals after the extract: a later one happened on a day that is not known', () => {
    // The extract is of 2024-06-30.
    expect(livesOf(future('2025-07-01'))[1]).toBe('V1 EPDM 25 2021-01-01..? row 2');
    expect(livesOf(future('2025-07-02'))).not.toContain('V1 EPDM 25 2021-01-01..? row 2');
    expect(withCode(future('2058-01-01'), 'removed-after-data')).toMatchObject([{ done: 'set aside' }]);
    expect(withCode(future('2058-01-01', { most_days: 36_525 }), 'removed-after-data')).toMatchObject([
      { done: 'mended' },
    ]);
  });

  it('is what site.json says, also for removals after the extract', () => {
    expect(service('2022-02-02', { most_days: 400 }).lives.length).toBe(2);
    expect(service('2022-01-20', { most_days: 10 }).lives.length).toBe(1);
    expect(withCode(future('2058-01-01', { most_days: 60 }), 'removed-after-data')).toMatchObject([
      { done: 'set aside' },
    ]);
    expect(withCode(future('2024-08-01', { most_days: 60 }), 'removed-after-data')).toMatchObject([
      { done: 'mended' },
    ]);
  });
});
