/** Numbers with decimal commas and with marks between thousands (github.com/tidyverse/readr/issues/1181). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalEvidence, plainNumber } from '../../../lib/fleet/written/numbers.js';
import { dnOfInches, sizeFromWords, unitFactor, unitsOf } from '../../../lib/fleet/written/units.js';

describe('a number', () => {
  it.each([
    ['1,234', '.', '1234'],
    ['1,234,567.5', '.', '1234567.5'],
    ['1,5', '.', null],
    ['12,34,567', '.', null],
    ['1.234', ',', '1234'],
    ['1.000.000', ',', '1000000'],
    ['1.234,5', ',', '1234.5'],
    ['1.5', ',', null],
    ["1'234", '.', '1234'],
    ['1 234,5', ',', '1234.5'],
    ['-0,4', ',', '-0.4'],
    ['1,2e3', ',', '1.2e3'],
    ['', '.', null],
    [',', ',', null],
  ] as const)('%s with decimal mark %s is %s', (text, mark, plain) =>
    expect(plainNumber(text, mark)).toBe(plain),
  );

  it.each([
    ['1.234', 'either'],
    ['1,234', 'either'],
    ['1.234.567', ','],
    ['1,234.5', '.'],
    ['6,0', ','],
    ['12', null],
    ["1'234", null],
    ['1.2.3', null],
  ])('%s says of the mark: %s', (text, evidence) => expect(decimalEvidence(text)).toBe(evidence));

  it('comes back from the way of writing of many countries', () => {
    const amount = fc.double({ min: -1e9, max: 1e9, noNaN: true }).map((x) => Math.round(x * 100) / 100);
    fc.assert(
      fc.property(amount, fc.constantFrom('de', 'fr', 'en', 'pl', 'it', 'en-ZA'), (x, locale) => {
        const text = new Intl.NumberFormat(locale, { minimumFractionDigits: 2 })
          .format(x)
          .replace('\u2212', '-');
        const mark = locale === 'en' ? '.' : ',';
        expect(Number(plainNumber(text, mark))).toBeCloseTo(x, 6);
      }),
    );
  });
});

describe('sizes and units', () => {
  it.each([
    ['DN 25', '25'],
    ['dn40', '40'],
    ['1"', '25'],
    ['1 1/2"', '40'],
    ['3/4 inch', '20'],
    ['0.5 in', '15'],
    ['25', null],
    ['7"', null],
  ])('%s is DN %s', (text, dn) => expect(sizeFromWords(text, '.')).toBe(dn));

  it('inches without a mark are read where the plant says so', () =>
    expect(dnOfInches('2,5', ',')).toBe('65'));

  it('know the units of a column', () => {
    expect(unitsOf('lead_time_days')).toContain('weeks');
    expect(unitsOf('reason')).toEqual([]);
    expect(unitFactor('lead_time_days', 'weeks')).toBe(7);
    expect(unitFactor('steam_cycles_per_week', 'per day')).toBe(7);
    expect(unitFactor('strokes', 'thousand')).toBe(1000);
  });
});
