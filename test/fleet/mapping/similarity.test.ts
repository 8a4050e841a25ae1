/** How alike names are: worked cases, the edit distance against its definition, laws. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CSV_FILES, columnsOf } from '../../../lib/fleet/columnNames.js';
import { columnsLike, unitIn } from '../../../lib/fleet/mapping/dictionary.js';
import { plainWord } from '../../../lib/fleet/mapping/plainWord.js';
import { editDistance, similarity } from '../../../lib/fleet/mapping/similarity.js';
import { LANGUAGES } from '../../../lib/fleet/mapping/words/languages.js';

/** The column that a name is most like. */
const best = (name: string): string | undefined =>
  [...columnsLike(name).values()].sort((a, b) => b.score - a.score)[0]?.ours;

/** By its definition: the fewest of four kinds of steps, no part changed twice. */
function distanceByDefinition(a: string, b: string): number {
  if (a === '' || b === '') return a.length + b.length;
  const swapped = a.length > 1 && b.length > 1 && a[0] === b[1] && a[1] === b[0];
  return Math.min(
    1 + distanceByDefinition(a.slice(1), b),
    1 + distanceByDefinition(a, b.slice(1)),
    (a[0] === b[0] ? 0 : 1) + distanceByDefinition(a.slice(1), b.slice(1)),
    swapped ? 1 + distanceByDefinition(a.slice(2), b.slice(2)) : Infinity,
  );
}

describe('names of columns', () => {
  it.each([
    ['EINBAUDATUM', 'fitted'],
    ['Einbau-Dat.', 'fitted'],
    ['Einabudatum', 'fitted'],
    ['DateFitted', 'fitted'],
    ['date_removed', 'removed'],
    ['Groesse', 'size'],
    ['Größe', 'size'],
    ['Wiederbeschaffungszeit (Wochen)', 'lead_time_days'],
    ['Date de dépose', 'removed'],
    ['QQQQ', undefined],
    ['', undefined],
    ['__proto__', undefined],
    ['constructor', undefined],
  ])('"%s" is %s', (name, ours) => expect(best(name)).toBe(ours));

  it.each([
    ['Lieferzeit (Wochen)', 'weeks'],
    ['Lead time [months]', 'months'],
    ['lead_time_weeks', 'weeks'],
    ['Délai (jours)', 'days'],
    ['Toimitusaika (vko)', 'weeks'],
    ['Strokes (thousand)', 'thousand'],
    ['Lieferzeit', null],
    ['Werkstoff (neu)', null],
  ])('"%s" has the unit %s', (name, unit) => expect(unitIn(name)).toBe(unit));
});

describe('the words of the languages', () => {
  const columns = new Set(CSV_FILES.flatMap(columnsOf));
  it.each(LANGUAGES.map((language) => [language.name, language] as const))(
    '%s names only columns that there are',
    (_name, language) => {
      expect(Object.keys(language.columns).filter((column) => !columns.has(column))).toEqual([]);
    },
  );

  it.each(LANGUAGES.slice(1).map((language) => [language.name, language] as const))(
    '%s has words for each column',
    (_name, language) => {
      expect([...columns].filter((column) => (language.columns[column] ?? '') === '')).toEqual([]);
      for (const words of [
        language.reason,
        language.finding,
        language.work,
        language.criticality,
        language.stop_for,
      ]) {
        expect(Object.values(words).every((text) => text !== '')).toBe(true);
      }
    },
  );

  it('give back what they say: a plain word leads to its own column, or to one that shares the word (every fortieth)', () => {
    let at = 0;
    for (const language of LANGUAGES) {
      for (const [ours, words] of Object.entries(language.columns)) {
        for (const word of words.split(',').map((text) => text.trim())) {
          at += 1;
          if (word === '' || word.startsWith('~') || at % 40 !== 0) continue;
          expect(columnsLike(word).get(ours)?.score ?? 0, `${language.name}: ${word}`).toBeGreaterThanOrEqual(
            0.9,
          );
        }
      }
    }
  });
});

describe('likeness', () => {
  it('is 1 of a name with itself, and between 0 and 1 of any two', () => {
    fc.assert(
      fc.property(
        fc.string({ maxLength: 30, unit: 'grapheme' }),
        fc.string({ maxLength: 30, unit: 'grapheme' }),
        (a, b) => {
          expect(similarity(plainWord(a), plainWord(a))).toBe(1);
          const score = similarity(plainWord(a), plainWord(b));
          expect(score).toBeGreaterThanOrEqual(0);
          expect(score).toBeLessThanOrEqual(1);
        },
      ),
    );
  });

  it('counts slips as their definition does', () => {
    const text = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 5 });
    fc.assert(
      fc.property(text, text, (a, b) => {
        expect(editDistance(a, b)).toBe(distanceByDefinition(a, b));
      }),
    );
  });
});
