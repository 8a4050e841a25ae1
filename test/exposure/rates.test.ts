import { describe, expect, it } from 'vitest';
import { dailyRates } from '../../lib/exposure/rates.js';
import { readFiles, withCode } from '../fleet/files.js';

const fleet = readFiles({
  'positions.csv':
    'position,size,strokes_per_day,steam_cycles_per_week,hot_cleans_per_week\nV1,25,5,7,14\nV2,25,,,\nV3,25,8,,\n',
  'lives.csv': 'position,material,fitted\nV1,EPDM,2024-01-01\nV2,EPDM,2024-01-01\nV3,EPDM,2024-01-01\n',
  'readings.csv': [
    'position,date,strokes,steam_cycles,hot_cleans',
    // Out of order on purpose: 100 strokes in 10 days, then a reset, then 30 in 10 days.
    'V1,2024-02-20,10,,',
    'V1,2024-01-31,1000,,',
    'V1,2024-02-10,1100,,',
    'V1,2024-03-01,40,3,',
    // A second reading of a day, an unknown tag, a day after the extract, a number with a unit.
    'V1,2024-03-01,41,3,',
    'V9,2024-03-01,41,3,',
    'V2,2025-03-01,41,3,',
    'V3,2024-03-01,12 strokes,,',
    '',
  ].join('\n'),
});

describe('dailyRates', () => {
  const rates = dailyRates(fleet);

  it('measures from the counter, leaving out the step at which it was reset with its days', () => {
    // (100 + 30) strokes in (10 + 10) days.
    expect(rates[0]?.strokes).toEqual({ perDay: 6.5, source: 'measured', resets: 1, spread: null });
    expect(withCode(fleet, 'counter-went-down')).toMatchObject([{ row: 1, column: 'strokes', value: '10' }]);
  });

  it('says how unevenly a counter rose, from three steps on', () => {
    const uneven = readFiles({
      'positions.csv': 'position,size\nV1,25\n',
      'lives.csv': 'position,material,fitted\nV1,EPDM,2024-01-01\n',
      'readings.csv':
        'position,date,strokes\nV1,2024-01-01,0\nV1,2024-01-11,30\nV1,2024-01-21,40\nV1,2024-02-10,120\n',
    });
    // 120 in 40 days: 3 a day. Steps are off by 0, -20 and 20: (0 + 400 / 10 + 400 / 20) / 2 = 30.
    expect(dailyRates(uneven)[0]?.strokes).toEqual({
      perDay: 3,
      source: 'measured',
      resets: 0,
      spread: { variancePerDay: 30, days: 40 },
    });
  });

  it('takes what positions.csv gives where nothing is measured, per day', () => {
    expect(rates[0]?.steamCycles).toEqual({ perDay: 1, source: 'given', resets: 0, spread: null });
    expect(rates[0]?.hotCleans).toEqual({ perDay: 2, source: 'given', resets: 0, spread: null });
    expect(rates[2]?.strokes).toEqual({ perDay: 8, source: 'given', resets: 0, spread: null });
  });

  it('knows nothing where nothing is on record', () => {
    expect(rates[1]).toEqual({ strokes: null, steamCycles: null, hotCleans: null });
  });

  it('sets aside readings that cannot be', () => {
    const aside = fleet.findings.problems.filter(({ done }) => done === 'set aside').map(({ code }) => code);
    expect(aside.sort()).toEqual(['position-unknown', 'reading-after-data', 'reading-twice']);
    expect(withCode(fleet, 'number-with-unit')).toMatchObject([
      { row: 8, done: 'mended', value: '12 strokes' },
    ]);
  });
});
