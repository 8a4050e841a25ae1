/** How often plants of the same positions, drawn again, choose each clock. */

import { valuesOnScale } from '../../life/estimate/regression/ageScale.js';
import type { LifeSample } from '../../life/sampleTypes.js';
import { at, columnOf, floatAt, itemAt } from '../../numeric/columns.js';
import type { RandomStream } from '../../numeric/random.js';
import { type Clock, type ClockMaximum, fitClock } from './fitClock.js';
import { pickClock } from './pickClock.js';

/** Share of `draws` resampled plants that chose each clock; plants in which none can be fitted choose none. */
export function resampledClocks(
  sample: LifeSample,
  clocks: readonly Clock[],
  tops: readonly (ClockMaximum | null)[],
  draws: number,
  random: RandomStream,
): Float64Array {
  const units = unitsOf(sample);
  const count = new Float64Array(sample.lower.length);
  return chosenShares(clocks, draws, () => {
    drawPlant(units, random, count);
    return clocks.map((clock, k) =>
      aicOf(fitClock(clock, count, [itemAt(tops, k)?.theta ?? middleStart(clock)])),
    );
  });
}

/**
 * The same without fitting again: the likelihood of each position under the laws that were fitted to all is what is drawn (Kishino &
 * Hasegawa 1989, from memory). A clock that was not fitted is chosen by none. Costs additions where fitting again costs fits.
 */
export function reweighedClocks(
  sample: LifeSample,
  clocks: readonly Clock[],
  tops: readonly (ClockMaximum | null)[],
  draws: number,
  random: RandomStream,
): Float64Array {
  const units = unitsOf(sample);
  const values = clocks.map((clock, k) => unitValues(clock, itemAt(tops, k), units));
  const drawn = new Float64Array(units.until.length);
  return chosenShares(clocks, draws, () => {
    drawn.fill(0);
    drawUnits(units, random, (unit) => {
      drawn[unit] = floatAt(drawn, unit) + 1;
    });
    return values.map((own, k) => {
      if (own === null) return Infinity;
      let value = 0;
      for (let unit = 0; unit < own.length; unit++) value += floatAt(drawn, unit) * floatAt(own, unit);
      return 2 * (itemAt(tops, k)?.parameters ?? 0) - 2 * value;
    });
  });
}

/** Share of draws in which each clock is picked; `draw` gives the AIC of each, and where all are Infinity none is picked. */
function chosenShares(clocks: readonly Clock[], draws: number, draw: () => number[]): Float64Array {
  const chosen = new Float64Array(clocks.length);
  for (let n = 0; n < draws; n++) {
    const aics = draw();
    if (aics.every((aic) => aic === Infinity)) continue;
    const best = pickClock(clocks.map(({ parts }, k) => ({ parts, aic: at(aics, k) })));
    chosen[best] = floatAt(chosen, best) + 1;
  }
  return chosen.map((n) => n / draws);
}

function middleStart({ starts }: Clock): number[] {
  const all = starts();
  return itemAt(all, all.length >> 1);
}

/** How much each position (or life of its own, with a code below 0) adds to the lead of one clock over another, in AIC. */
export function leadByPosition(
  sample: LifeSample,
  [one, top]: readonly [Clock, ClockMaximum],
  [other, otherTop]: readonly [Clock, ClockMaximum],
): LeadPart[] {
  const units = unitsOf(sample);
  const own = unitValues(one, top, units) ?? new Float64Array(0);
  const its = unitValues(other, otherTop, units) ?? new Float64Array(0);
  return units.rows.map((rows, u) => ({
    cluster: at(sample.cluster, itemAt(rows, 0)),
    lead: 2 * (floatAt(own, u) - floatAt(its, u)),
  }));
}

/** Log-likelihood that each unit brings each time it is drawn; null without a fit. */
function unitValues(clock: Clock, top: ClockMaximum | null, { rows, lives }: Units): Float64Array | null {
  if (top === null) return null;
  const each = top.each ?? valuesOnScale(clock.problem, top.theta);
  return columnOf(rows, (members) =>
    members.reduce((total, i) => total + floatAt(lives, i) * floatAt(each, i), 0),
  );
}

/** Infinity without a fit. */
export function aicOf(fit: ClockMaximum | null): number {
  return fit === null ? Infinity : 2 * fit.parameters - 2 * fit.value;
}

/** A position and what it adds to a lead. */
export interface LeadPart {
  cluster: number;
  lead: number;
}

interface Units {
  /** Rows that are drawn together. */
  rows: number[][];
  /** How many units there are up to and with this one. */
  until: Float64Array;
  /** Lives that a row brings each time it is drawn. */
  lives: Float64Array;
}

/** A position is drawn as a whole; a row of lives apart from each other is as many units as it has lives. */
function unitsOf({ cluster, count }: LifeSample): Units {
  const rows: number[][] = [];
  const until: number[] = [];
  const place = new Map<number, number>();
  let total = 0;
  for (let i = 0; i < cluster.length; i++) {
    const code = at(cluster, i);
    const known = code < 0 ? undefined : place.get(code);
    if (known !== undefined) {
      itemAt(rows, known).push(i);
      continue;
    }
    if (code >= 0) place.set(code, rows.length);
    rows.push([i]);
    total += code < 0 ? floatAt(count, i) : 1;
    until.push(total);
  }
  const lives = columnOf(count, (n, i) => (at(cluster, i) < 0 ? 1 : n));
  return { rows, until: Float64Array.from(until), lives };
}

function drawPlant(units: Units, random: RandomStream, count: Float64Array): void {
  const { rows, lives } = units;
  count.fill(0);
  drawUnits(units, random, (unit) => {
    for (const i of itemAt(rows, unit)) count[i] = floatAt(count, i) + floatAt(lives, i);
  });
}

/** As many units as there are, each drawn with the same chance. */
function drawUnits({ until }: Units, random: RandomStream, onUnit: (unit: number) => void): void {
  const total = floatAt(until, until.length - 1);
  for (let n = 0; n < total; n++) onUnit(placeOf(until, random.uniform() * total));
}

/** The first unit whose sum lies above x. */
function placeOf(until: Float64Array, x: number): number {
  let [low, high] = [0, until.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (floatAt(until, middle) > x) high = middle;
    else low = middle + 1;
  }
  return low;
}
