/**
 * Amounts made from settings: sums of products, such as hours times a rate. Settings are independent of each other, so
 * that the mean of a product is the product of the means; (low + likely + high) / 3 of the ends would be far too much
 * (0.01 / 0.05 / 0.2 times 50 000 / 100 000 / 500 000 is 18 778 on average, not 35 167). An amount therefore keeps the
 * settings that it is made from: its mean follows from theirs, and a draw of it from draws of theirs.
 */
import type { Spread } from '../fleet/types.js';
import { meanOf } from './spread.js';

/** One setting as a factor. Factors of one setting (a rate per line) are high or low together. */
interface Factor {
  setting: string;
  spread: Spread;
}

/** A product of settings and a number that is not negative. */
interface Term {
  times: number;
  of: readonly Factor[];
}

/** Low, likely and high go end by end; `mean` is that of independent settings. */
export interface Amount extends Spread {
  mean: number;
  terms: readonly Term[];
}

/** A setting as the plant gives it; nothing where it is not given. */
export function fromSetting(setting: string, spread: Spread | null): Amount {
  return spread === null ? exactly(0) : amountOf([{ times: 1, of: [{ setting, spread }] }]);
}

/** An amount known exactly. */
export function exactly(times: number): Amount {
  return amountOf(times === 0 ? [] : [{ times, of: [] }]);
}

export function addAmounts(...parts: readonly Amount[]): Amount {
  return amountOf(parts.flatMap(({ terms }) => terms));
}

/** Amount times a number that is not negative. */
export function scaleAmount({ terms }: Amount, factor: number): Amount {
  return factor === 0 ? exactly(0) : amountOf(terms.map(({ times, of }) => ({ times: times * factor, of })));
}

/** Product of two amounts that have no setting in common. */
export function multiplyAmounts(a: Amount, b: Amount): Amount {
  return amountOf(
    a.terms.flatMap((one) =>
      b.terms.map((two) => ({ times: one.times * two.times, of: [...one.of, ...two.of] })),
    ),
  );
}

/** The amount with every setting at the value that is chosen for it: low, high, mean ... */
export function valueAt(
  { terms }: Pick<Amount, 'terms'>,
  choose: (setting: string, spread: Spread) => number,
): number {
  return terms.reduce(
    (sum, { times, of }) =>
      sum + of.reduce((product, { setting, spread }) => product * choose(setting, spread), times),
    0,
  );
}

/** The part of an amount that a setting has no hand in, and the rest with that setting at its mean in every draw. */
export function apartBy({ terms }: Amount, setting: string): { without: Amount; withMean: Amount } {
  const isHeld = (factor: Factor): boolean => factor.setting === setting;
  const held = terms
    .filter(({ of }) => of.some(isHeld))
    .map(({ times, of }) => ({
      times: of.filter(isHeld).reduce((product, { spread }) => product * meanOf(spread), times),
      of: of.filter((factor) => !isHeld(factor)),
    }));
  return { without: amountOf(terms.filter(({ of }) => !of.some(isHeld))), withMean: amountOf(held) };
}

function amountOf(terms: readonly Term[]): Amount {
  const sumOf = (value: (spread: Spread) => number): number =>
    valueAt({ terms }, (_setting, spread) => value(spread));
  return {
    low: sumOf(({ low }) => low),
    likely: sumOf(({ likely }) => likely),
    high: sumOf(({ high }) => high),
    mean: sumOf(meanOf),
    terms,
  };
}
