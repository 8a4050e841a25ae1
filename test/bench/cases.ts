/** What is timed. */

import { forecastDemand } from '../../lib/demand/forecast.js';
import { exposeLives } from '../../lib/exposure/exposeLives.js';
import { readFleet } from '../../lib/fleet/read.js';
import { groupFleet } from '../../lib/group/groupFleet.js';
import { optimiseShutdowns } from '../../lib/interval/fleetPlan/optimiseShutdowns.js';
import { lifeBounds } from '../../lib/life/estimate/bounds/bounds.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { mergeSample } from '../../lib/life/mergeSample.js';
import { lifeSample } from '../../lib/life/sample.js';
import { planFleet } from '../../lib/plan.js';
import { planFiles } from '../../lib/report/files.js';
import { sizeStock } from '../../lib/stock/size.js';
import { randomFleet } from '../interval/fleetPlan/fixtures.js';
import { historyCases } from './historyCases.js';
import { countedFleet, millionLives } from './inputs.js';
import type { BenchCase } from './run.js';
import { largePositions, largeStores } from './storesInputs.js';

const SEED = 1;

/** The cases, on the plant in `folder` and on the demo plant. */
export async function benchCases(folder: string): Promise<BenchCase[]> {
  return [
    ...lifeCases(),
    ...fleetCases(),
    ...historyCases(),
    exposureCase(),
    ...storesCases(),
    ...(await plantCases('large plant', folder, 1)),
    ...(await demoCases()),
  ];
}

function lifeCases(): BenchCase[] {
  const columns = millionLives();
  const amount = columns.lower.length;
  const merged = mergeSample(lifeSample(columns));
  const fit = fitLife(merged, { kind: 'weibull' });
  const lives = { amount, unit: 'lives' };
  return [
    {
      name: 'life: check and merge into distinct ages',
      ...lives,
      times: 5,
      run: () => mergeSample(lifeSample(columns)),
    },
    {
      name: 'life: Weibull fit on merged lives',
      ...lives,
      times: 9,
      run: () => fitLife(merged, { kind: 'weibull' }),
    },
    {
      name: 'life: likelihood bounds of the age at 10 %',
      ...lives,
      times: 9,
      run: () => lifeBounds(fit, { of: { quantile: 0.1 }, method: 'likelihood' }),
    },
  ];
}

/** Fleets whose crew hours are a fifth of what one replacement everywhere takes, with stops to pay in half of the windows. */
function fleetCases(): BenchCase[] {
  return [1000, 10_000].map((positions) => {
    const fleet = { positions, windows: 8, lines: positions / 25, tightness: 0.2, made: 4, stopCost: 2000 };
    const problem = randomFleet(SEED, fleet);
    const { gap } = optimiseShutdowns(problem);
    return {
      name: `fleet plan, 8 shutdowns (gap ${(100 * gap).toFixed(2)} %)`,
      amount: positions,
      unit: 'positions',
      times: 1,
      run: () => optimiseShutdowns(problem),
    };
  });
}

/** 5 000 000 readings in the order of their days become exposures of 100 000 lives on three clocks. */
function exposureCase(): BenchCase {
  const fleet = countedFleet();
  const name = 'exposure: readings to lives on three clocks';
  return { name, amount: fleet.readings.length, unit: 'readings', times: 3, run: () => exposeLives(fleet) };
}

/** Stock of 2 000 items should take 2 s at most, demand of 100 000 positions over 24 months with ranges 5 s. */
function storesCases(): BenchCase[] {
  const stores = largeStores(2000);
  const { fleet, grouped } = largePositions(100_000);
  const policy = { name: 'proposed' as const, intervalDays: grouped.groups.map(() => 400) };
  return [
    {
      name: 'stock: orders and rules of every item',
      amount: stores.fleet.items.length,
      unit: 'items',
      times: 3,
      run: () => sizeStock(stores.fleet, stores.forecast),
    },
    {
      name: 'demand: 24 months with ranges and kits',
      amount: fleet.positions.length,
      unit: 'positions',
      times: 1,
      run: () => forecastDemand(fleet, grouped, policy, { seed: SEED }),
    },
  ];
}

async function plantCases(name: string, folder: string, times: number): Promise<BenchCase[]> {
  const fleet = await readFleet(folder);
  const lives = { amount: fleet.lives.length, unit: 'lives', times };
  return [
    { name: `${name}: read and check the folder`, ...lives, run: () => readFleet(folder) },
    { name: `${name}: fit every group`, ...lives, run: () => groupFleet(fleet, { seed: SEED }) },
    { name: `${name}: the plan, from the fleet`, ...lives, run: () => planFleet(fleet, { seed: SEED }) },
    {
      name: `${name}: folder to report`,
      ...lives,
      run: async () => planFiles(planFleet(await readFleet(folder), { seed: SEED })),
    },
  ];
}

function demoCases(): Promise<BenchCase[]> {
  return plantCases('demo plant', 'data-demo', 3);
}
