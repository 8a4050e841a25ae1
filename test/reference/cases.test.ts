/** Which test checks which outside case of lives and of intervals: a case without a check fails here. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

/**
 * The cases: A NIST/SEMATECH e-Handbook, B data of R survival, C classic data, D ranks, E replacement, G bounds, H tests of fit,
 * K checks of the method of intervals.
 */
const CASES =
  'A1 A2 A3 A4 A5 A6 A7 A8 A9 A10 B1 B2 B4 B6 B7 B8 B9 C1 C2 C6 C8 D1 D2 D3 D4 D5 D7 D8 E1 E3 E4 E5 E6 E8 E9 G1 G2 G4 G5 H1 H2 H4 H5 H7 K1 K9 K10 K18 K19 K25 K26'.split(
    ' ',
  );

/** The file, under test/reference, whose tests name the case. */
const CHECKED_IN: Record<string, string> = {
  A1: 'life/fits',
  A2: 'life/fits',
  A3: 'life/handbook/plots',
  A4: 'life/handbook/plots',
  A5: 'life/handbook/arrhenius',
  A6: 'recurrence/powerLaw',
  A7: 'life/handbook/constantRate',
  A8: 'life/handbook/constantRate',
  A9: 'life/handbook/constantRate',
  A10: 'life/handbook/constantRate',
  B1: 'life/fits',
  B2: 'life/fits',
  B4: 'life/handbook/arrhenius',
  B6: 'life/handbook/arrhenius',
  B7: 'recurrence/meanCumulative',
  B8: 'life/curves',
  B9: 'life/fits',
  C1: 'life/fits',
  C2: 'life/fits',
  C6: 'recurrence/powerLaw',
  C8: 'life/fits',
  D1: 'life/handbook/plots',
  D2: 'life/handbook/plots',
  D3: 'life/ranks/ranks',
  D4: 'life/handbook/plots',
  D5: 'life/handbook/plots',
  D7: 'life/bounds',
  D8: 'life/handbook/constantRate',
  E1: 'interval/policies',
  E3: 'interval/policies',
  E4: 'life/renewal',
  E5: 'life/renewal',
  E6: 'interval/policies',
  E8: 'life/renewal',
  E9: 'interval/policies',
  G1: 'life/bounds',
  G2: 'life/bounds',
  G4: 'life/bounds',
  G5: 'life/bounds',
  H1: 'life/groups/groups',
  H2: 'life/groups/groups',
  H4: 'life/fits',
  H5: 'life/goodness/goodness',
  H7: 'life/handbook/constantRate',
  K1: 'interval/policies',
  K9: 'ageReplacement',
  K10: 'interval/policies',
  K18: 'ageReplacement',
  K19: 'ageReplacementWayThere',
  K25: 'exposure/exposure',
  K26: 'ageReplacement',
};

it.each(CASES)('%s has a check', (id) => {
  const file = CHECKED_IN[id];
  expect(file, `${id} has no line in the table`).toBeDefined();
  const source = readFileSync(new URL(`${file}.test.ts`, import.meta.url), 'utf8');
  // A case is named where it is checked: not in the comment that opens the file.
  const tests = source.slice(source.indexOf('import '));
  expect(tests, `${file}.test.ts does not name ${id}`).toMatch(new RegExp(`\\b${id}\\b`));
});

it('lists each case once, and nothing else', () => {
  expect(Object.keys(CHECKED_IN).sort()).toEqual([...CASES].sort());
  expect(new Set(CASES).size).toBe(CASES.length);
});
