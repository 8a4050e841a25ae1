/** How long a diaphragm keeps where items.csv does not say. */
import { describe, expect, it } from 'vitest';
import { shelfLifeOf, shelfLifeWarning } from '../../lib/fleet/shelfLife.js';
import { addMonths, textFromDay } from '../../lib/numeric/day.js';
import { itemState } from '../../lib/stock/itemState.js';
import { plant, TODAY } from '../demand/plant.js';

const ISO = 'ISO 2230:2002, first storage period of';

describe('shelf life by elastomer', () => {
  // Years as the standard's classes have them: polyurethane 5, NBR and butyl 7, EPDM, FKM and VMQ 10.
  it.each([
    ['EPDM', 120, `${ISO} EPDM`],
    ['FKM', 120, `${ISO} FKM`],
    ['VMQ', 120, `${ISO} VMQ`],
    ['silicone (VMQ)', 120, `${ISO} VMQ`],
    ['NBR 70', 84, `${ISO} NBR`],
    ['Butyl', 84, `${ISO} IIR`],
    ['polyurethane', 60, `${ISO} AU`],
    ['PTFE-faced EPDM', 120, `${ISO} EPDM, which backs the face`],
    ['PTFE/NBR', 84, `${ISO} NBR, which backs the face`],
    ['EPDM + NBR', 84, `${ISO} NBR`],
    ['PTFE', null, null],
    ['compound 7', null, null],
    ['', null, null],
    // A name that only holds the letters of another one is not that one.
    ['FEPDMX', null, null],
  ])('%s', (material, months, source) => {
    expect(shelfLifeOf({ material, shelfLifeMonths: null })).toEqual({ months, source });
  });

  it('is that of items.csv where it is given, without a warning', () => {
    const given = shelfLifeOf({ material: 'EPDM', shelfLifeMonths: 48 });
    expect(given).toEqual({ months: 48, source: 'items.csv' });
    expect(shelfLifeWarning(given)).toBeNull();
  });

  it('says what was taken, and where nothing could be', () => {
    const text = (material: string) =>
      shelfLifeWarning(shelfLifeOf({ material, shelfLifeMonths: null }))?.text;
    expect(text('PTFE-faced EPDM')).toBe(
      'No shelf life given: 120 months taken (ISO 2230:2002, first storage period of EPDM, which backs the face).',
    );
    expect(text('PTFE')).toMatch(/taken not to expire/);
  });
});

describe('the shelf of an item without a shelf life', () => {
  const cured = TODAY - 3000;
  const [item] = plant([{ shape: 3, scale: 900, ages: [1] }], { items: [{ onHand: 30 }] }).fleet.items;
  const state = (lot: { cured: number | null; useBy: number | null }, material = 'EPDM') => {
    const lots = [{ item: 'P-1', lot: 'x', quantity: 20, ...lot }];
    const { fleet } = plant([{ shape: 3, scale: 900, ages: [1] }], {
      items: [{ onHand: 30, material }],
      lots,
    });
    return itemState(fleet, fleet.items[0] as NonNullable<typeof item>);
  };
  it('expires a lot ten years after its cure date, and what is in no lot is used before a later delivery', () => {
    const { shelf, keepsDays } = state({ cured, useBy: null });
    expect(shelf.map(({ quantity }) => quantity)).toEqual([20, 10]);
    expect(textFromDay(TODAY + (shelf[0]?.useBy ?? 0))).toBe(textFromDay(addMonths(cured, 120)));
    expect(shelf[1]?.useBy).toBe(keepsDays);
    expect(keepsDays).toBeCloseTo(120 * 30.4375, 9);
  });
  it('goes by the use-by of the lot where that is given, also where it is later', () => {
    expect(state({ cured, useBy: TODAY + 5000 }).shelf.map(({ quantity }) => quantity)).toEqual([10, 20]);
    expect(state({ cured, useBy: TODAY - 1 })).toMatchObject({ usable: 10, onHand: 30 });
  });
  it('does not expire where the material names no elastomer', () => {
    const { shelf, warnings } = state({ cured, useBy: null }, 'compound 7');
    expect(shelf.map(({ useBy }) => useBy)).toEqual([Infinity, Infinity]);
    expect(warnings.map(({ code }) => code)).toContain('shelf-life-assumed');
  });
});
