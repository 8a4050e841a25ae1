/** Draws of amounts whose settings are known only as low, likely and high. */
import type { Spread } from '../fleet/types.js';
import { floatAt } from '../numeric/columns.js';
import type { RandomStream } from '../numeric/random.js';
import type { Amount } from './amount.js';
import { spreadQuantile } from './spread.js';

/** Gives the draws of an amount; draw d belongs together over all amounts of one drawer. */
export type AmountDrawer = (amount: Amount) => Float64Array;

/**
 * Draws `count` values of any amount. A setting takes one rank in all amounts within a draw, since a labour rate or a
 * batch value that is high is high for the whole plant; settings are independent of each other. Draws lie between the
 * low and high ends of the amount and have its mean.
 */
export function amountDrawer(count: number, random: RandomStream): AmountDrawer {
  const settings = new Map<string, DrawnSetting>();
  const valuesOf = (setting: string, spread: Spread): Float64Array => {
    const known = settings.get(setting) ?? drawSetting(count, random.fork(setting));
    settings.set(setting, known);
    const values = known.values.get(spread) ?? known.ranks.map((rank) => spreadQuantile(spread, rank));
    known.values.set(spread, values);
    return values;
  };
  return ({ terms }) => {
    const total = new Float64Array(count);
    for (const { times, of } of terms) {
      const factors = of.map(({ setting, spread }) => valuesOf(setting, spread));
      for (let d = 0; d < count; d++) {
        let product = times;
        for (const factor of factors) product *= floatAt(factor, d);
        total[d] = floatAt(total, d) + product;
      }
    }
    return total;
  };
}

/** A setting's ranks, and its values for each of its spreads (one per line, say). */
interface DrawnSetting {
  ranks: Float64Array;
  values: Map<Spread, Float64Array>;
}

function drawSetting(count: number, stream: RandomStream): DrawnSetting {
  return { ranks: Float64Array.from({ length: count }, () => stream.uniform()), values: new Map() };
}
