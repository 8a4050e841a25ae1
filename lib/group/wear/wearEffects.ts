/** How life goes with use in each material: a regression on what its leaks can carry, entered in a fixed order. */
import type { Fleet } from '../../fleet/types.js';
import { fitRegression } from '../../life/estimate/regression/fitRegression.js';
import { relativeLife } from '../../life/estimate/regression/relativeLife.js';
import type { Covariates, CovariateValues, RegressionFit } from '../../life/estimate/regression/types.js';
import type { LifeSample } from '../../life/sampleTypes.js';
import { at, columnOf, floatAt, itemAt, sum, wholeAt } from '../../numeric/columns.js';
import { randomStream } from '../../numeric/random.js';
import { count, listed } from '../../numeric/words.js';
import type { GroupedFleet } from '../types.js';
import { effectText, enteredOrder } from './effectWords.js';
import { WEAR_COUNTERS, type WearCounter, type WearEffect, type WearEffects } from './types.js';
import type { UsedLives } from './usedLives.js';
import { type UseRates, useRates } from './useRates.js';
import { FEWEST_LEAKS } from './wearClocks.js';
import { type WearLives, wearLives } from './wearLives.js';

const MOST_LIVES = 6000;
const LEAKS_PER_COEFFICIENT = 5;
const LEVEL = 0.9;
/** Rates whose logs (or the logs of whose ratio) differ less than this between lives tell nothing (METHODS 3.2). */
const LEAST_SPREAD = 0.15;

/** A covariate that may be entered, with the coefficients that it takes. */
interface Candidate {
  name: string;
  column: Float64Array | string[];
  coefficients: number;
  alongWith: string[];
}

/** One table a material that has leaks enough and something to compare. */
export function wearEffects(
  fleet: Fleet,
  { followed, groups }: GroupedFleet,
  exposed: UsedLives,
  seed: number,
): WearEffects[] {
  const rates = useRates(fleet, exposed);
  const materials = [...new Set(groups.map(({ material }) => material))];
  return materials.flatMap((material) => {
    const rows: number[] = [];
    followed.group.forEach((g, i) => {
      if (itemAt(groups, g).material === material) rows.push(i);
    });
    const random = randomStream(seed, `wear/use of ${material}`);
    const lives = wearLives(fleet, followed, rows, MOST_LIVES, random);
    if (lives.leaks < FEWEST_LEAKS) return [];
    return [effectsOf(material, fleet, followed, lives, rates)];
  });
}

function effectsOf(
  material: string,
  fleet: Fleet,
  followed: GroupedFleet['followed'],
  lives: WearLives,
  rates: UseRates,
): WearEffects {
  const leftOut: string[] = [];
  const { sample, rows } = withLeaks(fleet, followed, lives, leftOut);
  const leaks = rows.reduce((total, i) => total + at(followed.leak, i), 0);
  const carried = Math.floor(leaks / LEAKS_PER_COEFFICIENT);
  const entered = enter(candidates(fleet, followed, rows, rates, leftOut), carried, leaks, leftOut);
  const fit = fitOrNull(sample, rows, entered, leftOut);
  return {
    material,
    lives: sum(sample.count),
    leaks,
    carried,
    effects: fit === null ? [] : entered.flatMap((each) => effectOf(fit, each)),
    leftOut,
    level: LEVEL,
  };
}

/** Lives of duties in which something leaked: of the others nothing is known but that they last. */
function withLeaks(
  fleet: Fleet,
  followed: GroupedFleet['followed'],
  { rows, days }: WearLives,
  leftOut: string[],
): { sample: LifeSample; rows: number[] } {
  const leaked = new Set<string>();
  const duties = new Set<string>();
  for (const i of rows) {
    const duty = dutyAt(fleet, followed, i);
    duties.add(duty);
    if (at(followed.leak, i) === 1) leaked.add(duty);
  }
  const without = [...duties].filter((duty) => !leaked.has(duty));
  if (without.length > 0) {
    leftOut.push(`No leak is on record in ${listed(without.map(dutyName), 5)}: its lives are left out.`);
  }
  const places = Array.from(rows.keys()).filter((k) => leaked.has(dutyAt(fleet, followed, wholeAt(rows, k))));
  const pick = (column: Float64Array): Float64Array => columnOf(places, (k) => floatAt(column, k));
  return {
    rows: places.map((k) => wholeAt(rows, k)),
    sample: {
      lower: pick(days.lower),
      upper: pick(days.upper),
      entry: pick(days.entry),
      count: pick(days.count),
      cluster: Int32Array.from(places, (k) => wholeAt(days.cluster, k)),
    },
  };
}

function positionAt(fleet: Fleet, { life }: GroupedFleet['followed'], i: number): number {
  return wholeAt(fleet.lives.position, wholeAt(life, i));
}

function dutyAt(fleet: Fleet, followed: GroupedFleet['followed'], i: number): string {
  return itemAt(fleet.positions, positionAt(fleet, followed, i)).duty;
}

function dutyName(duty: string): string {
  return duty === '' ? 'duty not given' : duty;
}

/** In the order in which they are entered: duty, size, steam cycles, hot cleans, strokes. */
function candidates(
  fleet: Fleet,
  followed: GroupedFleet['followed'],
  rows: readonly number[],
  rates: UseRates,
  leftOut: string[],
): Candidate[] {
  const duties = rows.map((i) => dutyName(dutyAt(fleet, followed, i)));
  const levels = new Set(duties).size;
  const size = columnOf(rows, (i) => Math.log(floatAt(fleet.lives.size, wholeAt(followed.life, i)) / 25));
  const sizes = new Set(size).size;
  return [
    ...(levels > 1 ? [{ name: 'duty', column: duties, coefficients: levels - 1, alongWith: [] }] : []),
    ...(sizes > 1 ? [{ name: 'size', column: size, coefficients: 1, alongWith: [] }] : []),
    ...rateCandidates(fleet, followed, rows, rates, duties, leftOut),
  ];
}

/**
 * Logs of counts a day, less their mean in the duty: what is asked is what more use does to valves of one duty, since duties differ in
 * more than use. Where a duty does without a counter, or a position's rate is not known, the column is 0.
 */
function rateCandidates(
  fleet: Fleet,
  followed: GroupedFleet['followed'],
  rows: readonly number[],
  rates: UseRates,
  duties: readonly string[],
  leftOut: string[],
): Candidate[] {
  const found: Candidate[] = [];
  const basis: Float64Array[] = [];
  for (const counter of WEAR_COUNTERS) {
    const log = columnOf(rows, (i) => Math.log(floatAt(rates[counter], positionAt(fleet, followed, i))));
    if (!log.some(Number.isFinite)) continue;
    const column = lessMeans(log, duties);
    if (spreadOf(column, log) < LEAST_SPREAD) {
      leftOut.push(
        `All positions of a duty make nearly the same ${counter}: what more of them does cannot be seen.`,
      );
      continue;
    }
    const own = residual(column, basis);
    if (spreadOf(own, log) >= LEAST_SPREAD) {
      found.push({ name: counter, column, coefficients: 1, alongWith: [] });
      basis.push(own);
    } else closest(found, column)?.alongWith.push(counter);
  }
  return found;
}

function lessMeans(log: Float64Array, duties: readonly string[]): Float64Array {
  const sums = new Map<string, { total: number; n: number }>();
  log.forEach((x, k) => {
    if (!Number.isFinite(x)) return;
    const one = sums.get(itemAt(duties, k)) ?? { total: 0, n: 0 };
    one.total += x;
    one.n += 1;
    sums.set(itemAt(duties, k), one);
  });
  return columnOf(log, (x, k) => {
    const one = sums.get(itemAt(duties, k));
    return Number.isFinite(x) && one !== undefined ? x - one.total / one.n : 0;
  });
}

/** Standard deviation over the rows whose rate is known and not 0; the column has mean 0 there. */
function spreadOf(column: Float64Array, log: Float64Array): number {
  let [squares, n] = [0, 0];
  for (let k = 0; k < log.length; k++) {
    if (!Number.isFinite(floatAt(log, k))) continue;
    squares += floatAt(column, k) ** 2;
    n += 1;
  }
  return n < 2 ? 0 : Math.sqrt(squares / (n - 1));
}

/** What of a column the earlier ones do not tell: they are at right angles to each other (Gram-Schmidt). */
function residual(column: Float64Array, basis: readonly Float64Array[]): Float64Array {
  const left = column.slice();
  for (const other of basis) {
    const share = dot(other, left) / dot(other, other);
    for (let k = 0; k < left.length; k++) left[k] = floatAt(left, k) - share * floatAt(other, k);
  }
  return left;
}

function dot(a: Float64Array, b: Float64Array): number {
  let total = 0;
  for (let k = 0; k < a.length; k++) total += floatAt(a, k) * floatAt(b, k);
  return total;
}

/** The one entered before that a column goes with most. */
function closest(found: readonly Candidate[], column: Float64Array): Candidate | undefined {
  const nearness = ({ column: other }: Candidate): number =>
    dot(other as Float64Array, column) ** 2 / dot(other as Float64Array, other as Float64Array);
  return [...found].sort((a, b) => nearness(b) - nearness(a))[0];
}

/** As many as the leaks carry, in their order; one that asks for too many is passed over, and the next may still fit. */
function enter(wanted: readonly Candidate[], carried: number, leaks: number, leftOut: string[]): Candidate[] {
  const entered: Candidate[] = [];
  let used = 0;
  for (const candidate of wanted) {
    if (used + candidate.coefficients <= carried) {
      entered.push(candidate);
      used += candidate.coefficients;
      continue;
    }
    leftOut.push(
      `${candidate.name} is left out: ${count(leaks, 'leak carries', 'leaks carry')} ${count(carried, 'coefficient')}, and ${enteredOrder(wanted)} are entered in that order, whatever comes out.`,
    );
  }
  return entered;
}

/** The last entered is taken out until the rest can be told apart. */
function fitOrNull(
  sample: LifeSample,
  rows: readonly number[],
  entered: Candidate[],
  leftOut: string[],
): RegressionFit | null {
  while (entered.length > 0 && rows.length > 0) {
    const covariates: Covariates = Object.fromEntries(entered.map(({ name, column }) => [name, column]));
    try {
      return fitRegression(sample, covariates, {
        kind: 'weibull',
        failuresPerCoefficient: LEAKS_PER_COEFFICIENT,
        reference: mostCommon(entered, sample.count),
      });
    } catch (cause) {
      if (!(cause instanceof Error && cause.name === 'UsageError')) throw cause;
      const last = entered.pop() as Candidate;
      leftOut.push(`${last.name} is left out: these lives cannot tell it from the rest.`);
    }
  }
  return null;
}

/** Duties are compared with the one that has most lives. */
function mostCommon(entered: readonly Candidate[], count: Float64Array): Record<string, string> {
  const duty = entered.find(({ name }) => name === 'duty');
  if (duty === undefined) return {};
  const numbers = new Map<string, number>();
  (duty.column as string[]).forEach((name, k) => {
    numbers.set(name, (numbers.get(name) ?? 0) + floatAt(count, k));
  });
  const [first] = [...numbers].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
  return { duty: (first as [string, number])[0] };
}

function effectOf(fit: RegressionFit, { name, alongWith }: Candidate): WearEffect[] {
  const between = (from: CovariateValues, to: CovariateValues, compared: string): WearEffect => {
    const { estimate, low, high } = relativeLife(fit, from, to, { level: LEVEL });
    const ratio = { estimate, low, high };
    const clear = low > 1 || high < 1;
    return {
      covariate: name,
      alongWith,
      compared,
      ratio,
      clear,
      text: effectText(compared, ratio, alongWith),
    };
  };
  if (name !== 'duty') {
    const compared = name === 'size' ? 'twice the size' : `twice the ${name as WearCounter}`;
    return [between({ [name]: 0 }, { [name]: Math.LN2 }, compared)];
  }
  const term = fit.design.terms.find((each) => each.name === 'duty');
  const [reference = '', ...others] = term?.kind === 'levels' ? term.levels : [];
  return others.map((duty) => between({ duty: reference }, { duty }, `${duty} instead of ${reference}`));
}
