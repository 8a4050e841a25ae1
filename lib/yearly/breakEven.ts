/** From which value of a setting on the proposal pays. */
import { type Amount, apartBy, exactly, fromSetting } from '../cost/amount.js';
import type { AmountDrawer } from '../cost/draw.js';
import { meanOf } from '../cost/spread.js';
import type { GroupCost } from '../cost/types.js';
import type { Money, Spread } from '../fleet/types.js';
import { at, floatAt, itemAt, sum } from '../numeric/columns.js';
import { wholeEnds } from './draws.js';
import type { PlantLine } from './lines.js';
import type { LongRun } from './longRun.js';
import type { BreakEven } from './outlookTypes.js';
import { type EventAmounts, eventAmounts, mean } from './price.js';

export interface BreakEvenInputs {
  money: Money;
  currency: string;
  costs: readonly GroupCost[];
  lines: readonly PlantLine[];
  today: LongRun;
  proposed: LongRun;
  draw: AmountDrawer;
}

/**
 * The saving is a + b k, where k is a setting as a multiple of its mean: every amount is a sum of products with a setting in
 * each product once at most. It is 0 at k = -a / b, and pays above where b > 0. Ranges take a and b draw by draw.
 */
export function breakEvens(inputs: BreakEvenInputs): BreakEven[] {
  const { money, currency, costs } = inputs;
  const given = (spread: Spread | null): number | null => (spread === null ? null : meanOf(spread));
  const downtime = [...(money.downtimePerHour?.values() ?? [])].map(meanOf);
  const oneDowntime = new Set(downtime).size === 1 ? at(downtime, 0) : null;
  const hour = `${currency} per hour`;
  return [
    batchValue(inputs),
    bySetting(inputs, 'downtime_per_hour', hour, oneDowntime, downtime.length > 0),
    bySetting(inputs, 'labour_per_hour', hour, given(money.labourPerHour), money.labourPerHour !== null),
    replacement(inputs, costs),
  ];
}

/** Amounts that the saving is made of; without a group nothing is held, and no stop either. */
function amountsOf({ costs, lines }: BreakEvenInputs): EventAmounts {
  return eventAmounts(costs, costs.length === 0 ? [] : lines);
}

const mapped = ({ fitted, loss, stops }: EventAmounts, of: (amount: Amount) => Amount): EventAmounts => ({
  fitted: fitted.map(of),
  loss: loss.map(of),
  stops: stops.map(of),
});

/** Saving at mean amounts, and in each draw. */
interface Saved {
  mean: number;
  drawn: Float64Array;
}

function saved(amounts: EventAmounts, { today, proposed, draw }: BreakEvenInputs): Saved {
  const parts: { amount: Amount; fewer: Float64Array }[] = [];
  const add = (amount: Amount, now: Float64Array, then: Float64Array): void => {
    if (amount.terms.length > 0)
      parts.push({ amount, fewer: now.map((value, d) => value - floatAt(then, d)) });
  };
  today.groups.forEach((now, g) => {
    const then = itemAt(proposed.groups, g);
    add(itemAt(amounts.fitted, g), now.fitted, then.fitted);
    add(itemAt(amounts.loss, g), now.leaks, then.leaks);
  });
  amounts.stops.forEach((amount, l) => {
    add(amount, itemAt(today.stops, l), itemAt(proposed.stops, l));
  });
  const drawn = new Float64Array(today.groups[0]?.fitted.length ?? 0);
  for (const { amount, fewer } of parts) {
    const each = draw(amount);
    for (let d = 0; d < drawn.length; d++)
      drawn[d] = floatAt(drawn, d) + floatAt(each, d) * floatAt(fewer, d);
  }
  return { mean: sum(parts.map(({ amount, fewer }) => amount.mean * mean(fewer))), drawn };
}

/** In units of a batch value of 1, so that it is known where none is given. */
function batchValue(inputs: BreakEvenInputs): BreakEven {
  const { money, currency } = inputs;
  const head = {
    setting: 'batch_value' as const,
    unit: `${currency} per batch`,
    given: money.batchValue === null ? null : meanOf(money.batchValue),
  };
  if (money.lostBatchProbability === null)
    return undecided(head, 'lost_batch_probability is not given, so no batch counts as lost');
  const others = saved(
    mapped(amountsOf(inputs), (amount) => apartBy(amount, 'batch_value').without),
    inputs,
  );
  const batch = fromSetting('lost_batch_probability', money.lostBatchProbability);
  const nothing = exactly(0);
  const batches = saved(
    {
      fitted: inputs.costs.map(() => nothing),
      loss: inputs.costs.map(() => batch),
      stops: [],
    },
    inputs,
  );
  return decided(head, others, batches, 1);
}

function bySetting(
  inputs: BreakEvenInputs,
  setting: 'downtime_per_hour' | 'labour_per_hour',
  unit: string,
  given: number | null,
  isGiven: boolean,
): BreakEven {
  const head = { setting, unit, given };
  if (!isGiven) return undecided(head, `${setting} is not given`);
  const amounts = amountsOf(inputs);
  const others = saved(
    mapped(amounts, (amount) => apartBy(amount, setting).without),
    inputs,
  );
  const own = saved(
    mapped(amounts, (amount) => apartBy(amount, setting).withMean),
    inputs,
  );
  return decided(head, others, own, given);
}

/** Part, labour and recalibration of all groups in proportion; the value is the average over what is proposed to be fitted. */
function replacement(inputs: BreakEvenInputs, costs: readonly GroupCost[]): BreakEven {
  const fitted = inputs.proposed.groups.map((events) => mean(events.fitted));
  const all = sum(fitted);
  const each = sum(costs.map(({ opening }, g) => opening.mean * at(fitted, g))) / (all || 1);
  const head = {
    setting: 'cost of a replacement' as const,
    unit: `${inputs.currency} per replacement`,
    given: each,
  };
  if (each === 0) return undecided(head, 'neither prices nor labour are given');
  const amounts = amountsOf(inputs);
  const nothing = exactly(0);
  const others = saved({ ...amounts, fitted: costs.map(() => nothing) }, inputs);
  const exact = amounts.fitted.map(({ mean: value }) => exactly(value));
  const own = saved({ fitted: exact, loss: costs.map(() => nothing), stops: [] }, inputs);
  return decided(head, others, own, each);
}

type Head = Pick<BreakEven, 'setting' | 'unit' | 'given'>;

function undecided(head: Head, why: string): BreakEven {
  return { ...head, value: null, timesGiven: null, pays: null, range: null, why };
}

/** `others` is the saving without the setting, `own` what it adds per `unitValue` of it (null: lines differ). */
function decided(head: Head, others: Saved, own: Saved, unitValue: number | null): BreakEven {
  const why = whyNone(head.setting, others.mean, own.mean);
  if (why !== null) return undecided(head, why);
  const pays = own.mean > 0 ? 'above' : 'below';
  const times = -others.mean / own.mean;
  const scale = unitValue ?? 1;
  const value = unitValue === null ? null : times * unitValue;
  const timesGiven =
    head.setting !== 'batch_value'
      ? times
      : head.given === null || head.given === 0
        ? null
        : times / head.given;
  const ends = thresholds(others.drawn, own.drawn, pays).map((each) => each * scale);
  const [low, high] = wholeEnds(ends, 0);
  return {
    ...head,
    value,
    timesGiven,
    pays,
    range: [low, Number.isFinite(high) ? high : null],
    why: null,
  };
}

function whyNone(setting: string, others: number, own: number): string | null {
  if (own === 0) return `${setting} does not move the saving`;
  if (-others / own > 0) return null;
  if (others === 0)
    return own > 0 ? 'the proposal pays at any value above 0' : 'the proposal pays at no value';
  return others > 0 ? 'the proposal pays at any value' : 'the proposal pays at no value';
}

/** By draw, the value from which on (or up to which) it pays; 0 and Infinity where it always or never does. */
function thresholds(others: Float64Array, own: Float64Array, pays: 'above' | 'below'): number[] {
  const [always, never] = pays === 'above' ? [0, Infinity] : [Infinity, 0];
  return Array.from(others, (a, d) => {
    const b = floatAt(own, d);
    const threshold = -a / b;
    const decides = b !== 0 && threshold > 0 && b > 0 === (pays === 'above');
    if (decides) return threshold;
    return a > 0 || (a === 0 && b > 0) ? always : never;
  });
}
