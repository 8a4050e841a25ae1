/** Stores and positions of a very large plant, for the benchmarks of stock and demand, made from fixed seeds. */
import type { DemandForecast, ItemDemand } from '../../lib/demand/types.js';
import type { Fleet } from '../../lib/fleet/types.js';
import type { GroupedFleet } from '../../lib/group/types.js';
import { randomStream } from '../../lib/numeric/random.js';
import { plant, TODAY } from '../demand/plant.js';

const STEPS = 96;
const STEP_DAYS = 30.4375 / 4;

const exactly = (likely: number) => ({ low: likely, likely, high: likely });

/** So many items with their forecasts: from one piece in ten years to a thousand a year, with and without kits, lots and use-by dates. */
export function largeStores(count: number): { fleet: Fleet; forecast: DemandForecast } {
  const random = randomStream(13, 'stores');
  const demands = Array.from({ length: count }, (_, i) => itemDemand(i, random.uniform(), random.uniform()));
  const { fleet } = plant([], {
    items: demands.map(({ item, material, size }, i) => ({
      item,
      material,
      size,
      onHand: random.below(60),
      pack: [1, 5, 10, 25][i % 4] ?? 1,
      minOrder: [1, 5, 10, 25][i % 4] ?? 1,
      leadTimeDays: 15 + random.below(75),
      leadTimeSdDays: 5 + random.below(20),
      shelfLifeLeftAtReceiptMonths: i % 3 === 0 ? 36 : null,
      emergencyDays: 4,
      emergencyExtraCost: 200,
      priceBreaks: i % 5 === 0 ? [{ from: 50, price: 36 }] : [],
    })),
    orders: demands
      .filter((_, i) => i % 7 === 0)
      .map(({ item }) => ({ item, quantity: 10, placed: null, due: TODAY + 20 })),
  });
  fleet.site.money = { ...fleet.site.money, orderCost: exactly(85), holdingRatePerYear: exactly(0.25) };
  return { fleet, forecast: { months: [], items: demands, draws: 200 } };
}

function itemDemand(i: number, rate: number, kits: number): ItemDemand {
  const perYear = 0.1 * 10 ** (4 * rate ** 2);
  const perStep = (perYear * STEP_DAYS) / 365.25;
  const size = Math.ceil(100 * kits ** 3 * (i % 2));
  return {
    item: `I-${i}`,
    material: `M-${i % 40}`,
    size: Math.floor(i / 40) + 1,
    planned: [80, 260, 445, 625]
      .filter(() => size > 0)
      .map((inDays) => ({
        name: `stop in ${inDays} days`,
        day: TODAY + inDays,
        ifNothingLeaks: size,
        expected: 0.9 * size,
        with95: size,
        kit: size,
      })),
    randomPerStep: new Array<number>(STEPS).fill(perStep),
    randomVariancePerStep: new Array<number>(STEPS).fill(1.3 * perStep + (0.1 * perStep) ** 2),
    randomParameterSdPerStep: new Array<number>(STEPS).fill(0.1 * perStep),
    stepDays: STEP_DAYS,
    shareFromParameters: 0.1,
    leaksPerYear: 0.7 * perYear,
    openingsPerYear: 0.3 * perYear,
    plannedPerYear: 2 * size,
    positions: 10,
    criticality: 'normal',
    downtimePerHour: 1000,
    valvesPerJob: 1.2,
    jobsOnRecord: 10,
  };
}

/** So many positions in 24 groups with 200 draws each, openings, and a shutdown every half year. */
export function largePositions(count: number): { fleet: Fleet; grouped: GroupedFleet } {
  const random = randomStream(14, 'positions');
  const groups = Array.from({ length: 24 }, (_, g) => {
    const [shape, scale] = [2 + 0.05 * g, 700 + 20 * g];
    return {
      material: `M-${g % 4}`,
      size: [8, 15, 25, 40, 50, 80][g % 6] ?? 25,
      line: `L-${g % 12}`,
      shape,
      scale,
      share: 0.02,
      openingsPerYear: 0.1,
      draws: Array.from({ length: 200 }, () => ({
        shape: shape * (0.9 + 0.2 * random.uniform()),
        scale: scale * (0.9 + 0.2 * random.uniform()),
        share: 0.04 * random.uniform(),
      })),
      ages: Array.from({ length: Math.round(count / 24) }, () => random.below(400)),
    };
  });
  return plant(groups, {
    shutdowns: [80, 260, 445, 625].map((inDays) => ({ name: `stop in ${inDays} days`, inDays })),
  });
}
