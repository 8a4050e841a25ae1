/** Dose of heat of lives: worked by hand, and what is not known. */
import { describe, expect, it } from 'vitest';
import type { Fleet } from '../../../lib/fleet/types.js';
import { energyOfMaterial, usedLives } from '../../../lib/group/wear/usedLives.js';
import { usedRates } from '../../../lib/group/wear/usedRates.js';
import { readFiles, SITE } from '../../fleet/files.js';

const COLUMNS =
  'position,size,steam_cycles_per_week,hot_cleans_per_week,steam_temperature_c,steam_hold_minutes,hot_clean_temperature_c,hot_clean_hold_minutes,service_temperature_c,idle';

/** V1 with counters; one life from 2020-01-01 to 2021-01-01 (366 days) and one that runs to 2024-06-30. */
function plant(rows: readonly string[], site: object = {}): Fleet {
  return readFiles({
    'positions.csv': `${COLUMNS}\n${rows.join('\n')}\n`,
    'lives.csv': `position,material,fitted,removed,reason\n${rows
      .map((row) => row.split(',')[0])
      .map((tag) => `${tag},EPDM,2020-01-01,2021-01-01,leak\n${tag},EPDM,2021-01-01,,`)
      .join('\n')}\n`,
    'readings.csv':
      'position,date,steam_cycles,hot_cleans\nV1,2020-01-01,0,0\nV1,2020-07-01,60,200\nV1,2021-01-01,110,400\nV1,2024-06-30,600,1700\n',
    'site.json': { ...SITE, ...site },
  });
}

describe('one life by hand', () => {
  const fleet = plant(['V1,25,2,8,134,30,80,20,40,2020-03-01..2020-04-10']);
  const used = usedLives(fleet);

  it('110 cycles of half an hour at 134, 400 cleans of 20 minutes at 80, 326 days in use at 40 degrees C', () => {
    // 85 kJ/mol over R = 8.31446e-3 is 10223.14 K. Kelvin: 121 is 394.15, 134 is 407.15, 80 is 353.15, 40 is 313.15.
    // 1/394.15 - 1/407.15 =  8.10073e-5: factor exp( 0.828149) = 2.28907; 55 h     give 125.899 h
    // 1/394.15 - 1/353.15 = -2.94554e-4: factor exp(-3.011263) = 0.049229; 133.333 h give   6.564 h
    // 1/394.15 - 1/313.15 = -6.56259e-4: factor exp(-6.709032) = 0.00121983; 40 of 366 days idle: 7824 h give 9.544 h
    const perHand = 55 * 2.28907 + (400 / 3) * 0.049229 + 7824 * 0.00121983;
    expect(perHand).toBeCloseTo(142.007, 2);
    // The constants above have six digits.
    expect(Math.abs((used.dose.exposure[0] as number) / perHand - 1)).toBeLessThan(2e-5);
  });

  it('is known as well as the worst of its counts', () => {
    expect(used.dose.mark[0]).toBe(0);
    expect(used.dose.byRate[0]).toBe(0);
  });

  it('at another reference is another number of the same heat', () => {
    const at134 = usedLives(
      plant(['V1,25,2,8,134,30,80,20,40,2020-03-01..2020-04-10'], {
        heat_dose: { reference_temperature_c: 134 },
      }),
    );
    const ratio = (used.dose.exposure[0] as number) / (at134.dose.exposure[0] as number);
    expect(Math.abs(ratio / 2.28907 - 1)).toBeLessThan(2e-5);
  });

  it('runs at the rates of its counters', () => {
    const [rate] = usedRates(fleet, used);
    // 600 cycles and 1700 cleans in 1642 days, and 24 h a day in use.
    const perDay = (600 / 1642) * 0.5 * 2.28907 + (1700 / 1642 / 3) * 0.049229 + 24 * 0.00121983;
    expect(Math.abs((rate?.dose?.perDay as number) / perDay - 1)).toBeLessThan(2e-5);
    expect(rate?.dose?.source).toBe('measured');
    expect(rate?.dose?.spread?.variancePerDay).toBeGreaterThan(0);
  });
});

describe('activation energies', () => {
  const of = (site: object) => energyOfMaterial(usedLives(plant(['V1,25,2,,121,30,,,,'], site)), 'EPDM');

  it('are the usual ones with their range, as long as site.json gives none', () => {
    expect(of({})).toMatchObject({
      kJPerMol: 85,
      low: 70,
      high: 105,
      from: 'usual value',
      lowestCelsius: 100,
    });
  });

  it('are read in kJ/mol and in electron volts', () => {
    const range = { low: 60, likely: 70, high: 90, source: 'own oven', data_from_c: 90, data_to_c: 140 };
    expect(of({ heat_dose: { activation_energy_kj_per_mol: { EPDM: range } } })).toMatchObject({
      kJPerMol: 70,
      low: 60,
      high: 90,
      source: 'own oven',
      from: 'site.json',
      highestCelsius: 140,
    });
    // 0.88 eV x 96.48533 kJ/mol.
    expect(of({ heat_dose: { activation_energy_ev: { EPDM: 0.88 } } })?.kJPerMol).toBeCloseTo(84.90709, 4);
  });

  it('of a material without one leave its lives without a dose', () => {
    const fleet = readFiles({
      'positions.csv':
        'position,size,steam_cycles_per_week,steam_temperature_c,steam_hold_minutes\nV1,25,2,121,30\n',
      'lives.csv': 'position,material,fitted\nV1,ECO,2020-01-01\n',
    });
    expect(usedLives(fleet).dose.exposure[0]).toBeNaN();
    expect(usedRates(fleet, usedLives(fleet))[0]?.dose).toBeNull();
  });
});

describe('what is not told', () => {
  it('no temperatures at all: no dose', () => {
    const used = usedLives(plant(['V1,25,2,8,,,,,,']));
    expect(used.heat).toBeNull();
    expect(used.dose.exposure.every(Number.isNaN)).toBe(true);
  });

  it('a use of which no position tells anything counts for nothing', () => {
    const used = usedLives(plant(['V1,25,2,8,121,30,,,,']));
    expect(used.heat?.parts.map(({ name }) => name)).toEqual(['steam']);
    expect(used.dose.exposure[0]).toBeCloseTo(55, 9);
  });

  it('a position that lacks what others have has no dose, and is named; one that is not used so needs none', () => {
    const used = usedLives(plant(['V1,25,2,,121,30,,,,', 'V2,25,2,,121,,,,,', 'V3,25,0,,,,,,,']));
    expect([...used.dose.exposure]).toEqual([55, expect.any(Number), Number.NaN, Number.NaN, 0, 0]);
    expect([...(used.heat?.hours[0]?.missing ?? [])]).toEqual([1]);
    expect(usedRates(plant(['V1,25,2,,121,30,,,,', 'V2,25,2,,121,,,,,']), used)[1]?.dose).toBeNull();
  });

  it('is asked about where the file is read', () => {
    const fleet = plant(['V1,25,2,,121,30,,,,', 'V2,25,2,,121,,,,,']);
    const asked = fleet.findings.problems.filter(({ code }) => code === 'temperature-missing');
    expect(asked.map(({ row, column, done }) => [row, column, done])).toEqual([
      [2, 'steam_hold_minutes', 'used'],
    ]);
  });
});
