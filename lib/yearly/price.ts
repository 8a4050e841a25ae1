/** What events cost: means with the means of the settings, and draw by draw with drawn settings. */
import { type Amount, addAmounts } from '../cost/amount.js';
import type { AmountDrawer } from '../cost/draw.js';
import type { GroupCost } from '../cost/types.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import type { PlantLine } from './lines.js';
import type { LongRun } from './longRun.js';

/** Drawn amounts: per diaphragm fitted and per leak (beyond the new diaphragm) of a group, and per stop of a line. */
export interface DrawnPrices {
  fitted: Float64Array[];
  loss: Float64Array[];
  stops: Float64Array[];
}

/** The same as amounts: what a year is priced by. */
export interface EventAmounts {
  fitted: Amount[];
  loss: Amount[];
  stops: Amount[];
}

export function eventAmounts(costs: readonly GroupCost[], lines: readonly PlantLine[]): EventAmounts {
  return {
    fitted: costs.map(({ opening }) => opening),
    loss: costs.map(({ leakDowntime, lostBatch, cleanup }) => addAmounts(leakDowntime, lostBatch, cleanup)),
    stops: lines.map(({ stop }) => stop),
  };
}

export function drawPrices(
  costs: readonly GroupCost[],
  lines: readonly PlantLine[],
  draw: AmountDrawer,
): DrawnPrices {
  const { fitted, loss, stops } = eventAmounts(costs, lines);
  return { fitted: fitted.map(draw), loss: loss.map(draw), stops: stops.map(draw) };
}

/** Mean cost per year by part. */
export interface CostParts {
  parts: number;
  labour: number;
  plannedStop: number;
  leakDowntime: number;
  lostBatches: number;
}

/** Events per year on average over the draws. */
export interface MeanEvents {
  groups: { fitted: number; leaks: number; scheduled: number }[];
  stops: number[];
}

export function meanEvents({ groups, stops }: Pick<LongRun, 'groups' | 'stops'>): MeanEvents {
  return {
    groups: groups.map(({ fitted, leaks, scheduled }) => ({
      fitted: mean(fitted),
      leaks: mean(leaks),
      scheduled: mean(scheduled),
    })),
    stops: stops.map(mean),
  };
}

/** Costs and lines in the order of the events and stops. */
export function meanParts(
  { groups, stops }: MeanEvents,
  costs: readonly GroupCost[],
  lines: readonly PlantLine[],
): CostParts {
  const total = { parts: 0, labour: 0, plannedStop: 0, leakDowntime: 0, lostBatches: 0 };
  groups.forEach(({ fitted, leaks }, g) => {
    const { part, labour, recalibration, leakDowntime, cleanup, lostBatch } = itemAt(costs, g);
    total.parts += part.mean * fitted;
    total.labour += (labour.mean + recalibration.mean) * fitted;
    total.leakDowntime += (leakDowntime.mean + cleanup.mean) * leaks;
    total.lostBatches += lostBatch.mean * leaks;
  });
  lines.forEach(({ stop }, l) => {
    total.plannedStop += stop.mean * at(stops, l);
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
  let total = 0;
  for (let d = 0; d < values.length; d++) total += floatAt(values, d);
  return values.length === 0 ? 0 : total / values.length;
}
