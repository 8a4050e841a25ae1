import { describe, expect, it } from 'vitest';
import {
  ageSpan,
  ageWords,
  amount,
  count,
  counted,
  coverWords,
  dateWords,
  daysWords,
  dayWords,
  hoursText,
  listed,
  money,
  monthsOrDays,
  monthsSpan,
  monthsText,
  monthYear,
  percent,
  percentAtLeast,
  pValueWords,
  spanWords,
} from '../../lib/numeric/words.js';

const GAP = '\u00a0';

describe('numbers and money', () => {
  it('groups thousands before the point only', () => {
    expect(amount(0.0288)).toBe('0.0288');
    expect(amount(0.00012345, 5)).toBe('0.00012345');
    expect(amount(1234567)).toBe(`1${GAP}230${GAP}000`);
    expect(amount(1234.5678, 8)).toBe(`1${GAP}234.5678`);
  });

  it('says money in whole units of its currency', () => {
    expect(money(0.0288, 'EUR')).toBe('under 1 EUR');
    expect(money(0, 'EUR')).toBe('0 EUR');
    expect(money(2.6, 'EUR')).toBe('3 EUR');
    expect(money(821.4, 'EUR')).toBe('821 EUR');
    expect(money(2619, 'EUR')).toBe(`2${GAP}620 EUR`);
    expect(money(-1500, 'EUR')).toBe(`−1${GAP}500 EUR`);
  });

  it('knows one from many, with groups of thousands', () => {
    expect(daysWords(1)).toBe('1 day');
    expect(daysWords(1.4)).toBe('1 day');
    expect(daysWords(156)).toBe('156 days');
    expect(count(1367, 'life', 'lives')).toBe(`1${GAP}367 lives`);
    expect(counted(1.04, 'leak', 'leaks')).toBe('1 leak');
    expect(counted(0, 'leak', 'leaks', 'no leak')).toBe('no leak');
  });

  it('says small tests and nearly certain shares as what they are', () => {
    expect(pValueWords(1e-9)).toBe('p < 0.0001');
    expect(pValueWords(0.0123)).toBe('p = 0.012');
    expect(percent(0.001)).toBe('under 1 %');
    expect(percent(0.999)).toBe('over 99 %');
    expect(percentAtLeast(0.97992)).toBe('97.9 %');
    expect(percentAtLeast(0.98)).toBe('98 %');
  });

  it('says hours to one decimal', () => {
    expect(hoursText(281.04)).toBe('281');
    expect(hoursText(30.666)).toBe('30.7');
    expect(hoursText(0.01)).toBe('under 0.1');
    expect(hoursText(0)).toBe('0');
  });

  it('lists names', () => {
    expect(listed([])).toBe('');
    expect(listed(['a'])).toBe('a');
    expect(listed(['a', 'b'])).toBe('a and b');
    expect(listed(['a', 'b', 'c', 'd'], 2)).toBe('a, b and 2 more');
  });
});

describe('ages', () => {
  it('says one age one way everywhere: to half a month below two years, whole from there on', () => {
    expect([344, 243, 259, 730, 748, 30.4375].map(monthsText)).toEqual(['11.5', '8', '8.5', '24', '25', '1']);
    expect(ageWords(344)).toBe('11.5 months');
    expect(spanWords(344)).toBe('11.5 months');
    expect(spanWords(null)).toBe('no schedule');
    expect(ageWords(12.3)).toBe('12 days');
    expect(ageWords(1)).toBe('1 day');
    expect(ageWords(30.4)).toBe('1 month');
  });

  it('rounds the ends of a span inwards', () => {
    expect(monthsSpan([240, 344])).toBe('8 to 11');
    expect(monthsSpan([645, 943])).toBe('21.5 to 30');
    // A bound of 334.8 days is 11 months to whoever rounds days: half a day of slack.
    expect(monthsSpan([245, 334.8])).toBe('8.5 to 11');
    for (let low = 20; low < 900; low += 7.3) {
      const high = low * 1.3;
      const text = monthsSpan([low, high]);
      const [from, to = from] = text.replace(' days', '').split(' to ').map(Number);
      const unit = text.endsWith('days') ? 1 : 30.4375;
      expect((from as number) * unit).toBeGreaterThanOrEqual(low - 0.5);
      expect((to as number) * unit).toBeLessThanOrEqual(high + 0.5);
    }
  });

  it('falls back on days where no half month lies inside', () => {
    expect(ageSpan([247, 256])).toBe('247 to 256 days');
    expect(ageSpan([5, 12])).toBe('5 to 12 days');
    expect(ageSpan([30.2, 31])).toBe('1 month');
  });

  it('gives the unit with an age under a month, where months are meant otherwise', () => {
    expect([1, 12, 30, 259, 730].map(monthsOrDays)).toEqual(['1 day', '12 days', '1', '8.5', '24']);
  });

  it('never says that a shelf lasts longer than it does', () => {
    expect([0.4, 1, 8.96, 14.2, 130].map(coverWords)).toEqual([
      'under a month',
      '1 month',
      '8 months',
      '14 months',
      'over 10 years',
    ]);
  });
});

describe('dates', () => {
  it('in sentences and in tables', () => {
    expect(dayWords(0)).toBe('1 January 1970');
    expect(monthYear('2027-03')).toBe('March 2027');
    expect(dateWords('2027-03-12')).toBe('12 Mar 2027');
    expect(dateWords('spring')).toBe('spring');
  });
});
