/** Histories without data_until and with years typed wrongly, which once moved the day of the extract to 2079. */
import { describe, expect, it } from 'vitest';
import type { Fleet } from '../../lib/fleet/types.js';
import { textFromDay } from '../../lib/numeric/day.js';
import { readFiles } from '../fleet/files.js';

/** A life a month from January 2010 on, one after the other, in one position; then other lines as they are. */
function read(months: number, more: string[] = []): Fleet {
  const month = (m: number): string =>
    `${2010 + Math.floor(m / 12)}-${String((m % 12) + 1).padStart(2, '0')}-01`;
  const lives = Array.from({ length: months }, (_, m) => `V1,EPDM,${month(m)},${month(m + 1)},leak`);
  return readFiles({
    'site.json': { name: 'Test plant', currency: 'EUR' },
    'positions.csv': 'position,line,size\nV1,A,25\nV2,A,25\n',
    'lives.csv': `position,material,fitted,removed,reason\n${[...lives, ...more].join('\n')}\n`,
  });
}

describe('the day of the extract, not given', () => {
  const SLIP = 'V2,EPDM,2012-02-01,2079-10-12,leak';

  it('is the latest day, but for a year typed wrongly, which is told', () => {
    const { site } = read(60, [SLIP]);
    expect(textFromDay(site.dataUntil)).toBe('2015-01-01');
    expect(site.assumed.join(' ')).toContain(
      'of 2015-01-01, the latest day in lives.csv. 1 later day (up to 2079-10-12) comes more than two years after all others and is taken for a slip',
    );
    expect(textFromDay(read(60).site.dataUntil)).toBe('2015-01-01');
    expect(read(60).site.assumed.join(' ')).not.toContain('slip');
  });

  it('is not moved by one far day among few, where no other lies so far from the rest', () => {
    for (const months of [3, 10, 30, 48]) {
      const day = textFromDay(read(months).site.dataUntil);
      // The slip's own fitting, in 2012, is a day of the history too.
      const latest = day < '2012-02-01' ? '2012-02-01' : day;
      expect(textFromDay(read(months, [SLIP]).site.dataUntil)).toBe(latest);
    }
  });

  it('is the latest day where it is no farther than others are, few days are known, or many are late', () => {
    const spread = ['V2,EPDM,2013-03-01,2016-02-01,leak'];
    expect(textFromDay(read(3, spread).site.dataUntil)).toBe('2016-02-01');
    expect(textFromDay(read(1, [SLIP]).site.dataUntil)).toBe('2079-10-12');
    const twice = [SLIP, 'V2,EPDM,2079-10-12,2079-11-12,leak'];
    expect(textFromDay(read(30, twice).site.dataUntil)).toBe('2079-11-12');
    const late = Array.from({ length: 3 }, (_, i) => `V2,EPDM,${2030 + i}-01-01,${2031 + i}-01-01,leak`);
    expect(textFromDay(read(60, late).site.dataUntil)).toBe('2033-01-01');
  });
});
