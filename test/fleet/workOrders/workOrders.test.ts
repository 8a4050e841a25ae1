/** Work orders of one valve, worked by hand: which lives they bound, and what becomes of each row. */
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors.js';
import { lifeRow } from '../../../lib/fleet/lifeRows.js';
import { FINDINGS_AT_REMOVAL, type Fleet, REASONS } from '../../../lib/fleet/types.js';
import { textFromDay } from '../../../lib/numeric/day.js';
import { brief, livesOf, readFiles, SITE, withCode } from '../files.js';
import { makeWorkbook } from '../workbook/makeWorkbook.js';

const POSITIONS =
  'position,line,size,in_service_since,out_of_service_since,material_next\nV1,A,25,,,\nV2,A,40,,,\n';
const HEADER = 'position,date,work,material,reason,finding,order,lot';

/** Orders of V1 unless they say otherwise: date, work and what follows. */
function read(orders: string[], more: Record<string, string | object> = {}): Fleet {
  return readFiles({
    'positions.csv': POSITIONS.replace('V2,A,40,,,\n', ''),
    'work-orders.csv': `${HEADER}\n${orders.map((order) => (/^(V|EXAMPLE )/.test(order) ? order : `V1,${order}`)).join('\n')}\n`,
    ...more,
  });
}

const UNTIL_2022 = { 'site.json': { ...SITE, data_until: '2022-06-30' } };

/** Lives with reason and finding. */
function told(fleet: Fleet): string[] {
  return livesOf(fleet).map(
    (life, i) =>
      `${life} ${REASONS[fleet.lives.reason[i] ?? -1]} ${FINDINGS_AT_REMOVAL[fleet.lives.finding[i] ?? -1]}`,
  );
}

function adds(fleet: Fleet): void {
  const { rowsIn, rowsUsed, rowsSetAside, problems } = fleet.findings;
  expect(rowsIn).toBe(rowsUsed + rowsSetAside);
  expect(problems.filter(({ done, row }) => done === 'set aside' && row !== null)).toHaveLength(rowsSetAside);
}

describe('openings', () => {
  it('bound a life, and the reason of one is that of the life before it', () => {
    const fleet = read(
      [
        '2020-01-10,fitted,EPDM,,,,',
        '2021-02-01,replaced,EPDM,scheduled,worn,,L7',
        '2021-09-01,opened,FKM,,sound,,',
        '2022-03-05,replaced,,leak,torn,,',
      ],
      UNTIL_2022,
    );
    expect(told(fleet)).toEqual([
      'V1 EPDM 25 2020-01-10..2021-02-01 row 2 scheduled worn',
      'V1 EPDM 25 2021-02-01..2021-09-01 row 3 opened sound',
      'V1 FKM 25 2021-09-01..2022-03-05 row 4 leak torn',
      'V1 FKM 25 2022-03-05..? row 4 unknown unknown',
    ]);
    expect(fleet.findings).toMatchObject({ rowsIn: 5, rowsUsed: 5, livesBuilt: 0 });
    expect(fleet.lotNames[fleet.lives.lot[1] ?? -1]).toBe('L7');
    expect(brief(fleet)).toEqual([]);
    // Ages by hand: 388, 212 and 185 days, and 117 days from 2022-03-05 to 2022-06-30.
    expect([0, 1, 2, 3].map((i) => lifeRow(fleet, i, 'leak'))).toMatchObject([
      { kind: 'censored', age: 388 },
      { kind: 'censored', age: 212 },
      { kind: 'failed', lower: 184.5, upper: 185.5 },
      { kind: 'censored', age: 117 },
    ]);
  });

  it('before which no fitting is on record end a life of unknown age, which still counts as an opening', () => {
    const fleet = read(['2021-02-01,replaced,EPDM,leak,,,', '2022-02-01,replaced,EPDM,leak,,,']);
    expect(livesOf(fleet)).toEqual([
      'V1 EPDM 25 ?..2021-02-01 row 1',
      'V1 EPDM 25 2021-02-01..2022-02-01 row 2',
      'V1 EPDM 25 2022-02-01..? row 2',
    ]);
    expect(lifeRow(fleet, 0, 'leak')).toMatchObject({ kind: 'set aside' });
    expect(brief(fleet)).toEqual(['fitted-missing 1 used']);
    expect(fleet.findings).toMatchObject({ rowsIn: 3, rowsUsed: 3 });
  });

  it('before the records begin delay the entry of the life after them', () => {
    const fleet = read(['2019-01-01,fitted,EPDM,,,,', '2021-01-01,replaced,EPDM,leak,,,'], {
      'site.json': { ...SITE, records_from: '2020-01-01' },
    });
    expect(lifeRow(fleet, 0, 'leak')).toMatchObject({ kind: 'failed', entry: 365, upper: 731.5 });
  });

  it('before the records begin end lives that are left out, and are used for the life they begin', () => {
    const fleet = read(
      ['2017-01-01,fitted,EPDM,,,,', '2018-01-01,replaced,EPDM,leak,,,', '2021-01-01,replaced,EPDM,leak,,,'],
      { 'site.json': { ...SITE, records_from: '2020-01-01' } },
    );
    expect(livesOf(fleet)).toEqual([
      'V1 EPDM 25 2018-01-01..2021-01-01 row 3',
      'V1 EPDM 25 2021-01-01..? row 3',
    ]);
    // The order of 2017 bounds no other life; that of 2018 does.
    expect(brief(fleet)).toEqual(['removed-before-records 1 set aside', 'removed-before-records 2 used']);
    adds(fleet);
  });
});

describe('orders that leave the valve closed', () => {
  it('do not end a life: inspected, re-tightened, calibrated, a leak that was re-tightened', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2020-03-01,inspected,,,,,',
      '2020-06-01,retightened,,leak,,,',
      '2020-07-01,calibrated,,,,,',
      '2021-01-01,replaced,EPDM,leak,,,',
    ]);
    expect(livesOf(fleet)[0]).toBe('V1 EPDM 25 2020-01-01..2021-01-01 row 5');
    expect(fleet.lives.length).toBe(2);
    expect(withCode(fleet, 'leak-left-in-place')).toMatchObject([
      { row: 3, done: 'used', text: expect.stringMatching(/^1 order tells of a leak without opening/) },
    ]);
  });

  it('tested, found tight, is the last tight day of the life, and a test that failed is not', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2020-05-01,tested,,,,,',
      '2020-09-01,tested,,failed_test,,,',
      '2020-09-10,replaced,EPDM,failed_test,,,',
    ]);
    expect(textFromDay(fleet.lives.lastTight[0] ?? 0)).toBe('2020-05-01');
    expect(lifeRow(fleet, 0, 'leak')).toMatchObject({ kind: 'failed', lower: 121, upper: 253.5 });
  });

  it('that name another material than the one fitted put the life in doubt', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2021-01-01,inspected,FKM,,,,',
      '2022-01-01,replaced,FKM,leak,,,',
    ]);
    expect(livesOf(fleet)[0]).toBe('V1 EPDM 25 ?..2022-01-01 row 3');
    expect(withCode(fleet, 'material-within-life')).toMatchObject([{ row: 2, done: 'used' }]);
  });

  it('that were cancelled, or are still to come, are set aside', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2021-01-01,cancelled,,,,,',
      '2025-01-01,replaced,EPDM,,,,',
    ]);
    expect(livesOf(fleet)).toEqual(['V1 EPDM 25 2020-01-01..? row 1']);
    expect(brief(fleet)).toEqual(['order-cancelled 2 set aside', 'order-after-data 3 set aside']);
    adds(fleet);
  });
});

describe('orders that cannot be read', () => {
  it('put the life they fall into in doubt, since they may have opened the valve', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2020-06-01,serviced,,,,,',
      '2021-01-01,replaced,EPDM,leak,,,',
      '2022-01-01,replaced,EPDM,leak,,,',
    ]);
    expect(livesOf(fleet)).toEqual([
      'V1 EPDM 25 ?..2021-01-01 row 3',
      'V1 EPDM 25 2021-01-01..2022-01-01 row 4',
      'V1 EPDM 25 2022-01-01..? row 4',
    ]);
    expect(withCode(fleet, 'work-unknown')).toMatchObject([{ row: 2, value: 'serviced', done: 'set aside' }]);
    expect(withCode(fleet, 'work-words')[0]?.text).toMatch(/orders have each: "serviced" \(1\)\.$/);
    adds(fleet);
  });

  it('are read by the words that site.json maps', () => {
    const site = { ...SITE, values: { work: { serviced: 'inspected', 'Membran neu': 'replaced' } } };
    const fleet = read(
      ['2020-01-01,fitted,EPDM,,,,', '2020-06-01,Serviced,,,,,', '2021-01-01,Membran neu,EPDM,leak,,,'],
      { 'site.json': site },
    );
    expect(livesOf(fleet)[0]).toBe('V1 EPDM 25 2020-01-01..2021-01-01 row 3');
  });

  it('that opened the valve on a day not known put all lives of the position in doubt', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      ',replaced,EPDM,,,,',
      '2021-01-01,replaced,EPDM,leak,,,',
    ]);
    expect(livesOf(fleet)).toEqual(['V1 EPDM 25 ?..2021-01-01 row 3', 'V1 EPDM 25 ?..? row 3']);
    expect(withCode(fleet, 'order-undated')).toMatchObject([{ row: 2, done: 'set aside' }]);
    adds(fleet);
  });

  it('of no known valve, or without a word, are set aside', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      'V9,2020-02-01,replaced,EPDM,,,,',
      '2020-03-01,,EPDM,,,,',
    ]);
    expect(brief(fleet)).toEqual(
      expect.arrayContaining(['position-unknown 2 set aside', 'work-missing 3 set aside']),
    );
    adds(fleet);
  });
});

describe('one job on two orders', () => {
  it('of one day is counted once; the one that says most is kept', () => {
    const fleet = read(
      ['2020-01-01,fitted,EPDM,,,,', '2021-01-01,replaced,,,,,', '2021-01-01,replaced,EPDM,leak,torn,,L1'],
      UNTIL_2022,
    );
    expect(told(fleet)).toEqual([
      'V1 EPDM 25 2020-01-01..2021-01-01 row 3 leak torn',
      'V1 EPDM 25 2021-01-01..? row 3 unknown unknown',
    ]);
    expect(brief(fleet)).toEqual(['order-repeated 2 set aside']);
    adds(fleet);
  });

  it('takes from each what the other leaves open', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2021-01-01,removed,,leak,torn,,',
      '2021-01-01,fitted,FKM,,,,L2',
    ]);
    expect(told(fleet)).toEqual([
      'V1 EPDM 25 2020-01-01..2021-01-01 row 2 leak torn',
      'V1 FKM 25 2021-01-01..? row 2 unknown unknown',
    ]);
    expect(brief(fleet)).toEqual(['orders-merged 3 mended']);
  });

  it('with reasons that contradict each other has an unknown one', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2021-01-01,replaced,EPDM,leak,,,',
      '2021-01-01,replaced,EPDM,scheduled,,,',
    ]);
    expect(told(fleet)[0]).toBe('V1 EPDM 25 2020-01-01..2021-01-01 row 2 unknown unknown');
    expect(withCode(fleet, 'orders-contradict')).toMatchObject([
      { row: 3, column: 'reason', done: 'mended' },
    ]);
  });

  it('does not decide by a third order what two contradict each other about', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2021-01-01,replaced,EPDM,leak,torn,,',
      '2021-01-01,replaced,FKM,scheduled,sound,,',
      '2021-01-01,replaced,FKM,scheduled,sound,,',
      '2022-01-01,replaced,FKM,leak,,,',
    ]);
    expect(told(fleet)).toEqual([
      'V1 EPDM 25 2020-01-01..2021-01-01 row 2 unknown unknown',
      'V1 FKM 25 2022-01-01..? row 5 unknown unknown',
    ]);
    expect(withCode(fleet, 'orders-contradict').map(({ row, column }) => `${row} ${column}`)).toEqual([
      '3 reason',
      '3 finding',
      '3 material',
    ]);
    expect(brief(fleet)).toContain('order-repeated 4 set aside');
    expect(brief(fleet)).toContain('material-missing 5 used');
    adds(fleet);
  });

  it('of which one was opened for other work has the reason that another gives', () => {
    for (const orders of [
      ['2021-01-01,opened,EPDM,,sound,,L1', '2021-01-01,replaced,,leak,,,'],
      ['2021-01-01,opened,,,,,', '2021-01-01,replaced,EPDM,leak,torn,,'],
    ]) {
      expect(told(read(['2020-01-01,fitted,EPDM,,,,', ...orders]))[0]).toMatch(/ leak (sound|torn)$/);
    }
  });

  it('is also one where lines of one number lie three days apart, and two where the number differs', () => {
    const lives = (number: string, day = '03'): string[] =>
      livesOf(
        read([
          '2020-01-01,fitted,EPDM,,,,',
          '2021-01-01,replaced,EPDM,leak,,4711,',
          `2021-01-${day},replaced,EPDM,,,${number},`,
        ]),
      );
    expect(lives('4711')).toEqual([
      'V1 EPDM 25 2020-01-01..2021-01-01 row 2',
      'V1 EPDM 25 2021-01-01..? row 2',
    ]);
    expect(lives('4712')).toHaveLength(3);
    expect(lives('')).toHaveLength(3);
    expect(lives('4711', '05')).toHaveLength(3);
  });

  it('ends the life on the first day and begins the next when one went in', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2021-01-01,removed,,leak,,4711,',
      '2021-01-03,fitted,FKM,,,4711,',
    ]);
    expect(livesOf(fleet)).toEqual([
      'V1 EPDM 25 2020-01-01..2021-01-01 row 2',
      'V1 FKM 25 2021-01-03..? row 2',
    ]);
    const turned = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2021-01-01,fitted,,,,4711,',
      '2021-01-03,replaced,EPDM,leak,,4711,',
    ]);
    expect(livesOf(turned)).toEqual([
      'V1 EPDM 25 2020-01-01..2021-01-01 row 3',
      'V1 EPDM 25 2021-01-01..? row 3',
    ]);
  });
});

describe('valves that leave service, and gaps', () => {
  it('removed for good takes the position out of service, retired unless a reason is given', () => {
    const fleet = read(['2020-01-01,fitted,EPDM,,,,', '2021-01-01,removed,,,,,']);
    expect(told(fleet)).toEqual(['V1 EPDM 25 2020-01-01..2021-01-01 row 2 retired unknown']);
    expect(textFromDay(fleet.positions[0]?.outOfServiceSince ?? 0)).toBe('2021-01-01');
    expect(withCode(fleet, 'retired-without-date')).toHaveLength(1);
    const leaked = read(['2020-01-01,fitted,EPDM,,,,', '2021-01-01,removed,,leak,,,']);
    expect(told(leaked)).toEqual(['V1 EPDM 25 2020-01-01..2021-01-01 row 2 leak unknown']);
    expect(leaked.findings.livesBuilt).toBe(0);
  });

  it('removed and fitted later leaves the time between empty', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2021-01-01,removed,,,,,',
      '2022-01-01,fitted,FKM,,,,',
    ]);
    expect(told(fleet)).toEqual([
      'V1 EPDM 25 2020-01-01..2021-01-01 row 2 unknown unknown',
      'V1 FKM 25 2022-01-01..? row 3 unknown unknown',
    ]);
    expect(fleet.positions[0]?.outOfServiceSince).toBeNull();
  });

  it('fitted although one is in place leaves that one without an end; with a finding it took one out', () => {
    const fleet = read([
      '2020-01-01,fitted,EPDM,,,,',
      '2021-01-01,fitted,EPDM,,,,',
      '2022-01-01,fitted,EPDM,leak,,,',
    ]);
    expect(livesOf(fleet)).toEqual([
      'V1 EPDM 25 2021-01-01..2022-01-01 row 3',
      'V1 EPDM 25 2022-01-01..? row 3',
    ]);
    expect(brief(fleet)).toContain('life-left-open 1 set aside');
    adds(fleet);
  });

  it('without any order holds a diaphragm of unknown age, where its material is known', () => {
    const fleet = read(['2020-01-01,fitted,EPDM,,,,'], {
      'positions.csv': POSITIONS.replace('V2,A,40,,,', 'V2,A,40,,,FKM'),
    });
    expect(livesOf(fleet)).toEqual(['V1 EPDM 25 2020-01-01..? row 1', 'V2 FKM 40 ?..? row 0']);
    expect(fleet.findings.livesBuilt).toBe(1);
  });
});

describe('tags, materials and the day of the extract', () => {
  it('joins the orders of a tag that was renamed', () => {
    const fleet = read(['V1-OLD,2020-01-01,fitted,EPDM,,,,', '2021-01-01,replaced,EPDM,leak,,,'], {
      'site.json': { ...SITE, aliases: { 'V1-OLD': 'V1' } },
    });
    expect(livesOf(fleet)[0]).toBe('V1 EPDM 25 2020-01-01..2021-01-01 row 2');
  });

  it('takes a material that no order names from the position, and says so; without one the lives are set aside', () => {
    const orders = ['2020-01-01,fitted,,,,,', '2021-01-01,replaced,,leak,,,'];
    const fleet = read(orders, { 'positions.csv': POSITIONS.replace('V1,A,25,,,', 'V1,A,25,,,VMQ') });
    expect(livesOf(fleet)[0]).toBe('V1 VMQ 25 2020-01-01..2021-01-01 row 2');
    expect(withCode(fleet, 'material-taken')[0]?.text).toMatch(/^2 lives take its material/);
    expect(() => read(orders)).toThrow(InputError);
    expect(() => read(orders)).toThrow(/None of the 2 rows can be used.*material/s);
  });

  it('takes the latest day of an order for the day of the extract where none is given', () => {
    const fleet = read(['2020-01-01,fitted,EPDM,,,,', '2021-01-01,inspected,,,,,'], { 'site.json': {} });
    expect(textFromDay(fleet.site.dataUntil)).toBe('2021-01-01');
    expect(fleet.site.assumed.join(' ')).toMatch(/2021-01-01, the latest day in work-orders\.csv/);
  });

  it('refuses a table of which no order opened a valve, or with a header alone', () => {
    expect(() => read(['2020-01-01,inspected,EPDM,,,,'])).toThrow(
      /work-orders\.csv, column work: No order opened a valve/,
    );
    expect(() => read([])).toThrow(/work-orders\.csv: The file has a header and no rows/);
  });
});

describe('a workbook', () => {
  it('may hold the orders on a sheet of that name, under a title, with days of its own', () => {
    const rows = [
      ['Orders of hall 2'],
      ['position', 'date', 'work', 'material', 'reason'],
      ['V1', { day: 43831 }, 'fitted', 'EPDM', null],
      ['V1', { day: 44197 }, 'replaced', 'EPDM', 'leak'],
    ];
    const fleet = readFiles({
      'positions.csv': 'position,size\nV1,25\n',
      'plant.xlsx': makeWorkbook([{ name: 'Work orders', rows }]),
    });
    expect(livesOf(fleet)).toEqual([
      'V1 EPDM 25 2020-01-01..2021-01-01 row 2',
      'V1 EPDM 25 2021-01-01..? row 2',
    ]);
    expect(withCode(fleet, 'read-from-workbook')).toMatchObject([{ file: 'work-orders.csv' }]);
  });
});

describe('lives.csv and work-orders.csv together', () => {
  const both = (lives: string[], orders: string[]): Fleet =>
    read(orders, { 'lives.csv': `position,material,fitted,removed,reason\n${lives.join('\n')}\n` });

  it('go on from the diaphragm in place at the last day of lives.csv', () => {
    const fleet = both(
      ['V1,EPDM,2018-01-01,2019-01-01,leak', 'V1,EPDM,2019-01-01,,'],
      ['2021-01-01,replaced,FKM,leak,torn,,', '2022-01-01,replaced,FKM,scheduled,,,'],
    );
    expect(told(fleet).map((life) => life.replace(/ row \d+/, ''))).toEqual([
      'V1 EPDM 25 2018-01-01..2019-01-01 leak unknown',
      'V1 EPDM 25 2019-01-01..2021-01-01 leak torn',
      'V1 FKM 25 2021-01-01..2022-01-01 scheduled unknown',
      'V1 FKM 25 2022-01-01..? unknown unknown',
    ]);
    expect(brief(fleet)).toEqual(['life-ended-by-order 1 used']);
    expect(fleet.findings).toMatchObject({ rowsIn: 5, rowsUsed: 5 });
  });

  it('go on from the last removal, because a diaphragm that was removed is always replaced', () => {
    const fleet = both(['V1,EPDM,2018-01-01,2019-01-01,leak'], ['2021-01-01,replaced,EPDM,leak,,,']);
    expect(livesOf(fleet).map((life) => life.replace(/ row \d+/, ''))).toEqual([
      'V1 EPDM 25 2018-01-01..2019-01-01',
      'V1 EPDM 25 2019-01-01..2021-01-01',
      'V1 EPDM 25 2021-01-01..?',
    ]);
    expect(withCode(fleet, 'life-built')).toMatchObject([
      { file: 'work-orders.csv', row: 1, done: 'mended' },
    ]);
  });

  it('an order that lives.csv tells of is a repetition, one that it contradicts is set aside', () => {
    const fleet = both(
      [
        'V1,EPDM,2018-01-01,2019-01-01,leak',
        'V1,EPDM,2019-01-01,2020-01-01,scheduled',
        'V1,EPDM,2020-01-01,,',
      ],
      [
        '2019-01-02,replaced,EPDM,leak,,,',
        '2019-06-01,replaced,EPDM,leak,,,',
        '2020-01-01,replaced,EPDM,leak,,,',
        '2021-01-01,inspected,,,,,',
      ],
    );
    expect(fleet.lives.length).toBe(3);
    expect(brief(fleet)).toEqual([
      'running-life-old 3 used',
      'order-in-lives 1 set aside',
      'order-contradicts-lives 2 set aside',
      'order-contradicts-lives 3 set aside',
    ]);
    const texts = withCode(fleet, 'order-contradicts-lives').map(({ text }) => text);
    expect(texts[0]).toMatch(/by row 2 of lives\.csv the diaphragm stayed in place that day/);
    expect(texts[1]).toMatch(/lives\.csv gives the reason scheduled in row 2/);
    adds(fleet);
  });

  it('a table with no rows or a row of examples is as if it were not there', () => {
    for (const empty of ['position,material\n', 'position,material\nEXAMPLE V1,EPDM\n']) {
      const fleet = read(['2020-01-01,fitted,EPDM,,,,'], { 'lives.csv': empty });
      expect(livesOf(fleet)[0]).toMatch(/^V1 EPDM 25 2020-01-01\.\.\?/);
      adds(fleet);
    }
    const orders = both(['V1,EPDM,2018-01-01,,'], ['EXAMPLE V1,2021-01-01,replaced,EPDM,,,,']);
    expect(livesOf(orders)).toEqual(['V1 EPDM 25 2018-01-01..? row 1']);
  });
});
