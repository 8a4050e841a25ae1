/** A plain run of a store, event by event: jobs by Poisson, one fixed lead time, first asked first served. */
import { itemAt } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';

export interface StoreRun {
  /** Jobs per unit of time, and the chance of each size. */
  jobs: number;
  sizes: readonly number[];
  lead: number;
  point: number;
  quantity: number;
  /** 0: watched always. */
  review: number;
  seed: number;
  /** A wait up to this counts as served in time; default 0. */
  within?: number;
  blocks?: number;
  jobsPerBlock?: number;
}

/** Mean of the blocks, and the standard error of that. */
export interface Seen {
  mean: number;
  error: number;
}

export interface Rates {
  fill: number;
  ready: number;
  shortage: number;
  onHand: number;
  wait: number;
  orders: number;
  /** Share of pieces handed out within `within`. */
  inTime: number;
}

export function storeRun(run: StoreRun): Record<keyof Rates, Seen> {
  const { blocks = 40, jobsPerBlock = 5000 } = run;
  const store = openStore(run);
  store.block(jobsPerBlock);
  const rows = Array.from({ length: blocks }, () => store.block(jobsPerBlock));
  const seen = (name: keyof Rates): Seen => {
    const values = rows.map((row) => row[name]);
    const mean = values.reduce((a, b) => a + b, 0) / blocks;
    const variance = values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (blocks - 1);
    return { mean, error: Math.sqrt(variance / blocks) };
  };
  return {
    fill: seen('fill'),
    ready: seen('ready'),
    shortage: seen('shortage'),
    onHand: seen('onHand'),
    wait: seen('wait'),
    orders: seen('orders'),
    inTime: seen('inTime'),
  };
}

function openStore({ jobs, sizes, lead, point, quantity, review, seed, within = 0 }: StoreRun): {
  block: (count: number) => Rates;
} {
  const random = randomStream(seed, 'store');
  let now = 0;
  let shelf = Math.max(0, point + quantity);
  let position = point + quantity;
  let nextReview = review > 0 ? review : Infinity;
  const waiting: number[] = [];
  let served = 0;
  for (let k = 0; k < -(point + quantity); k++) waiting.push(0);
  const coming: { moment: number; pieces: number }[] = [];
  let tally = emptyTally();

  const owed = (): number => waiting.length - served;
  function passTo(moment: number): void {
    const span = moment - now;
    tally.time += span;
    tally.ready += owed() === 0 ? span : 0;
    tally.shortage += owed() * span;
    tally.onHand += shelf * span;
    now = moment;
  }
  function order(): void {
    if (position > point) return;
    const lots = Math.ceil((point + 1 - position) / quantity);
    position += lots * quantity;
    tally.orders += 1;
    coming.push({ moment: now + lead, pieces: lots * quantity });
    if (lead === 0) receive();
  }
  function receive(): void {
    while (coming.length > 0 && itemAt(coming, 0).moment <= now) {
      let { pieces } = coming.shift() as { moment: number; pieces: number };
      for (; pieces > 0 && owed() > 0; pieces--) {
        const wait = now - itemAt(waiting, served);
        tally.waited += wait;
        if (wait <= within) tally.soon += 1;
        served += 1;
      }
      shelf += pieces;
    }
    if (served > 10_000) served -= waiting.splice(0, served).length;
  }
  function advance(until: number): void {
    for (;;) {
      const arrival = coming[0]?.moment ?? Infinity;
      const next = Math.min(arrival, nextReview);
      if (next > until) break;
      passTo(next);
      if (arrival <= nextReview) receive();
      else {
        nextReview += review;
        order();
      }
    }
    passTo(until);
  }
  function ask(pieces: number): void {
    const taken = Math.min(shelf, pieces);
    shelf -= taken;
    for (let k = taken; k < pieces; k++) waiting.push(now);
    position -= pieces;
    tally.asked += pieces;
    tally.filled += taken;
  }
  return {
    block: (count) => {
      tally = emptyTally();
      for (let job = 0; job < count; job++) {
        advance(now - Math.log(random.uniform()) / jobs);
        ask(sizeOf(random.uniform(), sizes));
        if (review === 0) order();
      }
      return {
        fill: tally.filled / tally.asked,
        ready: tally.ready / tally.time,
        shortage: tally.shortage / tally.time,
        onHand: tally.onHand / tally.time,
        wait: tally.waited / tally.asked,
        orders: tally.orders / tally.time,
        inTime: (tally.filled + tally.soon) / tally.asked,
      };
    },
  };
}

function emptyTally() {
  return { time: 0, ready: 0, shortage: 0, onHand: 0, asked: 0, filled: 0, waited: 0, orders: 0, soon: 0 };
}

function sizeOf(u: number, sizes: readonly number[]): number {
  let left = u;
  for (let v = 0; v < sizes.length; v++) {
    left -= itemAt(sizes, v);
    if (left < 0) return v;
  }
  return sizes.length - 1;
}
