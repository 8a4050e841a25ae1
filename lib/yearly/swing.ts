/** What each assumption does to the saving, all others at their means; widest first. */
import { type Amount, valueAt } from '../cost/amount.js';
import { meanOf } from '../cost/spread.js';
import type { GroupCost } from '../cost/types.js';
import type { Spread } from '../fleet/types.js';
import { at, floatAt, itemAt, sum } from '../numeric/columns.js';
import { FACTORS, type Reach } from './costByInterval.js';
import type { PlantLine } from './lines.js';
import type { LongRun } from './longRun.js';
import type { Swing, Swings } from './outlookTypes.js';
import { type MeanEvents, meanEvents } from './price.js';

export interface SwingInputs {
  costs: readonly GroupCost[];
  lines: readonly PlantLine[];
  /** Material of each group. */
  materials: readonly string[];
  /** Of the proposal times each factor. */
  runs: readonly LongRun[];
  today: LongRun;
  /** Proposed interval of each group, days. */
  days: readonly (number | null)[];
  reach: Reach;
  currency: string;
}

/**
 * The saving is a sum of events times amounts, and amounts are products of settings (amount.ts): a setting at its low
 * or high end is put into every product that it is in, for all lines at once. Life models of a material are moved together, as they
 * are drawn together; stops that are made for replacements are then held at their mean.
 */
export function swings(inputs: SwingInputs): Swings {
  const { costs, lines, materials, runs, today } = inputs;
  const events = { today: meanEvents(today), scaled: runs.map((run) => meanEvents(run)) };
  const view = (prices: Prices, of: Events = events): View => ({
    saving: savingOf(of, prices),
    regret: regretOf(of, prices, inputs),
  });
  const atMeans = pricesAt(costs, lines, (_, spread) => meanOf(spread));
  const settings = settingsIn(costs, lines).map(({ setting, spreads }): Swing => {
    const held = (end: 'low' | 'high') =>
      view(pricesAt(costs, lines, (name, spread) => (name === setting ? spread[end] : meanOf(spread))));
    const [only] = spreads.length === 1 ? spreads : [];
    const unit = unitOf(setting, inputs.currency);
    const values = { unit, low: only?.low ?? null, high: only?.high ?? null };
    return swingOf({ assumption: setting, kind: 'setting', ...values }, held('low'), held('high'));
  });
  const lives = [...new Set(materials)].map((material): Swing => {
    const isMoved = materials.map((each) => each === material);
    const [low, high] = turningDraws(inputs, atMeans, isMoved);
    const moved = (d: number): View =>
      view(atMeans, {
        today: atDraw(events.today, today, isMoved, d),
        scaled: runs.map((run, i) => atDraw(itemAt(events.scaled, i), run, isMoved, d)),
      });
    const name = { assumption: `life models of ${material}`, kind: 'life models' as const };
    return swingOf({ ...name, unit: null, low: null, high: null }, moved(low), moved(high));
  });
  return { ...view(atMeans), ranked: [...settings, ...lives].sort((a, b) => b.width - a.width) };
}

interface View {
  saving: number;
  regret: number;
}

function swingOf(
  what: Pick<Swing, 'assumption' | 'kind' | 'unit' | 'low' | 'high'>,
  low: View,
  high: View,
): Swing {
  return {
    ...what,
    savingAtLow: low.saving,
    savingAtHigh: high.saving,
    width: Math.abs(high.saving - low.saving),
    regretAtLow: low.regret,
    regretAtHigh: high.regret,
  };
}

/** Amounts per diaphragm fitted, leak (beyond it) and scheduled replacement (its share of a stop), and per stop of a line. */
interface Prices {
  fitted: number[];
  loss: number[];
  stopShare: number[];
  stops: number[];
}

function pricesAt(
  costs: readonly GroupCost[],
  lines: readonly PlantLine[],
  choose: (setting: string, spread: Spread) => number,
): Prices {
  const value = (amount: Amount): number => valueAt(amount, choose);
  return {
    fitted: costs.map(({ opening }) => value(opening)),
    loss: costs.map(
      ({ leakDowntime, lostBatch, cleanup }) => value(leakDowntime) + value(lostBatch) + value(cleanup),
    ),
    stopShare: costs.map((cost) => value(cost.stopShare)),
    stops: lines.map(({ stop }) => value(stop)),
  };
}

/** Settings that some amount is made from, each with its different spreads, in order of their names. */
function settingsIn(
  costs: readonly GroupCost[],
  lines: readonly PlantLine[],
): { setting: string; spreads: Spread[] }[] {
  const amounts = [
    ...costs.flatMap(({ opening, leakDowntime, lostBatch, cleanup }) => [
      opening,
      leakDowntime,
      lostBatch,
      cleanup,
    ]),
    ...lines.map(({ stop }) => stop),
  ];
  const found = new Map<string, Map<string, Spread>>();
  for (const { setting, spread } of amounts.flatMap(({ terms }) => terms.flatMap(({ of }) => of))) {
    const own = found.get(setting) ?? new Map<string, Spread>();
    own.set(`${spread.low} ${spread.likely} ${spread.high}`, spread);
    found.set(setting, own);
  }
  return [...found]
    .map(([setting, spreads]) => ({ setting, spreads: [...spreads.values()] }))
    .sort((a, b) => (a.setting < b.setting ? -1 : 1));
}

/** Unit of a money setting, by its name. */
function unitOf(setting: string, currency: string): string {
  if (setting.endsWith('per_hour')) return `${currency} per hour`;
  if (setting.endsWith('probability')) return 'chance per leak';
  if (setting.includes('hours')) return 'hours';
  return currency;
}

interface Events {
  today: MeanEvents;
  scaled: MeanEvents[];
}

/** Means over the draws, but for moved groups, which stand at one draw. */
function atDraw(means: MeanEvents, { groups }: LongRun, isMoved: readonly boolean[], d: number): MeanEvents {
  const moved = means.groups.map((own, g) => {
    if (isMoved[g] !== true) return own;
    const { fitted, leaks, scheduled } = itemAt(groups, g);
    return {
      fitted: floatAt(fitted, d),
      leaks: floatAt(leaks, d),
      scheduled: floatAt(scheduled, d),
    };
  });
  return { groups: moved, stops: means.stops };
}

const PROPOSED = FACTORS.indexOf(1);

function savingOf({ today, scaled }: Events, { fitted, loss, stops }: Prices): number {
  const proposed = itemAt(scaled, PROPOSED);
  const groups = today.groups.map((now, g) => {
    const then = itemAt(proposed.groups, g);
    return at(fitted, g) * (now.fitted - then.fitted) + at(loss, g) * (now.leaks - then.leaks);
  });
  const lines = today.stops.map((now, l) => at(stops, l) * (now - at(proposed.stops, l)));
  return sum(groups) + sum(lines);
}

/** Cost of the intervals as advised above that of each group's best multiple within reach. */
function regretOf(
  { scaled }: Events,
  { fitted, loss, stopShare }: Prices,
  { days, reach }: Pick<SwingInputs, 'days' | 'reach'>,
): number {
  const costAt = (i: number, g: number): number => {
    const each = itemAt(itemAt(scaled, i).groups, g);
    return each.fitted * at(fitted, g) + each.leaks * at(loss, g) + each.scheduled * at(stopShare, g);
  };
  return sum(
    days.map((own, g) => {
      const longest = Math.min(at(reach.limit, g), at(reach.records, g));
      const allowed = FACTORS.flatMap((factor, i) =>
        factor <= 1 || (own ?? 0) * factor <= longest ? [i] : [],
      );
      return costAt(PROPOSED, g) - Math.min(...allowed.map((i) => costAt(i, g)));
    }),
  );
}

/** The draws at the 5th and 95th percentile of the saving that the moved groups give, at mean prices. */
function turningDraws(
  { runs, today }: SwingInputs,
  { fitted, loss }: Prices,
  isMoved: readonly boolean[],
): [low: number, high: number] {
  const proposed = itemAt(runs, PROPOSED);
  const count = today.groups[0]?.fitted.length ?? 0;
  const savings = Float64Array.from({ length: count }, (_, d) =>
    sum(
      today.groups.map((now, g) => {
        if (isMoved[g] !== true) return 0;
        const then = itemAt(proposed.groups, g);
        return (
          at(fitted, g) * (floatAt(now.fitted, d) - floatAt(then.fitted, d)) +
          at(loss, g) * (floatAt(now.leaks, d) - floatAt(then.leaks, d))
        );
      }),
    ),
  );
  const order = Array.from(savings.keys()).sort((a, b) => floatAt(savings, a) - floatAt(savings, b));
  const ranked = (share: number): number => order[Math.round(share * (count - 1))] ?? 0;
  return [ranked(0.05), ranked(0.95)];
}
