import { describe, expect, it } from 'vitest';
import { InputError } from '../../lib/errors.js';
import { brief, livesOf, readLivesOf, SITE, withCode } from './files.js';

describe('rows of lives.csv that contradict something', () => {
  const cases: [string, string[], string[], string[]][] = [
    [
      'a removal before fitting is set aside, not swapped, and leaves the life in place of unknown age',
      ['V1,EPDM,2020-01-01,2021-01-01,leak,,', 'V1,EPDM,2022-05-01,2021-06-01,leak,,'],
      ['removed-before-fitted 2 set aside', 'life-built - mended'],
      ['V1 EPDM 25 2020-01-01..2021-01-01 row 1', 'V1 EPDM 25 ?..? row 0'],
    ],
    [
      'a date that does not exist is set aside',
      ['V1,EPDM,2023-02-30,2024-01-01,leak,,', 'V1,EPDM,2024-01-01,,,,'],
      ['date-does-not-exist 1 set aside'],
      ['V1 EPDM 25 2024-01-01..? row 2'],
    ],
    [
      'a fitting after the extract is set aside',
      ['V1,EPDM,2024-01-01,2024-03-01,leak,,', 'V1,EPDM,2024-07-01,,,,'],
      ['fitted-after-data 2 set aside', 'life-built - mended'],
      ['V1 EPDM 25 2024-01-01..2024-03-01 row 1', 'V1 EPDM 25 ?..? row 0'],
    ],
    [
      'a removal after the extract counts as in place that day',
      ['V1,EPDM,2023-01-01,2024-07-01,leak,,'],
      ['removed-after-data 1 mended'],
      ['V1 EPDM 25 2023-01-01..? row 1'],
    ],
    [
      'a reason without a removal date is set aside, and its successor is of unknown age',
      ['V1,EPDM,2020-01-01,2021-01-01,scheduled,,', 'V1,EPDM,2021-01-01,,leak,,'],
      ['removal-date-missing 2 set aside', 'life-built - mended'],
      ['V1 EPDM 25 2020-01-01..2021-01-01 row 1', 'V1 EPDM 25 ?..? row 0'],
    ],
    [
      'an exact repeat is set aside once',
      [
        'V1,EPDM,2020-01-01,2021-01-01,leak,torn,',
        'V1,EPDM,2020-01-01,2021-01-01,leak,torn,',
        'V1,EPDM,2021-01-01,,,,',
      ],
      ['life-duplicate 2 set aside'],
      ['V1 EPDM 25 2020-01-01..2021-01-01 row 1', 'V1 EPDM 25 2021-01-01..? row 3'],
    ],
    [
      'of two in place, the one that was followed by another is set aside',
      ['V1,EPDM,2020-01-01,,,,', 'V1,EPDM,2022-01-01,,,,'],
      ['two-running-lives 1 set aside'],
      ['V1 EPDM 25 2022-01-01..? row 2'],
    ],
    [
      'a life left open before a completed one is set aside, and the one in place is built from the last removal',
      ['V1,EPDM,2020-01-01,,,,', 'V1,EPDM,2021-01-01,2022-01-01,leak,,'],
      ['life-left-open 1 set aside', 'life-built - mended'],
      ['V1 EPDM 25 2021-01-01..2022-01-01 row 2', 'V1 EPDM 25 2022-01-01..? row 0'],
    ],
    [
      'two lives at once are both set aside: nothing tells which is true',
      [
        'V1,EPDM,2020-01-01,2021-06-01,leak,,',
        'V1,EPDM,2020-09-01,2022-01-01,leak,,',
        'V1,EPDM,2022-01-01,,,,',
      ],
      ['lives-overlap 1 set aside', 'lives-overlap 2 set aside'],
      ['V1 EPDM 25 2022-01-01..? row 3'],
    ],
    [
      'a life that overlaps all others is the one set aside',
      [
        'V1,EPDM,2010-01-01,2021-01-01,leak,,',
        'V1,EPDM,2018-01-01,2019-01-01,leak,,',
        'V1,EPDM,2019-01-01,2020-01-01,leak,,',
        'V1,EPDM,2021-01-01,,,,',
      ],
      ['lives-overlap 1 set aside', 'gap-between-lives 4 used'],
      [
        'V1 EPDM 25 2018-01-01..2019-01-01 row 2',
        'V1 EPDM 25 2019-01-01..2020-01-01 row 3',
        'V1 EPDM 25 2021-01-01..? row 4',
      ],
    ],
    [
      'neighbours that overlap by two days are used as they are and asked about',
      ['V1,EPDM,2020-01-01,2021-01-03,leak,,', 'V1,EPDM,2021-01-01,,,,'],
      ['lives-touch 2 used'],
      ['V1 EPDM 25 2020-01-01..2021-01-03 row 1', 'V1 EPDM 25 2021-01-01..? row 2'],
    ],
    [
      'an unknown fitting day keeps the row for demand and sets it aside from fitting',
      ['V1,EPDM,,2021-01-01,leak,,', 'V1,EPDM,2021-01-01,,,,'],
      ['fitted-missing 1 set aside'],
      ['V1 EPDM 25 ?..2021-01-01 row 1', 'V1 EPDM 25 2021-01-01..? row 2'],
    ],
    [
      'leaks on the fitting day are used without question, other removals that day are asked about',
      [
        'V1,EPDM,2021-01-01,2021-01-01,leak,,',
        'V1,EPDM,2021-01-01,2021-01-01,opened,,',
        'V1,EPDM,2021-01-01,,,,',
      ],
      ['removed-on-fitting-day 2 used'],
      [
        'V1 EPDM 25 2021-01-01..2021-01-01 row 1',
        'V1 EPDM 25 2021-01-01..2021-01-01 row 2',
        'V1 EPDM 25 2021-01-01..? row 3',
      ],
    ],
    [
      'a tight test outside the life is left out',
      ['V1,EPDM,2021-01-01,2022-01-01,leak,,2023-01-01', 'V1,EPDM,2022-01-01,,,,'],
      ['last-tight-outside 1 mended'],
      ['V1 EPDM 25 2021-01-01..2022-01-01 row 1', 'V1 EPDM 25 2022-01-01..? row 2'],
    ],
    [
      'an unknown word for a reason is read as unknown',
      ['V1,EPDM,2021-01-01,2022-01-01,undicht,kaputt,', 'V1,EPDM,2022-01-01,,,,'],
      ['word-unknown 1 mended', 'word-unknown 1 mended', 'reason-missing - used'],
      ['V1 EPDM 25 2021-01-01..2022-01-01 row 1', 'V1 EPDM 25 2022-01-01..? row 2'],
    ],
    [
      'an unknown tag, a missing tag and a missing material are set aside',
      [
        'V2,EPDM,2021-01-01,,,,',
        ',EPDM,2021-01-01,,,,',
        'V1,,2021-01-01,2022-01-01,leak,,',
        'V1,EPDM,2022-01-01,,,,',
      ],
      ['position-unknown 1 set aside', 'position-missing 2 set aside', 'material-missing 3 set aside'],
      ['V1 EPDM 25 2022-01-01..? row 4'],
    ],
    [
      'spaces and capitals are evened out and said once per column',
      [' v1 ,EPDM,2021-01-01,2022-01-01,Leak,Torn,', 'V1, epdm,2022-01-01,,,,'],
      ['tidied 1 mended', 'tidied 2 mended', 'tidied 1 mended', 'tidied 1 mended'],
      ['V1 EPDM 25 2021-01-01..2022-01-01 row 1', 'V1 EPDM 25 2022-01-01..? row 2'],
    ],
  ];

  it.each(cases)('%s', (_, lives, problems, kept) => {
    const fleet = readLivesOf(lives);
    const found = brief(fleet).filter((problem) => !problem.startsWith('running-life-old'));
    expect(found.sort()).toEqual([...problems].sort());
    expect(livesOf(fleet)).toEqual(kept);
    const { rowsIn, rowsUsed, rowsSetAside } = fleet.findings;
    expect(rowsIn).toBe(lives.length + 1);
    expect(rowsUsed + rowsSetAside).toBe(rowsIn);
    expect(rowsSetAside).toBe(fleet.findings.problems.filter(({ done }) => done === 'set aside').length);
  });
});

describe('records that began late', () => {
  const site = { ...SITE, records_from: '2020-01-01' };

  const withSecond = (first: string) =>
    readLivesOf([], {
      'site.json': site,
      'positions.csv': 'position,size\nV1,25\nV2,25\n',
      'lives.csv': `position,material,fitted,removed,reason\n${first}\nV2,EPDM,2021-01-01,,\n`,
    });

  it('sets aside what was removed before or on the day, and builds the life in place from that removal', () => {
    const before = withSecond('V1,EPDM,2017-01-01,2019-01-01,leak');
    expect(brief(before)).toContain('removed-before-records 1 set aside');
    expect(livesOf(before)).toContain('V1 EPDM 25 2019-01-01..? row 0');
    const on = withSecond('V1,EPDM,2017-01-01,2020-01-01,leak');
    expect(brief(on)).toContain('never-watched 1 set aside');
    expect(livesOf(on)).toContain('V1 EPDM 25 2020-01-01..? row 0');
  });

  it('refuses a file in which nothing was watched, with the first reason', () => {
    const lives = ['V1,EPDM,2017-01-01,2019-01-01,leak,,'];
    expect(() => readLivesOf(lives, { 'site.json': site })).toThrow(InputError);
    expect(() => readLivesOf(lives, { 'site.json': site })).toThrow(
      /The only row cannot be used.*before the records began/,
    );
  });
});

describe('lives that are not there', () => {
  const positions = (row: string): Record<string, string> => ({
    'positions.csv': `position,size,material_next,in_service_since,out_of_service_since,idle\n${row}\n`,
  });
  const removed = ['V1,EPDM,2020-01-01,2021-01-01,scheduled,,'];

  it('builds exactly one from the last removal', () => {
    const fleet = readLivesOf(removed, positions('V1,25,FKM,,,'));
    expect(livesOf(fleet)).toEqual([
      'V1 EPDM 25 2020-01-01..2021-01-01 row 1',
      'V1 EPDM 25 2021-01-01..? row 0',
    ]);
    expect(fleet.findings.livesBuilt).toBe(1);
    expect(fleet.findings.rowsIn).toBe(2);
    expect(withCode(fleet, 'life-built')[0]).toMatchObject({ done: 'mended', value: 'V1' });
  });

  it('builds none where the position is out of service, not yet in it, or was retired', () => {
    expect(readLivesOf(removed, positions('V1,25,,,2021-01-01,')).findings.livesBuilt).toBe(0);
    const retired = readLivesOf(['V1,EPDM,2020-01-01,2021-01-01,retired,,']);
    expect(retired.findings.livesBuilt).toBe(0);
    expect(withCode(retired, 'retired-without-date')).toHaveLength(1);
    expect(retired.positions[0]?.outOfServiceSince).toBe(18_628); // 2021-01-01
  });

  it('ends a life left running when its position goes out of service', () => {
    const fleet = readLivesOf(['V1,EPDM,2020-01-01,,,,'], positions('V1,25,,,2022-01-01,'));
    expect(brief(fleet)).toEqual(['ended-with-service 1 mended']);
    expect(livesOf(fleet)).toEqual(['V1 EPDM 25 2020-01-01..2022-01-01 row 1']);
  });

  it('does not end a life with service that another followed: it is set aside as left open', () => {
    const fleet = readLivesOf(
      ['V1,EPDM,2020-01-01,,,,', 'V1,EPDM,2020-06-01,2021-06-01,leak,,'],
      positions('V1,25,,,2022-01-01,'),
    );
    expect(livesOf(fleet)).toEqual(['V1 EPDM 25 2020-06-01..2021-06-01 row 2']);
    expect(brief(fleet)).toEqual(['life-left-open 1 set aside']);
  });

  it('sets aside a life fitted or a leak found after service ended', () => {
    const fleet = readLivesOf(
      [
        'V1,EPDM,2020-01-01,2021-01-01,leak,,',
        'V1,EPDM,2021-01-01,2023-01-01,leak,,',
        'V1,EPDM,2023-01-01,,,,',
      ],
      positions('V1,25,,,2022-01-01,'),
    );
    expect(brief(fleet)).toEqual(['life-out-of-service 2 set aside', 'life-out-of-service 3 set aside']);
  });

  it('takes what will be fitted next where nothing is on record, and asks where that is not known either', () => {
    const files = (next: string): Record<string, string> => ({
      'positions.csv': `position,size,material_next\nV1,25,\nV2,40,${next}\n`,
    });
    const known = readLivesOf(['V1,EPDM,2020-01-01,,,,'], files('FKM'));
    expect(livesOf(known)).toContain('V2 FKM 40 ?..? row 0');
    const unknown = readLivesOf(['V1,EPDM,2020-01-01,,,,'], files(''));
    expect(brief(unknown)).toEqual(['position-without-life 2 used']);
    expect(unknown.lives.length).toBe(1);
  });

  it('keeps idle periods, and a gap in which the position was idle is not asked about', () => {
    const lives = ['V1,EPDM,2020-01-01,2021-01-01,scheduled,,', 'V1,EPDM,2021-09-01,,,,'];
    expect(brief(readLivesOf(lives))).toEqual(['gap-between-lives 2 used']);
    const fleet = readLivesOf(lives, positions('V1,25,,,,2021-01-01..2021-08-31|2022-02-01..2022-03-01'));
    expect(brief(fleet)).toEqual([]);
    expect(fleet.positions[0]?.idle).toEqual([
      { start: 18_628, end: 18_870 },
      { start: 19_024, end: 19_052 },
    ]);
  });

  it('asks about a life in place three times as old as any completed one', () => {
    const fleet = readLivesOf(['V1,EPDM,2022-01-01,2022-04-11,leak,,', 'V1,EPDM,2022-04-11,,,,']);
    expect(withCode(fleet, 'running-life-old')[0]).toMatchObject({ row: 2, done: 'used' });
  });
});
