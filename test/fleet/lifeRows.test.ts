import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lifeRow } from '../../lib/fleet/lifeRows.js';
import { FINDINGS_AT_REMOVAL, REASONS } from '../../lib/fleet/types.js';
import { textFromDay } from '../../lib/numeric/day.js';
import { readFiles, readLivesOf, SITE } from './files.js';

/** The first life of one position; day 0 is 2020-01-01. */
function rowOf(life: string, site: object = {}, event: 'leak' | 'damage' = 'leak', position = 'V1,25,,') {
  const fleet = readLivesOf([life], {
    'site.json': { ...SITE, ...site },
    'positions.csv': `position,size,in_service_since,out_of_service_since\n${position}\n`,
  });
  return lifeRow(fleet, 0, event);
}

describe('lifeRow', () => {
  it('takes a leak at d days as the day around it, and day 0 as (0, 1]', () => {
    expect(rowOf('V1,EPDM,2020-01-01,2020-04-10,leak,,')).toMatchObject({
      kind: 'failed',
      lower: 99.5,
      upper: 100.5,
      entry: 0,
      age: 100,
    });
    expect(rowOf('V1,EPDM,2020-01-01,2020-01-01,leak,,')).toMatchObject({ lower: 0, upper: 1, age: 0.5 });
    expect(rowOf('V1,EPDM,2020-01-01,2020-01-02,leak,,')).toMatchObject({ lower: 0.5, upper: 1.5 });
  });

  it('starts the interval at the last tight test where there is one', () => {
    expect(rowOf('V1,EPDM,2020-01-01,2020-04-10,failed_test,,2020-02-20')).toMatchObject({
      lower: 50,
      upper: 100.5,
    });
    expect(rowOf('V1,EPDM,2020-01-01,2020-04-10,leak,,2020-04-10')).toMatchObject({
      lower: 99.5,
      upper: 100.5,
    });
  });

  it('censors removals at their age, at least half a day, and running lives at the extract', () => {
    expect(rowOf('V1,EPDM,2020-01-01,2020-04-10,scheduled,torn,')).toMatchObject({
      kind: 'censored',
      lower: 100,
      upper: Infinity,
    });
    expect(rowOf('V1,EPDM,2020-01-01,2020-01-01,opened,,')).toMatchObject({ kind: 'censored', lower: 0.5 });
    expect(rowOf('V1,EPDM,2024-06-20,,,,')).toMatchObject({ kind: 'censored', lower: 10, upper: Infinity });
    expect(rowOf('V1,EPDM,2024-06-30,,,,')).toMatchObject({ kind: 'censored', lower: 0.5, upper: Infinity });
  });

  it('keeps condition and unknown reasons apart, with both ends that they may have', () => {
    expect(rowOf('V1,EPDM,2020-01-01,2020-04-10,condition,worn,')).toMatchObject({
      kind: 'condition',
      lower: 99.5,
      upper: 100.5,
      age: 100,
    });
    expect(rowOf('V1,EPDM,2020-01-01,2020-04-10,,,')).toMatchObject({
      kind: 'unknown',
      lower: 99.5,
      upper: 100.5,
      age: 100,
    });
  });

  it('takes damage found at removal as of any earlier age', () => {
    const found = rowOf('V1,EPDM,2020-01-01,2020-04-10,scheduled,torn,', {}, 'damage');
    expect(found).toMatchObject({ kind: 'failed', lower: 0, upper: 100.5 });
    const nothing = rowOf('V1,EPDM,2020-01-01,2020-04-10,scheduled,,', {}, 'damage');
    expect(nothing).toMatchObject({ kind: 'set aside', why: expect.stringContaining('damage') });
  });

  it('enters when watching began: records or service, whichever is later', () => {
    const life = 'V1,EPDM,2020-01-01,2020-04-10,leak,,';
    expect(rowOf(life, { records_from: '2020-01-31' })).toMatchObject({ entry: 30 });
    expect(rowOf(life, { records_from: '2020-01-31' }, 'leak', 'V1,25,2020-02-20,')).toMatchObject({
      entry: 50,
    });
    expect(rowOf(life, { records_from: '2019-01-31' })).toMatchObject({ entry: 0 });
  });

  it('says why a life of unknown age cannot be used', () => {
    expect(rowOf('V1,EPDM,,2020-04-10,leak,,')).toMatchObject({
      kind: 'set aside',
      why: expect.stringContaining('fitted'),
    });
  });

  it('always gives an upper end above entry and above lower, for anything that is read', () => {
    const day = fc.integer({ min: 18_000, max: 19_900 });
    const life = fc.tuple(
      fc.option(day, { nil: null }),
      fc.option(day, { nil: null }),
      fc.option(day, { nil: null }),
      fc.constantFrom('', ...REASONS),
      fc.constantFrom('', ...FINDINGS_AT_REMOVAL),
    );
    const text = (value: number | null): string => (value === null ? '' : textFromDay(value));
    fc.assert(
      fc.property(fc.array(life, { minLength: 1, maxLength: 8 }), day, (lives, from) => {
        const rows = lives.map(
          ([fitted, removed, tight, reason, finding]) =>
            `V1,EPDM,${text(fitted)},${text(removed)},${reason},${finding},${text(tight)}`,
        );
        // A second position keeps the file usable when every drawn row is set aside.
        const fleet = readFiles({
          'positions.csv': 'position,size\nV1,25\nV2,25\n',
          'lives.csv': `position,material,fitted,removed,reason,finding,last_tight\nV2,EPDM,2024-05-01,,,,\n${rows.join('\n')}\n`,
          'site.json': { ...SITE, records_from: textFromDay(from) },
        });
        for (let i = 0; i < fleet.lives.length; i++) {
          for (const event of ['leak', 'damage'] as const) {
            const row = lifeRow(fleet, i, event);
            if (row.kind === 'set aside') continue;
            expect(row.upper).toBeGreaterThan(row.entry);
            expect(row.upper).toBeGreaterThan(row.lower);
            expect(row.age).toBeGreaterThan(row.entry);
            expect(row.lower).toBeGreaterThanOrEqual(0);
          }
        }
        const running = Array.from(fleet.lives.removed).filter((removed) => Number.isNaN(removed));
        expect(running.length).toBe(
          2 - fleet.positions.filter((one) => one.outOfServiceSince !== null).length,
        );
        const { rowsIn, rowsUsed, rowsSetAside, problems } = fleet.findings;
        expect(rowsIn).toBe(lives.length + 3);
        expect(rowsUsed + rowsSetAside).toBe(rowsIn);
        expect(problems.filter(({ done }) => done === 'set aside')).toHaveLength(rowsSetAside);
      }),
      { seed: 5, numRuns: 400 },
    );
  });
});
