/** When a count is reached: the quadratic against its definition, and against simulated counters. */
import { describe, expect, it } from 'vitest';
import { ageAtCount } from '../../lib/exposure/ageAtCount.js';
import { type DailyRate, dailyRates } from '../../lib/exposure/rates.js';
import { randomStream } from '../../lib/numeric/random.js';
import { normalQuantile } from '../../lib/numeric/special.js';
import { readFiles } from '../fleet/files.js';

const rate = (perDay: number, spread: DailyRate['spread']): DailyRate => ({
  perDay,
  source: 'measured',
  resets: 0,
  spread,
});

describe('ageAtCount', () => {
  it('is the count over the rate, with ends where the count is 1.645 standard deviations off', () => {
    const { age, low, high } = ageAtCount(rate(2, { variancePerDay: 9, days: 500 }), 400) ?? {
      age: 0,
      low: 0,
      high: 0,
    };
    expect(age).toBe(200);
    const off = (t: number): number => (400 - 2 * t) / Math.sqrt(9 * (t + (t * t) / 500));
    expect(off(low)).toBeCloseTo(1.6448536269514722, 10);
    expect(off(high)).toBeCloseTo(-1.6448536269514722, 10);
  });

  it('has no end where the slowest rate may be none, no width where nothing says how evenly it rises', () => {
    expect(ageAtCount(rate(0.1, { variancePerDay: 9, days: 50 }), 400)?.high).toBe(Infinity);
    expect(ageAtCount(rate(0.1, { variancePerDay: 9, days: 50 }), 400)?.low).toBeGreaterThan(0);
    expect(ageAtCount(rate(2, null), 400)).toEqual({ age: 200, low: 200, high: 200 });
    expect(ageAtCount(rate(0, null), 400)).toBeNull();
  });

  it('holds the age at which simulated counters reach the count nine times in ten', () => {
    const random = randomStream(7, 'counters that reach a count');
    const runs = 2000;
    let inside = 0;
    for (let run = 0; run < runs; run++) {
      // 24 quarterly readings of a counter of 3 a day, standard deviation 4 in a day; then on until 600 more.
      const step = (days: number): number =>
        3 * days + 4 * Math.sqrt(days) * normalQuantile(random.uniform());
      const rows = Array.from({ length: 24 }, () => step(91));
      let [total, day] = [0, 0];
      const text = ['position,date,strokes', 'V1,2010-01-01,0'];
      for (const rise of rows) {
        total += rise;
        day += 91;
        text.push(
          `V1,${new Date(Date.UTC(2010, 0, 1 + day)).toISOString().slice(0, 10)},${total.toFixed(6)}`,
        );
      }
      const fleet = readFiles({
        'positions.csv': 'position,size\nV1,25\n',
        'lives.csv': 'position,material,fitted\nV1,EPDM,2010-01-01\n',
        'readings.csv': `${text.join('\n')}\n`,
      });
      const range = ageAtCount(dailyRates(fleet)[0]?.strokes as DailyRate, 600);
      let [count, age] = [0, 0];
      while (count < 600) {
        count += step(1);
        age += 1;
      }
      // The count passes within the last day.
      if (range !== null && age - 0.5 >= range.low && age - 0.5 <= range.high) inside += 1;
    }
    const share = inside / runs;
    expect(Math.abs(share - 0.9)).toBeLessThan(4 * Math.sqrt((0.9 * 0.1) / runs));
  });
});
