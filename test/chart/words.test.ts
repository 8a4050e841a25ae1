import { describe, expect, it } from 'vitest';
import {
  amount,
  count,
  dateWords,
  monthsText,
  percent,
  pieces,
  plainName,
  range,
  slug,
  spanWords,
} from '../../lib/chart/words.js';

describe('numbers in words', () => {
  it('rounds to significant digits with a space between thousands and never an exponent', () => {
    expect(amount(1234567)).toBe('1\u00a0230\u00a0000');
    expect(amount(0.0012345, 2)).toBe('0.0012');
    expect(amount(-1500, 2)).toBe('−1\u00a0500');
    expect(amount(0)).toBe('0');
    expect(amount(1e21, 2)).not.toContain('e');
    expect(amount(Infinity)).toBe('no limit');
  });

  it('expected pieces are whole above ten and never shown as nothing where there is something', () => {
    expect(pieces(12.4)).toBe('12');
    expect(pieces(3.26)).toBe('3.3');
    expect(pieces(0.01)).toBe('under 0.1');
    expect(pieces(0)).toBe('0');
  });

  it('shares that are not quite 0 or 1 say so', () => {
    expect(percent(0.001)).toBe('under 1 %');
    expect(percent(0.995)).toBe('over 99 %');
    expect(percent(0.999)).toBe('over 99 %');
    expect(percent(0.5)).toBe('50 %');
    expect(percent(0)).toBe('0 %');
    expect(percent(1)).toBe('100 %');
  });

  it('spans, ranges, counts and dates', () => {
    expect(spanWords(243)).toBe('8 months');
    expect(spanWords(30.4375)).toBe('1 month');
    expect(spanWords(null)).toBe('no schedule');
    expect(monthsText(259)).toBe('8.5');
    expect(range(2, 2)).toBe('2');
    expect(range(2, 3)).toBe('2 to 3');
    expect(count(1, 'life', 'lives')).toBe('1 life');
    expect(count(2, 'life', 'lives')).toBe('2 lives');
    expect(dateWords('2027-03-12')).toBe('12 Mar 2027');
    expect(dateWords('spring')).toBe('spring');
  });

  it('takes out what steers the direction of a text, and keeps its letters', () => {
    expect(plainName('\u202Etxt\u0007 V\u200F-1')).toBe('txt V -1');
    expect(plainName('צמח')).toBe('צמח');
    expect(slug('EPDM DN 25, <b>')).toBe('epdm-dn-25-b');
    expect(slug('צמח')).toBe('x');
  });
});
