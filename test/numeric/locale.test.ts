import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { dayFromText } from '../../lib/numeric/day.js';
import { currentWriting, inLocale, isLocale } from '../../lib/numeric/locale.js';
import {
  amount,
  dateWords,
  dayOfWords,
  dayWords,
  fixed,
  hoursWords,
  monthsText,
  monthWords,
  monthYear,
  numberOfWords,
} from '../../lib/numeric/words.js';

const said = (): string[] => [
  amount(1234567.5, 9),
  amount(-0.25),
  amount(1234, 9),
  fixed(2, 1),
  dateWords('2027-03-12'),
  dayWords(dayFromText('2027-03-12') ?? 0),
  monthYear('2027-03'),
  monthWords('2027-03').name,
  hoursWords(12.44),
  monthsText(259),
];

describe('inLocale', () => {
  it.each<[string | null, string[]]>([
    [
      null,
      [
        '1 234 567.5',
        '−0.25',
        '1 234',
        '2.0',
        '12 Mar 2027',
        '12 March 2027',
        'March 2027',
        'Mar',
        '12.4 h',
        '8.5',
      ],
    ],
    [
      'en-GB',
      [
        '1,234,567.5',
        '−0.25',
        '1,234',
        '2.0',
        '12 Mar 2027',
        '12 March 2027',
        'March 2027',
        'Mar',
        '12.4 h',
        '8.5',
      ],
    ],
    [
      'de-DE',
      [
        '1.234.567,5',
        '−0,25',
        '1.234',
        '2,0',
        '12. März 2027',
        '12. März 2027',
        'März 2027',
        'Mär',
        '12,4 h',
        '8,5',
      ],
    ],
    [
      'fr-FR',
      [
        '1 234 567,5',
        '−0,25',
        '1 234',
        '2,0',
        '12 mars 2027',
        '12 mars 2027',
        'mars 2027',
        'mars',
        '12,4 h',
        '8,5',
      ],
    ],
    [
      'en-IN',
      [
        '12,34,567.5',
        '−0.25',
        '1,234',
        '2.0',
        '12 Mar 2027',
        '12 March 2027',
        'March 2027',
        'Mar',
        '12.4 h',
        '8.5',
      ],
    ],
  ])('writes numbers and dates as %s has them', (locale, words) => {
    expect(inLocale(locale, said).map((text) => text.replaceAll('\u00a0', ' '))).toEqual(words);
  });

  it('holds while the work is done and no longer, also where the work fails or asks for another', () => {
    const nested = inLocale('de-DE', () => [
      amount(0.5),
      inLocale('en-GB', () => amount(0.5)),
      inLocale(null, () => amount(0.5)),
      amount(0.5),
    ]);
    expect(nested).toEqual(['0,5', '0.5', '0.5', '0,5']);
    expect(() =>
      inLocale('fr-FR', () => {
        throw new Error('no');
      }),
    ).toThrow('no');
    expect(currentWriting()).toBeNull();
    expect(amount(0.5)).toBe('0.5');
  });

  it('has Latin digits and the Gregorian calendar whatever the language', () => {
    for (const locale of ['ar-EG', 'fa-IR', 'th-TH', 'ja-JP-u-ca-japanese']) {
      const [number = '', , , , date = ''] = inLocale(locale, said);
      expect(number.replace(/\D/g, '')).toBe('12345675');
      expect(date).toContain('2027');
    }
  });

  it('refuses what is no locale', () => {
    for (const wrong of ['de_DE', 'klingon', 'xx-XX', '', 'en GB']) {
      expect(isLocale(wrong)).toBe(false);
      expect(() => inLocale(wrong, said)).toThrow(UsageError);
    }
  });
});

describe('numberOfWords and dayOfWords', () => {
  it.each([null, 'en-GB', 'de-DE', 'fr-FR', 'es-ES', 'de-CH', 'sv-SE', 'en-IN', 'pl-PL'])(
    'read back what is written in %s',
    (locale) => {
      inLocale(locale, () => {
        for (const value of [0, 0.25, -12, 999, 1234, 12345.6, 1234567, -4321]) {
          expect(numberOfWords(amount(value, 9))).toBe(value);
          expect(numberOfWords(`${amount(value, 9)} EUR`)).toBe(value);
        }
        expect(numberOfWords(`under ${amount(0.1)}`)).toBe(0.1);
        for (const text of [
          '2026-01-01',
          '2027-03-12',
          '2024-02-29',
          '2026-12-31',
          '2026-05-30',
          '2026-06-09',
        ]) {
          expect(dayOfWords(dateWords(text))).toBe(dayFromText(text));
          expect(dayOfWords(`now (${dateWords(text)})`)).toBe(dayFromText(text));
        }
      });
    },
  );

  it('read a month alone as its first day', () => {
    expect(dayOfWords('Mar 2027')).toBe(dayFromText('2027-03-01'));
  });

  it('find nothing in words', () => {
    for (const text of ['', 'not known', 'no price', 'V-12', 'past']) expect(numberOfWords(text)).toBeNull();
    for (const text of ['', 'March', '2026', 'stop 2027', '12 Foo 2027']) expect(dayOfWords(text)).toBeNull();
  });
});
