/** Heat as a clock: told where it wears, not told where it does not, and what is said of it. */
import { describe, expect, it } from 'vitest';
import type { ClockExposure } from '../../../lib/exposure/clock/types.js';
import { fitActivationEnergy } from '../../../lib/exposure/fitActivationEnergy.js';
import type { Fleet } from '../../../lib/fleet/types.js';
import { groupFleet } from '../../../lib/group/groupFleet.js';
import { energyFromLives } from '../../../lib/group/wear/energyFromLives.js';
import { findWear } from '../../../lib/group/wear/findWear.js';
import type { Wear, WearClock } from '../../../lib/group/wear/types.js';
import { type HeatBasis, type UsedLives, usedLives } from '../../../lib/group/wear/usedLives.js';
import { clockColumns, wearLives } from '../../../lib/group/wear/wearLives.js';
import type { Bounds } from '../../../lib/life/sampleTypes.js';
import { randomStream } from '../../../lib/numeric/random.js';
import { PLANT_ENERGY, plantFactor, wearPlant } from './wearFolder.js';

const TWO = [121, 134] as const;
const byDose = wearPlant({ seed: 21, clock: 'equivalent hours', celsius: TWO });
const given = withEnergy({
  low: 70,
  likely: 85,
  high: 105,
  source: 'own oven',
  data_from_c: 100,
  data_to_c: 150,
});
const grouped = groupFleet(byDose, { seed: 1 });
const wear = findWear(given, grouped, 1);

/** The same plant with an activation energy in site.json. */
function withEnergy(energy: object): Fleet {
  const site = { heat_dose: { activation_energy_kj_per_mol: { EPDM: energy } } };
  return wearPlant({ seed: 21, clock: 'equivalent hours', celsius: TWO, site });
}

function wearOf(fleet: Fleet): Wear {
  return findWear(fleet, groupFleet(fleet, { seed: 1 }), 1);
}

const first = ({ clocks }: Wear): WearClock => clocks[0] as WearClock;
const compared = (found: Wear): string[] => first(found).clocks.map(({ clock }) => clock);

/** Standard errors, on the log scale, between an estimate with its 90 % range and the truth. */
function errorsFrom({ estimate, low, high }: Bounds, truth: number): number {
  return Math.abs(Math.log(estimate / truth)) / (Math.log(high / low) / (2 * 1.645));
}

describe('diaphragms that wear by the heat of their steam', () => {
  it('are told to, with the law on that clock', () => {
    const { verdict, clock, law, text } = first(wear);
    expect([verdict, clock]).toEqual(['told', 'equivalent hours']);
    // 250 cycles of half an hour at the middle temperature, in hours at 121 degrees C; half have leaked by ln(2)^(1/3) of it.
    const half = (250 * 0.5 * Math.LN2 ** (1 / 3)) / plantFactor(121);
    expect(errorsFrom(law?.half as Bounds, half)).toBeLessThan(4);
    expect(errorsFrom(law?.shape as Bounds, 3)).toBeLessThan(4);
    expect(text).toMatch(/^What wears them is equivalent hours: the clock of [\w ]+ is [\d.]+ behind by AIC/);
    expect(text).toContain('Hours at 121 degrees C, by an activation energy of 85 kJ/mol (70 to 105)');
    expect(text).toContain('the verdict is the same over that range');
  });

  it('say what the dose rests on', () => {
    expect(wear.heat).toMatchObject({ referenceCelsius: 121, parts: ['steam'] });
    expect(wear.heat?.energies).toMatchObject([
      { material: 'EPDM', kJPerMol: 85, low: 70, high: 105, from: 'site.json', dataCelsius: [100, 150] },
    ]);
    expect(wear.exposures.map(({ counter }) => counter)).toEqual([
      'steam cycles',
      'strokes',
      'equivalent hours',
    ]);
    const notes = wear.notes.join(' ');
    expect(notes).toContain('hours at 121 degrees C that age a diaphragm as much');
    expect(notes).toContain('No temperature of hot cleans and service is given');
    expect(notes).toContain('85 kJ/mol (70 to 105), given: own oven');
  });

  it('have a count and a rate at every position, hotter ones a faster one', () => {
    const { positions } = wear.worn[0] as (typeof wear.worn)[number];
    expect(positions.length).toBe(40);
    for (const { position, rate } of positions) {
      const perWeek = given.positions[position]?.steamCyclesPerWeek as number;
      const factor = plantFactor(TWO[position % 2] as number) / plantFactor(121);
      // Counters are rounded to whole cycles: one in about a thousand.
      expect(Math.abs((rate?.perDay as number) / ((perWeek / 7) * 0.5 * factor) - 1)).toBeLessThan(5e-3);
    }
  });
});

describe('diaphragms that do not', () => {
  it('wear by cycles at any temperature: equivalent hours are not told', () => {
    const found = wearOf(wearPlant({ seed: 22, clock: 'steam cycles', celsius: TWO }));
    expect(compared(found)).toContain('equivalent hours');
    expect(first(found).clock).not.toContain('equivalent hours');
  });

  it('one temperature everywhere: equivalent hours are not weighed, and the verdict is that without them', () => {
    const plain = wearPlant({ seed: 22, clock: 'steam cycles' });
    const same = wearOf(wearPlant({ seed: 22, clock: 'steam cycles', celsius: [121] }));
    expect(compared(same)).not.toContain('equivalent hours');
    expect(first(same)).toEqual(first(wearOf(plain)));
    expect(same.notes.join(' ')).toMatch(/In EPDM DN 25\S* equivalent hours rise with steam cycles/);
    expect(wearOf(plain).heat).toBeUndefined();
  });
});

describe('the activation energy', () => {
  const used = usedLives(byDose) as UsedLives & { heat: HeatBasis };
  const own = energyFromLives(byDose, grouped, used, 'EPDM', 1);

  it('that lives show holds the truth', () => {
    expect(own?.low).toBeLessThan(PLANT_ENERGY);
    expect(own?.high).toBeGreaterThan(PLANT_ENERGY);
    expect(own).toMatchObject({ groups: 1, lowestCelsius: 121, highestCelsius: 134 });
  });

  it('takes the place of the usual one where it is as narrow, and is told', () => {
    const found = findWear(byDose, grouped, 1);
    const usual = { low: 70, high: 105 };
    expect((own?.high as number) - (own?.low as number)).toBeLessThan(usual.high - usual.low);
    expect(found.heat?.energies).toMatchObject([{ from: 'lives', kJPerMol: own?.kJPerMol }]);
    expect(found.notes.join(' ')).toMatch(
      /kJ\/mol \(\d+[.\d]* to \d+[.\d]*\), estimated from \d+ leaks in 1 group/,
    );
    expect(first(found).clock).toBe('equivalent hours');
  });

  it('is that of the Arrhenius regression of cycles, of steam alone', () => {
    const { followed } = grouped;
    const rows = Array.from({ length: followed.length }, (_, i) => i);
    const lives = wearLives(byDose, followed, rows, 1e9, randomStream(1, 'all'));
    const { exposures } = clockColumns(lives, followed, used, ['steam cycles'], 0);
    const counts = exposures['steam cycles'] as ClockExposure;
    const exit = Float64Array.from(counts.exit);
    const entry = Float64Array.from(counts.entry ?? []);
    const leaked = Array.from(lives.days.upper, (upper) => upper < Infinity);
    const cycles = {
      ...lives.days,
      lower: exit,
      upper: exit.map((each, k) => (leaked[k] === true ? each : Infinity)),
      entry,
    };
    const celsius = Array.from(lives.days.cluster, (p) => TWO[p % 2] as number);
    const fit = fitActivationEnergy(cycles, celsius, { kind: 'weibull' });
    // The search stops within a thousandth.
    expect(Math.abs((own?.kJPerMol as number) / fit.kJPerMol - 1)).toBeLessThan(2e-3);
  });

  it('known so badly that cycles do as well: cannot tell', () => {
    const found = findWear(withEnergy({ low: 70, likely: 85, high: 400 }), grouped, 1);
    expect(first(found)).toMatchObject({ verdict: 'cannot tell', clock: 'days', law: null });
    expect(first(found).text).toMatch(/at the high end of the range .* the clock of [\w ]+ would do as well/);
    expect(first(found).todo).toContain('Have the activation energy of this compound measured');
    expect(found.worn).toEqual([]);
  });

  it('more than 25 degrees beyond its data: said, with the share that comes from there', () => {
    const found = findWear(
      withEnergy({ low: 70, likely: 85, high: 105, data_from_c: 60, data_to_c: 100 }),
      grouped,
      1,
    );
    expect(found.notes.join(' ')).toMatch(
      /\d+ % of the equivalent hours of EPDM come from 134 to 134 degrees C, more than 25 degrees beyond/,
    );
  });
});
