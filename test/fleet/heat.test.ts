/** Temperatures and holds of positions.csv, and `heat_dose` of site.json: good, empty and wrong cells. */
import { describe, expect, it } from 'vitest';
import type { PositionHeat } from '../../lib/fleet/heat/types.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { inColumnUnit, unitsOf } from '../../lib/fleet/written/units.js';
import { readFiles, SITE } from './files.js';

const COLUMNS =
  'position,size,steam_temperature_c,steam_hold_minutes,hot_clean_temperature_c,hot_clean_hold_minutes,service_temperature_c';

function read(rows: readonly string[], site: object = {}): Fleet {
  return readFiles({
    'positions.csv': `${COLUMNS}\n${rows.join('\n')}\n`,
    'lives.csv': 'position,material,fitted,removed\nV1,EPDM,2020-01-01,\n',
    'site.json': { ...SITE, ...site },
  });
}

const heatOf = ({ positions }: Fleet): PositionHeat | undefined => positions[0]?.heat;

function found(row: string): string[] {
  return read([row])
    .findings.problems.filter(({ file, done }) => file === 'positions.csv' && done === 'mended')
    .map(({ code, column }) => `${code} ${column}`);
}

describe('temperatures and holds', () => {
  it('are read as they stand', () => {
    expect(heatOf(read(['V1,25,121.5,30,80,20,-10']))).toEqual({
      steamCelsius: 121.5,
      steamHoldMinutes: 30,
      hotCleanCelsius: 80,
      hotCleanHoldMinutes: 20,
      serviceCelsius: -10,
    });
  });

  it('that are empty say nothing', () => {
    expect(heatOf(read(['V1,25,,,,,']))).toBeUndefined();
    expect(heatOf(read(['V1,25,121,,,,']))?.steamHoldMinutes).toBeNull();
  });

  it.each([
    ['V1,25,250,30,,,', 'temperature-like-fahrenheit steam_temperature_c'],
    ['V1,25,,,176,20,', 'temperature-like-fahrenheit hot_clean_temperature_c'],
    ['V1,25,,,,,212', 'temperature-like-fahrenheit service_temperature_c'],
    ['V1,25,394,30,,,', 'temperature-too-hot steam_temperature_c'],
    ['V1,25,,,,,-273.15', 'temperature-absolute-zero service_temperature_c'],
    ['V1,25,,,,,-100', 'temperature-too-cold service_temperature_c'],
    ['V1,25,warm,30,,,', 'not-a-number steam_temperature_c'],
    ['V1,25,121,0,,,', 'number-zero steam_hold_minutes'],
    ['V1,25,121,-5,,,', 'number-negative steam_hold_minutes'],
    ['V1,25,121,1800,,,', 'number-too-large steam_hold_minutes'],
  ])('%s is asked about and not used', (row, what) => {
    expect(found(row)).toEqual([what]);
  });

  it('up to the hottest that can be meant are taken without a question', () => {
    expect(found('V1,25,200,600,135,600,150')).toEqual([]);
  });

  it('say what Fahrenheit would be, and how to tell it', () => {
    const [problem] = read(['V1,25,250,30,,,']).findings.problems.filter(({ code }) =>
      code.startsWith('temperature'),
    );
    expect(problem?.text).toContain('In degrees Fahrenheit it would be 121 degrees C');
    expect(problem?.todo).toContain('"steam_temperature_c": "degF"');
  });
});

describe('units', () => {
  const told = (units: object, row: string): PositionHeat | undefined =>
    heatOf(read([row], { formats: { 'positions.csv': { units } } }));

  it('Fahrenheit and kelvin are turned, holds too', () => {
    expect(told({ steam_temperature_c: 'degF' }, 'V1,25,250,30,,,')?.steamCelsius).toBeCloseTo(121.111111, 6);
    expect(told({ steam_temperature_c: 'K' }, 'V1,25,394.15,30,,,')?.steamCelsius).toBe(121);
    expect(told({ steam_hold_minutes: 'hours' }, 'V1,25,121,0.5,,,')?.steamHoldMinutes).toBe(30);
    expect(told({ steam_hold_minutes: 'seconds' }, 'V1,25,121,1800,,,')?.steamHoldMinutes).toBe(30);
    expect(told({ steam_temperature_c: 'degC' }, 'V1,25,121,30,,,')?.steamCelsius).toBe(121);
  });

  it('0 K is below everything, in its own unit', () => {
    expect(told({ service_temperature_c: 'K' }, 'V1,25,121,30,,,0')?.serviceCelsius).toBeNull();
  });

  it('one that a temperature does not have is refused', () => {
    expect(() => told({ steam_temperature_c: 'weeks' }, 'V1,25,121,30,,,')).toThrow(
      /must be one of degC, degF, K/,
    );
    expect(unitsOf('steam_hold_minutes')).toEqual(['minutes', 'hours', 'seconds']);
  });

  it('that are those of the column turn nothing', () => {
    expect(inColumnUnit('steam_temperature_c', 'degC', 121)).toBeNull();
    expect(inColumnUnit('lead_time_days', 'days', 3)).toBeNull();
    expect(inColumnUnit('lead_time_days', 'weeks', 3)).toBe(21);
  });
});

describe('heat_dose', () => {
  const settings = (heat_dose: unknown) => read(['V1,25,121,30,,,'], { heat_dose }).site.heatDose;

  it('is left out where it is not given', () => {
    expect(read(['V1,25,121,30,,,']).site.heatDose).toBeUndefined();
  });

  it('reads kJ/mol and electron volts, numbers and ranges', () => {
    const given = settings({
      reference_temperature_c: 130,
      activation_energy_kj_per_mol: { EPDM: 85 },
      activation_energy_ev: { FKM: { low: 0.7, likely: 0.8, high: 0.9 } },
    });
    expect(given?.referenceCelsius).toBe(130);
    expect(given?.energies[0]).toMatchObject({ material: 'EPDM', kJPerMol: 85, low: 85, high: 85 });
    // 1 eV is 96.48533 kJ/mol.
    expect(given?.energies[1]?.kJPerMol).toBeCloseTo(77.18827, 4);
  });

  it.each([
    [{ activation_energy_kj_per_mol: { EPDM: 0 } }, /kj_per_mol\.EPDM" must be above 0/],
    [{ activation_energy_kj_per_mol: { EPDM: -85 } }, /must be above 0/],
    [{ activation_energy_kj_per_mol: { EPDM: 0.88 } }, /goes into activation_energy_ev/],
    [{ activation_energy_kj_per_mol: { EPDM: 85_000 } }, /in J\/mol is to be divided by 1000/],
    [{ activation_energy_ev: { EPDM: 85 } }, /goes into activation_energy_kj_per_mol/],
    [{ activation_energy_kj_per_mol: { EPDM: { low: 80, likely: 70, high: 90 } } }, /low <= likely <= high/],
    [
      { activation_energy_kj_per_mol: { EPDM: { low: 60, likely: 70, high: 90, data_from_c: 100 } } },
      /data_from_c and data_to_c together/,
    ],
    [{ activation_energy_kj_per_mol: { EPDM: 85 }, activation_energy_ev: { epdm: 0.9 } }, /given twice/],
    [{ reference_temperature_c: 250 }, /at most 200 \(250 degrees F are 121\)/],
    [{ reference_temperature_c: -273.15 }, /above absolute zero/],
    [{ activation_energy_ev: { EPDM: 'high' } }, /must be a number/],
    [5, /must be an object/],
  ])('%j is refused by name', (heat, message) => {
    expect(() => settings(heat)).toThrow(message);
  });

  it('asks about materials that no life has, and settings that are not known', () => {
    const { findings } = read(['V1,25,121,30,,,'], {
      heat_dose: { activation_energy_kj_per_mol: { FKM: 75 }, reference_c: 121 },
    });
    const codes = findings.problems.filter(({ file }) => file === 'site.json').map(({ code }) => code);
    expect(codes).toEqual(expect.arrayContaining(['energy-material-unknown', 'setting-unknown']));
  });
});
