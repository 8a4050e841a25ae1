import { describe, expect, it } from 'vitest';
import { type ExposedLives, exposeLives } from '../../lib/exposure/exposeLives.js';
import { EXPOSURE_MARKS } from '../../lib/exposure/exposureTypes.js';
import { readFiles } from '../fleet/files.js';
import { counted, type ReadingRow, withLives } from './fixtures.js';

/** 10 strokes a day from day 0 to 400, read every 100 days. */
const steady: ReadingRow[] = [0, 100, 200, 300, 400].map((day) => [0, day, 10 * day]);

function strokes(exposed: ExposedLives): {
  exposure: number[];
  byRate: number[];
  mark: (string | undefined)[];
} {
  const { exposure, byRate, mark } = exposed.strokes;
  return {
    exposure: [...exposure],
    byRate: [...byRate],
    mark: Array.from(mark, (k) => EXPOSURE_MARKS[k]),
  };
}

describe('exposeLives', () => {
  it('interpolates to fitting and removal, and to the day of the data while running', () => {
    const fleet = withLives(counted(steady, [{}], 390), [
      [0, 0, 150],
      [0, 150, 205],
      [0, 205, Number.NaN],
    ]);
    const exposed = exposeLives(fleet);
    expect([...exposed.days]).toEqual([150, 55, 185]);
    // The reading of day 400 is from after the day of the data: the last 90 days go on at 10 a day.
    expect(strokes(exposed)).toEqual({
      exposure: [1500, 550, 1850],
      byRate: [0, 0, 900],
      mark: ['interpolated', 'interpolated', 'extrapolated'],
    });
    const { atStart, atEnd, markAtStart, markAtEnd } = exposed.strokes;
    expect([...atStart]).toEqual([0, 1500, 2050]);
    expect([...atEnd]).toEqual([1500, 2050, 3900]);
    expect([...markAtStart]).toEqual([0, 1, 0]);
    expect([...markAtEnd]).toEqual([1, 0, 3]);
    expect(exposed.findings).toMatchObject({ rowsIn: 5, rowsUsed: 4, rowsSetAside: 1 });
    expect(exposed.findings.setAside).toMatchObject([{ code: 'after-data', number: 1 }]);
  });

  it('counts to the day from which records watch a life, and to its last tight test', () => {
    const lives = [
      [0, 50, 300, 250],
      [0, 300, 350],
    ] as const;
    const { strokes: got } = exposeLives(withLives(counted(steady), lives, 120));
    expect([...got.toEntry]).toEqual([700, 0]);
    expect([...got.toLastTight]).toEqual([2000, Number.NaN]);
    expect([...got.markToLastTight]).toEqual([1, 5]);
  });

  it('goes on at its own rate as long as it was measured, then by duty, else says that it does not know', () => {
    const short: ReadingRow[] = [
      [0, 100, 500],
      [0, 200, 1500],
    ];
    const lives = [
      [0, 0, 250],
      [0, 150, 600],
    ] as const;
    const alone = strokes(exposeLives(withLives(counted(short), lives)));
    expect(alone.exposure).toEqual([1500 + 1000, Number.NaN]);
    expect(alone.mark).toEqual(['extrapolated', 'unknown']);
    const byDuty = strokes(exposeLives(withLives(counted(short, [{ strokesPerDay: 4 }]), lives)));
    // 500 to the last reading, 100 days at 10, 300 days at 4.
    expect(byDuty.exposure).toEqual([2500, 500 + 1000 + 1200]);
    expect(byDuty.byRate).toEqual([1500, 2200]);
    expect(byDuty.mark).toEqual(['extrapolated', 'assumed']);
  });

  it('takes the duty where there are no readings, and leaves what nobody knows NaN', () => {
    const duties = [{ strokesPerDay: 7, steamCyclesPerWeek: 14 }, {}];
    const lives = [
      [0, 0, 100],
      [1, 0, 100],
    ] as const;
    const exposed = exposeLives(withLives(counted([], duties), lives));
    expect(strokes(exposed)).toEqual({
      exposure: [700, Number.NaN],
      byRate: [700, Number.NaN],
      mark: ['assumed', 'unknown'],
    });
    expect([...exposed.steamCycles.exposure]).toEqual([200, Number.NaN]);
    expect([...exposed.hotCleans.exposure]).toEqual([Number.NaN, Number.NaN]);
    expect(exposed.findings.counters[0]?.text).toBe(
      'strokes of 2 lives: assumed 50 %, unknown 50 %; 100 % of the counts come from a rate and not from readings.',
    );
  });

  it('does not know lives without a day of fitting or removed before they were fitted', () => {
    const lives = [
      [0, Number.NaN, 100],
      [0, 300, 200],
    ] as const;
    const exposed = exposeLives(withLives(counted(steady), lives));
    expect([...exposed.days]).toEqual([Number.NaN, Number.NaN]);
    expect([...exposed.daysMark]).toEqual([5, 5]);
    expect(strokes(exposed).exposure).toEqual([Number.NaN, Number.NaN]);
    expect(exposed.findings.setAside).toMatchObject([{ code: 'no-life', number: 5 }]);
  });

  it('lets the counter rest while the position is idle and after it went out of service', () => {
    const duty = {
      strokesPerDay: 3,
      idle: [
        { start: 120, end: 160 },
        { start: 150, end: 180 },
      ],
      outOfServiceSince: 450,
    };
    // 400 strokes in the 40 days in use of 100.
    const rows: ReadingRow[] = [
      [0, 100, 0],
      [0, 200, 400],
    ];
    const lives = [
      [0, 100, 110],
      [0, 110, 150],
      [0, 150, 180],
      [0, 180, 200],
      [0, 200, 600],
    ] as const;
    const got = strokes(exposeLives(withLives(counted(rows, [duty]), lives)));
    // After the last reading: 40 days at 10 a day as measured, 210 to the end of service at 3.
    expect(got.exposure).toEqual([100, 100, 0, 200, 400 + 630]);
  });

  it('says how many used readings are from days without a diaphragm', () => {
    const { findings } = exposeLives(withLives(counted(steady), [[0, 150, 320]]));
    expect(findings).toMatchObject({ rowsUsed: 5, rowsOutsideLives: 3 });
    expect(findings.text).toContain(
      '5 rows of readings: 5 used, 0 set aside; 3 of those used are from days without',
    );
  });

  it('takes a fleet as read, and accounts for every reading', () => {
    const fleet = readFiles({
      'positions.csv': 'position,size,steam_cycles_per_week\nV1,25,7\n',
      'lives.csv':
        'position,material,fitted,removed,reason\nV1,EPDM,2023-01-01,2024-01-01,scheduled\nV1,EPDM,2024-01-01,,\n',
      'readings.csv':
        'position,date,strokes,hot_cleans\nV1,2023-01-01,0,\nV1,2023-12-22,3550,\nV1,2024-01-11,3750,\nV1,2024-01-15,,\n',
    });
    const exposed = exposeLives(fleet);
    expect(exposed.length).toBe(fleet.lives.length);
    expect(exposed.strokes.exposure[0]).toBe(3650);
    expect(exposed.steamCycles.exposure[0]).toBe(365);
    expect(exposed.findings).toMatchObject({ rowsIn: 4, rowsUsed: 3, rowsSetAside: 1 });
    expect(exposed.findings.setAside).toMatchObject([{ code: 'empty', number: 1 }]);
  });

  it('refuses limits and tables that make no sense', () => {
    const fleet = withLives(counted(steady), [[0, 0, 100]]);
    expect(() => exposeLives(fleet, { nearDays: -1 })).toThrow(
      'exposeLives: nearDays must be 0 or more. Received -1.',
    );
    expect(() => exposeLives(fleet, { flat: 'gone' as 'idle' })).toThrow("'stood still' or 'idle'");
    expect(() => exposeLives(withLives(counted([[3, 1, 1]]), []))).toThrow(
      'row 1 of readings: there are 1 positions',
    );
    expect(() => exposeLives(withLives(counted([[0, 1.5, 1]]), []))).toThrow('date must be whole days');
  });
});
