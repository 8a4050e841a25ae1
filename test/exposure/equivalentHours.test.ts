import { describe, expect, it } from 'vitest';
import { givenActivationEnergy, materialActivationEnergy } from '../../lib/exposure/activationEnergy.js';
import { arrheniusFactor } from '../../lib/exposure/arrhenius.js';
import { equivalentHours } from '../../lib/exposure/equivalentHours.js';
import { equivalentSteamHours } from '../../lib/exposure/equivalentSteamHours.js';
import { fitActivationEnergy } from '../../lib/exposure/fitActivationEnergy.js';
import type { TemperatureSeries } from '../../lib/exposure/temperatureCourse.js';
import { lifeSample } from '../../lib/life/sample.js';

const epdm = materialActivationEnergy('EPDM');
const at121 = { referenceCelsius: 121, activationEnergy: epdm };
const steps = (hours: number[], temperatureCelsius: number[]): TemperatureSeries => ({
  hours,
  temperatureCelsius,
  between: 'steps',
});

describe('arrheniusFactor', () => {
  it('is 1 at the reference and without an activation energy', () => {
    expect(arrheniusFactor(121, 121, 85)).toBe(1);
    expect(arrheniusFactor(-200, 300, 0)).toBe(1);
  });

  it('134 against 121 degrees C: 2.0 to 2.7 times for 70 to 100 kJ/mol', () => {
    expect(arrheniusFactor(134, 121, 70)).toBeCloseTo(1.97, 1);
    expect(arrheniusFactor(134, 121, 100)).toBeCloseTo(2.65, 1);
  });

  it('refuses what cannot be', () => {
    expect(() => arrheniusFactor(-273.15, 121, 85)).toThrow(
      'arrheniusFactor: temperatureCelsius must be degrees Celsius above absolute zero (-273.15). Received -273.15.',
    );
    expect(() => arrheniusFactor(121, -300, 85)).toThrow('referenceCelsius');
    expect(() => arrheniusFactor(Number.NaN, 121, 85)).toThrow('temperatureCelsius');
    expect(() => arrheniusFactor(121, 20, -1)).toThrow('the activation energy must be 0 or more');
    expect(() => arrheniusFactor(121, -273, 85)).toThrow('too large for a number');
  });
});

describe('activation energies', () => {
  it('in electron volts are those in kJ/mol', () => {
    const { kJPerMol, low, high } = givenActivationEnergy({
      activationEnergyElectronVolts: 0.9,
      low: 0.8,
      high: 1,
    });
    expect([kJPerMol, low, high].map((x) => Math.round(10 * x) / 10)).toEqual([86.8, 77.2, 96.5]);
  });

  it('must be one, 0 or more, within its range', () => {
    expect(() => givenActivationEnergy({})).toThrow('one of the two');
    expect(() =>
      givenActivationEnergy({ activationEnergyKJPerMol: 85, activationEnergyElectronVolts: 0.9 }),
    ).toThrow('one of the two. Received "85, 0.9".');
    expect(() => givenActivationEnergy({ activationEnergyKJPerMol: -85 })).toThrow('0 or more');
    expect(() => givenActivationEnergy({ activationEnergyKJPerMol: 85, low: 90 })).toThrow(
      'must hold the energy',
    );
    expect(() => givenActivationEnergy({ activationEnergyKJPerMol: 85, lowestCelsius: 100 })).toThrow(
      'highestCelsius',
    );
    expect(() =>
      givenActivationEnergy({ activationEnergyKJPerMol: 85, lowestCelsius: 100, highestCelsius: 90 }),
    ).toThrow('must not be above');
  });

  it('by material have a range and a source; a faced diaphragm goes by its backing', () => {
    expect(epdm).toMatchObject({
      kJPerMol: 85,
      low: 70,
      high: 105,
      level: null,
      lowestCelsius: 100,
      highestCelsius: 150,
    });
    expect(epdm.source).toContain('rubber journal 2026');
    const faced = materialActivationEnergy('PTFE-faced EPDM');
    expect(faced).toMatchObject({ kJPerMol: 85, low: 70, high: 105 });
    expect(faced.source).toContain('(of the EPDM backing)');
    expect(
      ['nbr', 'FKM', 'silicone', 'butyl'].map((name) => materialActivationEnergy(name).kJPerMol),
    ).toEqual([85, 75, 60, 80]);
    expect(() => materialActivationEnergy('toString')).toThrow('there are EPDM, NBR, IIR, FKM, VMQ');
    expect(() => materialActivationEnergy('constructor')).toThrow('no activation energy is known');
  });

  it('from lives that last longer in the heat are refused; a range down to 0 is told', () => {
    const sample = lifeSample({ lower: [100, 130, 110, 120, 90, 140], upper: [100, 130, 110, 120, 90, 140] });
    const temperature = [100, 100, 120, 120, 140, 140];
    const loose = { kind: 'weibull', failuresPerCoefficient: 1 } as const;
    const longer = [100, 100, 90, 90, 80, 80];
    const one = fitOrError(() => fitActivationEnergy(sample, temperature, loose));
    const other = fitOrError(() => fitActivationEnergy(sample, longer, loose));
    // One of the two directions is colder for longer; the other cannot be told from none.
    const refused = [one, other].filter((each) => typeof each === 'string');
    expect(refused).toHaveLength(1);
    expect(refused[0]).toContain('lives at higher temperatures last longer');
    const found = [one, other].find((each) => typeof each !== 'string');
    expect(found).toMatchObject({ low: 0, warnings: [{ code: 'activation-energy-may-be-none' }] });
    expect(() => fitActivationEnergy(sample, temperature, { ...loose, level: 1 })).toThrow('level must be');
    expect(() => fitActivationEnergy(sample, [-274, 100, 1, 2, 3, 4], loose)).toThrow('absolute zero');
  });
});

function fitOrError<T>(run: () => T): T | string {
  try {
    return run();
  } catch (error) {
    return (error as Error).message;
  }
}

describe('equivalentHours', () => {
  it('steps hold until the next reading; the last ends the series', () => {
    const got = equivalentHours(steps([0, 2, 5], [121, 134, 20]), at121);
    expect(got.hours).toBeCloseTo(2 + 3 * arrheniusFactor(134, 121, 85), 12);
    expect(got.low).toBeCloseTo(2 + 3 * arrheniusFactor(134, 121, 70), 12);
    expect(got.high).toBeCloseTo(2 + 3 * arrheniusFactor(134, 121, 105), 12);
    expect(got).toMatchObject({ plainHours: 5, lowestCelsius: 121, highestCelsius: 134, warnings: [] });
  });

  it('straight lines hold the mean of what lies between', () => {
    const linear = equivalentHours({ ...steps([0, 1], [111, 131]), between: 'linear' }, at121);
    const many = Array.from({ length: 20001 }, (_, k) => k / 20000);
    const fine = steps(
      many,
      many.map((share) => 111 + 20 * (share + 0.5 / 20000)),
    );
    // A step rule of 20 000 parts is off by some 1e-10.
    expect(Math.abs(linear.hours - equivalentHours(fine, at121).hours)).toBeLessThan(1e-8);
  });

  it('can be asked for a part, and for none', () => {
    const series = steps([0, 10, 20], [121, 100, 100]);
    expect(equivalentHours(series, { ...at121, fromHours: 4, toHours: 10 }).hours).toBe(6);
    expect(equivalentHours(series, { ...at121, fromHours: 4, toHours: 4 })).toMatchObject({
      hours: 0,
      plainHours: 0,
    });
    expect(equivalentHours(steps([3], [121]), at121).hours).toBe(0);
    expect(() => equivalentHours(series, { ...at121, toHours: 21 })).toThrow(
      'within the series, 0 to 20. Received "0 to 21".',
    );
    expect(() => equivalentHours(series, { ...at121, fromHours: 5, toHours: 4 })).toThrow('in order');
  });

  it('asks about degrees Fahrenheit and kelvin, and about heat that no elastomer stands', () => {
    const asked = (celsius: number): string[] =>
      equivalentHours(steps([0, 1], [celsius, celsius]), at121)
        .warnings.map(({ code }) => code)
        .filter((code) => code !== 'temperature-beyond-data');
    expect(asked(250)).toEqual(['temperature-like-fahrenheit']);
    expect(asked(275)).toEqual(['temperature-like-fahrenheit']);
    expect(asked(394)).toEqual(['temperature-like-kelvin']);
    expect(asked(220)).toEqual(['temperature-too-hot']);
    expect(asked(140)).toEqual([]);
    const [warning] = equivalentHours(steps([0, 1], [250, 250]), at121).warnings;
    expect(warning?.text).toBe(
      'A temperature of 250 degrees C was given: hotter than an elastomer stands. In degrees Fahrenheit it would be steam of 121 degrees C.',
    );
  });

  it('warns beyond 25 degrees C of the data, with the share of hours from there', () => {
    const got = equivalentHours(steps([0, 10, 11], [30, 121, 20]), at121);
    expect(got.warnings).toMatchObject([{ code: 'temperature-beyond-data' }]);
    expect(got.warnings[0]?.text).toContain(
      '30 to 121 degrees C go more than 25 degrees beyond the data at 100 to 150 degrees C',
    );
    const cold = 10 * arrheniusFactor(30, 121, 85);
    expect(got.shareBeyondData).toBeCloseTo(cold / (cold + 1), 12);
    expect(equivalentHours(steps([0, 1], [75, 75]), { ...at121, referenceCelsius: 175 }).warnings).toEqual(
      [],
    );
    expect(
      equivalentHours(steps([0, 1], [75, 75]), { ...at121, referenceCelsius: 60 }).warnings,
    ).toMatchObject([{ code: 'reference-beyond-data' }]);
    // A line through the limit of 75 is cut there.
    const line = equivalentHours({ ...steps([0, 2], [65, 85]), between: 'linear' }, at121);
    const below = equivalentHours({ ...steps([0, 1], [65, 75]), between: 'linear' }, at121);
    expect(line.shareBeyondData).toBeCloseTo(below.hours / line.hours, 12);
  });

  it('says so where the temperatures behind the energy are not known', () => {
    const activationEnergy = givenActivationEnergy({ activationEnergyKJPerMol: 85, source: 'the maker' });
    const { warnings } = equivalentHours(steps([0, 1], [121, 121]), {
      referenceCelsius: 121,
      activationEnergy,
    });
    expect(warnings).toMatchObject([{ code: 'activation-energy-temperatures-unknown' }]);
    expect(warnings[0]?.text).toContain('(the maker)');
  });

  it('refuses series that are none', () => {
    expect(() => equivalentHours(steps([], []), at121)).toThrow('same length, one or more');
    expect(() => equivalentHours(steps([0, 1], [20]), at121)).toThrow('Received "2 and 1".');
    expect(() => equivalentHours(steps([1, 0], [20, 20]), at121)).toThrow('row 2, hours must not go back');
    expect(() => equivalentHours(steps([0, Infinity], [20, 20]), at121)).toThrow(
      'row 2, hours must be finite',
    );
    expect(() => equivalentHours(steps([0, 1], [20, -280]), at121)).toThrow(
      'row 2, temperatureCelsius must be degrees',
    );
    expect(() => equivalentHours({ ...steps([0, 1], [20, 20]), between: 'cubic' as 'steps' }, at121)).toThrow(
      "'linear' or 'steps'",
    );
  });
});

describe('equivalentSteamHours', () => {
  it('is cycles times hold times factor, a row each', () => {
    const got = equivalentSteamHours(
      { cycles: [10, 0, Number.NaN], holdHours: 0.5, temperatureCelsius: [134, 121, 121] },
      at121,
    );
    expect(got.hours[0]).toBeCloseTo(5 * arrheniusFactor(134, 121, 85), 12);
    expect([...got.hours].slice(1)).toEqual([0, Number.NaN]);
    expect([...got.plainHours]).toEqual([5, 0, Number.NaN]);
    expect(got.low[0]).toBeLessThan(got.hours[0] as number);
    expect(got.high[0]).toBeGreaterThan(got.hours[0] as number);
    expect(got).toMatchObject({ notKnown: 1, warnings: [] });
  });

  it('is the integral of a course that holds one temperature', () => {
    const steam = equivalentSteamHours({ cycles: [1], holdHours: [3], temperatureCelsius: 130 }, at121);
    expect(steam.hours[0]).toBeCloseTo(equivalentHours(steps([0, 3], [130, 0]), at121).hours, 12);
  });

  it('asks about units and warns far from the data', () => {
    const duty = { cycles: [10, 5], holdHours: 0.5, temperatureCelsius: [250, 121] };
    expect(equivalentSteamHours(duty, at121).warnings.map(({ code }) => code)).toEqual([
      'temperature-like-fahrenheit',
      'temperature-beyond-data',
    ]);
    expect(equivalentSteamHours({ ...duty, cycles: [], temperatureCelsius: 250 }, at121).warnings).toEqual(
      [],
    );
  });

  it('refuses what cannot be', () => {
    const duty = { cycles: [10, 5], holdHours: 0.5, temperatureCelsius: 121 };
    expect(() => equivalentSteamHours({ ...duty, cycles: [1, -1] }, at121)).toThrow(
      'row 2, cycles must be 0 or more',
    );
    expect(() => equivalentSteamHours({ ...duty, holdHours: -0.5 }, at121)).toThrow(
      'row 1, holdHours must be 0 or more',
    );
    expect(() => equivalentSteamHours({ ...duty, holdHours: [1] }, at121)).toThrow(
      'for each of 2 rows. Received 1.',
    );
    expect(() => equivalentSteamHours({ ...duty, temperatureCelsius: -300 }, at121)).toThrow('absolute zero');
  });
});
