/** The walk over what is shown finds what it is meant to find. */
import { describe, expect, it } from 'vitest';
import { houseWay, LOCALES, seenTexts } from './houseWay.js';

describe('what is not written as a locale has it', () => {
  it('is found among what is shown', () => {
    const found = (text: string, locale: keyof typeof LOCALES): number =>
      houseWay([text], LOCALES[locale]).length;
    const house = [
      '0.4 leaks',
      '12\u00a0300 EUR',
      '1234 rows',
      '7 Mar 2027',
      'fitted 2017-03-07',
      'May 2027',
    ];
    for (const text of house) expect(found(text, 'de-DE'), text).toBe(1);
    const german = [
      '0,4 leaks',
      '12.300 EUR',
      '7. März 2027',
      'in 2027',
      'WD-1050',
      'row 4290',
      '1.234.567,8 h',
      '8\u00a0%',
    ];
    for (const text of german) expect(found(text, 'de-DE'), text).toBe(0);
    for (const text of ['1,234,567', '30 Sep 2026', '12\u00a0300'])
      expect(found(text, 'en-IN'), text).toBe(1);
    for (const text of ['12,34,567.8', '999', '1,234', '30 Sept 2026'])
      expect(found(text, 'en-IN'), text).toBe(0);
  });

  it('is looked for in cells, remarks that are read aloud, and not in styles', () => {
    const page =
      '<style>a{margin:0.5em}</style><p aria-label="0.1">1 <b>2</b><td data-value="0.3">3</td></p>';
    expect(seenTexts(page)).toEqual(['1 2', '3', '0.1']);
  });
});
