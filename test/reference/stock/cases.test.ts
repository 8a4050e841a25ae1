/** Which test checks which outside case of demand and stock: a case without a check fails here. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

/** F: spares, policies, lots, intermittent demand (there is no F3 and no F5); K: checks of the method by numbers. */
const CASES = 'F1 F2 F4 F6 F7 F8 F9 F10 K6 K7 K8 K20 K21'.split(' ');

/** The file, under test, whose tests name the case. */
const CHECKED_IN: Record<string, string> = {
  F1: 'reference/stock/policies',
  F2: 'reference/stock/policies',
  F4: 'reference/stock/library',
  F6: 'reference/stock/library',
  F7: 'reference/stock/library',
  F8: 'reference/stock/library',
  F9: 'reference/stock/library',
  F10: 'reference/stock/policies',
  K6: 'stock/netting',
  K7: 'reference/demand/path',
  K8: 'reference/stock/policies',
  K20: 'reference/demand/path',
  K21: 'reference/stock/library',
};

it.each(CASES)('%s has a check', (id) => {
  const file = CHECKED_IN[id];
  expect(file, `${id} has no line in the table`).toBeDefined();
  const source = readFileSync(new URL(`../../${file}.test.ts`, import.meta.url), 'utf8');
  // A case is named in the title of what checks it.
  expect(source, `${file}.test.ts does not name ${id}`).toMatch(new RegExp(`(describe|it)\\(\\s*'${id}: `));
});

it('lists each case once, and nothing else', () => {
  expect(Object.keys(CHECKED_IN).sort()).toEqual([...CASES].sort());
  expect(new Set(CASES).size).toBe(CASES.length);
});
