/**
 * Interpolation against R approx (interpolation.R), doses and factors against scipy quad (dose.py), activation energies against R
 * survreg (energy.R), and published figures (published.json: NIST/SEMATECH e-Handbook, K25).
 */
import { describe, expect, it } from 'vitest';
import { givenActivationEnergy } from '../../../lib/exposure/activationEnergy.js';
import { arrheniusFactor, KJ_PER_MOL_IN_ELECTRON_VOLT } from '../../../lib/exposure/arrhenius.js';
import { equivalentHours } from '../../../lib/exposure/equivalentHours.js';
import { exposeLives } from '../../../lib/exposure/exposeLives.js';
import { exposeSpans } from '../../../lib/exposure/exposeSpans.js';
import { fitActivationEnergy } from '../../../lib/exposure/fitActivationEnergy.js';
import { fitLife } from '../../../lib/life/estimate/fit.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { counted, type Duty, type ReadingRow, spansOf, withLives } from '../../exposure/fixtures.js';
import handbook from '../life/handbook/published.json' with { type: 'json' };
import { apart, sampleOf } from '../life/samples.js';
import dose from './dose.json' with { type: 'json' };
import energy from './energy.json' with { type: 'json' };
import interpolation from './interpolation.json' with { type: 'json' };
import published from './published.json' with { type: 'json' };

describe('interpolation, R approx', () => {
  const { days, value, from, to, idle, plain, inUse } = interpolation;
  const rows = days.map((day, k): ReadingRow => [0, day, value[k] as number]);
  const spans = spansOf(...from.map((day, k) => [day, to[k] as number] as const));
  const pauses = idle.map(([start, end]) => ({ start, end })) as Duty['idle'] & {};

  it.each([
    ['every day in use', {}, plain],
    ['idle from time to time', { idle: pauses }, inUse],
  ] as const)('%s', (_, duty, want) => {
    const { exposure, byRate } = exposeSpans(counted(rows, [duty]), spans).strokes;
    // Differences of sums up to 26 000, each to the last digit.
    for (const [k, counts] of want.entries()) {
      expect(Math.abs((exposure[k] as number) - counts)).toBeLessThan(1e-10);
    }
    expect(byRate.every((counts) => counts === 0)).toBe(true);
  });
});

describe('K25: cycles as the clock, 14 lives', () => {
  const { days, cycles, leaked, cyclesShapeScale, cyclesLogLikelihood, thousandCyclesLogLikelihood } =
    published.K25;

  /** Each life at a position of its own, its counter read at fitting and at the end. */
  function fitted(unit: number) {
    const rows = days.flatMap((day, p): ReadingRow[] => [
      [p, 0, 0, 5],
      [p, day, 0, 5 + (cycles[p] as number) * unit],
    ]);
    const lives = days.map((day, p) => [p, 0, day] as const);
    const fleet = withLives(
      counted(
        rows,
        days.map(() => ({})),
      ),
      lives,
    );
    const { exposure } = exposeLives(fleet).steamCycles;
    const upper = exposure.map((age, i) => (leaked[i] === 1 ? age : Infinity));
    return fitLife(lifeSample({ lower: exposure, upper }), { kind: 'weibull' });
  }

  it('shape, scale and likelihood as recomputed; in thousands only the scale changes', () => {
    const [one, thousand] = [fitted(1), fitted(1e-3)];
    if (one.model.kind !== 'weibull' || thousand.model.kind !== 'weibull') throw new Error('not a Weibull');
    const [shape, scale] = cyclesShapeScale as [number, number];
    // 1e-6 as the case says.
    expect(apart(one.model.shape, shape)).toBeLessThan(1e-6);
    expect(apart(one.model.scale, scale)).toBeLessThan(1e-6);
    expect(apart(one.logLikelihood, cyclesLogLikelihood)).toBeLessThan(1e-6);
    expect(apart(thousand.model.shape, shape)).toBeLessThan(1e-6);
    expect(apart(thousand.model.scale, scale / 1000)).toBeLessThan(1e-6);
    expect(apart(thousand.logLikelihood, thousandCyclesLogLikelihood)).toBeLessThan(1e-6);
  });
});

describe('Arrhenius factor', () => {
  it('as written out in Python', () => {
    for (const { celsius, reference, energy: kJ, factor } of dose.factors) {
      // An exponent of some 100 has its last digit at 1e-14.
      expect(apart(arrheniusFactor(celsius, reference, kJ), factor)).toBeLessThan(
        1e-13 * Math.max(1, Math.abs(Math.log(factor)) * 10),
      );
    }
    expect(apart(KJ_PER_MOL_IN_ELECTRON_VOLT, dose.electronVolt)).toBeLessThan(1e-14);
  });

  it('A4: 85 against 125 degrees C, NIST/SEMATECH e-Handbook 8.4.2.1', () => {
    const { deltaH, boltzmannInverse, acceleration85to125, accelerationPublished } = published.A4;
    // The handbook's 11605 is a rounded 1 / k.
    const kJ = deltaH * boltzmannInverse * 8.31446261815324e-3;
    const factor = arrheniusFactor(125, 85, kJ);
    expect(apart(factor, acceleration85to125)).toBeLessThan(1e-9);
    // Its 13.89814 takes 273.16 here: two ten-thousandths less.
    expect(Math.abs(factor - Number(accelerationPublished))).toBeLessThan(0.002);
  });
});

describe('equivalent hours, scipy quad', () => {
  it.each(dose.doses)('$course at $activationEnergyKJPerMol kJ/mol, reference $referenceCelsius', (row) => {
    const { hours, celsius } = dose.courses[row.course as keyof typeof dose.courses];
    const activationEnergy = givenActivationEnergy({
      activationEnergyKJPerMol: row.activationEnergyKJPerMol,
    });
    const options = { referenceCelsius: row.referenceCelsius, activationEnergy };
    for (const between of ['linear', 'steps'] as const) {
      const got = equivalentHours({ hours, temperatureCelsius: celsius, between }, options).hours;
      // quad is asked for 1e-13 in each of 40 parts.
      expect(apart(got, row[between])).toBeLessThan(1e-11);
    }
  });
});

describe('activation energy from lives, R survreg', () => {
  const { data } = handbook.B4;
  const imotor = sampleOf(data.time, data.status);
  const cells = published.A5.data;
  const of = [cells.cell85, cells.cell105, cells.cell125];

  function agree(
    sample: LifeSample,
    celsius: readonly number[],
    kind: 'lognormal' | 'weibull',
    want: readonly number[],
  ) {
    const got = fitActivationEnergy(sample, celsius, { kind, level: 0.9 });
    const [kJ, error] = want as [number, number];
    // The searches stop where the log-likelihood is flat to 1e-12 or so.
    expect(apart(got.kJPerMol, kJ)).toBeLessThan(1e-6);
    expect(apart(got.standardError, error)).toBeLessThan(1e-5);
    expect(apart(got.low, kJ - 1.6448536269514722 * error)).toBeLessThan(1e-5);
    expect(apart(got.high, kJ + 1.6448536269514722 * error)).toBeLessThan(1e-5);
    return got;
  }

  it('B4: motor insulation (Nelson & Hahn 1972; R survival imotor)', () => {
    const got = agree(imotor, data.tempC, 'lognormal', energy.imotorLognormal);
    expect([got.lowestCelsius, got.highestCelsius]).toEqual([150, 220]);
    agree(imotor, data.tempC, 'weibull', energy.imotorWeibull);
  });

  it('A5: three cells, NIST/SEMATECH e-Handbook 8.4.2.2', () => {
    const time = of.flatMap((ages, k) => [
      ...ages,
      ...Array.from({ length: (cells.units[k] as number) - ages.length }, () => cells.censorTime),
    ]);
    const status = of.flatMap((ages, k) =>
      Array.from({ length: cells.units[k] as number }, (_, i) => (i < ages.length ? 1 : 0)),
    );
    const celsius = of.flatMap((_, k) =>
      Array.from({ length: cells.units[k] as number }, () => cells.tempC[k] as number),
    );
    const got = agree(sampleOf(time, status), celsius, 'lognormal', energy.cellsLognormal);
    // Printed in electron volts with three digits; its 273.16 and 8.617e-5 do not show in them.
    expect((got.kJPerMol / KJ_PER_MOL_IN_ELECTRON_VOLT).toFixed(3)).toBe(published.A5.publishedElectronVolts);
    expect((got.standardError / KJ_PER_MOL_IN_ELECTRON_VOLT).toFixed(4)).toBe(
      published.A5.publishedStandardError,
    );
  });
});
