/** What events cost: means with the means of the settings, and draw by draw with drawn settings. */
import { addAmounts } from '../cost/amount.js';
import type { AmountDrawer } from '../cost/draw.js';
import type { GroupCost } from '../cost/types.js';
import { floatAt, itemAt, sum } from '../numeric/columns.js';
import type { PlantLine } from './lines.js';
import type { LongRun } from './longRun.js';

/** Drawn amounts: per diaphragm fitted and per leak (beyond the new diaphragm) of a group, and per stop of a line. */
export interface DrawnPrices {
  fitted: Float64Array[];
  loss: Float64Array[];
  stops: Float64Array[];
}

export function drawPrices(
  costs: readonly GroupCost[],
  lines: readonly PlantLine[],
  draw: AmountDrawer,
): DrawnPrices {
  return {
    fitted: costs.map(({ opening }) => draw(opening)),
    loss: costs.map(({ leakDowntime, lostBatch, cleanup }) =>
      draw(addAmounts(leakDowntime, lostBatch, cleanup)),
    ),
    stops: lines.map(({ stop }) => draw(stop)),
  };
}

/** Mean cost per year by part. */
export interface CostParts {
  parts: number;
  labour: number;
  plannedStop: number;
  leakDowntime: number;
  lostBatches: number;
}

/** Costs and lines in the order of the events and stops. */
export function meanParts(
  { groups, stops }: Pick<LongRun, 'groups' | 'stops'>,
  costs: readonly GroupCost[],
  lines: readonly PlantLine[],
): CostParts {
  const total = { parts: 0, labour: 0, plannedStop: 0, leakDowntime: 0, lostBatches: 0 };
  groups.forEach((events, g) => {
    const { part, labour, recalibration, leakDowntime, cleanup, lostBatch } = itemAt(costs, g);
    const fitted = mean(events.fitted);
    const leaks = mean(events.leaks);
    total.parts += part.mean * fitted;
    total.labour += (labour.mean + recalibration.mean) * fitted;
    total.leakDowntime += (leakDowntime.mean + cleanup.mean) * leaks;
    total.lostBatches += lostBatch.mean * leaks;
  });
  lines.forEach(({ stop }, l) => {
    total.plannedStop += stop.mean * mean(itemAt(stops, l));
  });
  return total;
}

/** Cost per year of each draw: of each group without its stops, and of everything together. */
export function drawnTotals(
  { groups, stops }: LongRun,
  { fitted, loss, stops: stopPrices }: DrawnPrices,
): { byGroup: Float64Array[]; all: Float64Array } {
  const byGroup = groups.map((events, g) => {
    const [each, leak] = [itemAt(fitted, g), itemAt(loss, g)];
    return events.fitted.map(
      (count, d) => count * floatAt(each, d) + floatAt(events.leaks, d) * floatAt(leak, d),
    );
  });
  const all = new Float64Array(byGroup[0]?.length ?? 0);
  for (const own of byGroup) for (let d = 0; d < all.length; d++) all[d] = floatAt(all, d) + floatAt(own, d);
  stops.forEach((held, l) => {
    const price = itemAt(stopPrices, l);
    for (let d = 0; d < all.length; d++) all[d] = floatAt(all, d) + floatAt(held, d) * floatAt(price, d);
  });
  return { byGroup, all };
}

export function mean(values: Float64Array): number {
  return values.length === 0 ? 0 : sum(values) / values.length;
}
