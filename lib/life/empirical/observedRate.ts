/** Failures per time at risk by age: the hazard without a model. */
import { UsageError } from '../../errors.js';
import { at, floatAt } from '../../numeric/columns.js';
import { chiSquareQuantile } from '../../numeric/special.js';
import type { LifeSample } from '../sampleTypes.js';

/** One row per span of age with time at risk. Rates are per unit of age. */
export interface ObservedRate {
  from: number;
  to: number;
  failures: number;
  /** Time that lives were watched in the span, added up. */
  atRisk: number;
  rate: number;
  /** Two-sided bounds of the rate, taken as constant within the span. */
  low: number;
  high: number;
}

/**
 * Occurrences over exposure in spans of age (edges[i], edges[i + 1]], delayed entry and weights included, with the exact bounds of a Poisson
 * count (Garwood 1936, from memory), 90 % by default. Use it to hold a fitted hazard against the records; where a span has few failures
 * its bounds say so. Throws UsageError for interval rows and for edges that do not rise from 0 or above.
 */
export function observedRate(
  sample: LifeSample,
  edges: readonly number[],
  { level = 0.9 }: { level?: number } = {},
): ObservedRate[] {
  check(sample, edges, level);
  return edges
    .slice(0, -1)
    .map((from, i) => spanRate(sample, from, at(edges, i + 1), level))
    .filter(({ atRisk }) => atRisk > 0);
}

function check({ lower, upper }: LifeSample, edges: readonly number[], level: number): void {
  const rising = edges.every((edge, i) => edge >= 0 && (i === 0 || edge > at(edges, i - 1)));
  if (edges.length < 2 || !rising) {
    throw new UsageError('observedRate', 'edges must rise from 0 or above, two at least.', edges);
  }
  if (!(level > 0 && level < 1))
    throw new UsageError('observedRate', 'level must be between 0 and 1.', level);
  const interval = lower.findIndex((age, i) => floatAt(upper, i) !== Infinity && floatAt(upper, i) !== age);
  if (interval >= 0) {
    throw new UsageError('observedRate', 'rows must be exact or still sound.', `row ${interval + 1}`);
  }
}

function spanRate(sample: LifeSample, from: number, to: number, level: number): ObservedRate {
  const { lower, upper, entry, count } = sample;
  let [failures, atRisk] = [0, 0];
  for (let i = 0; i < lower.length; i++) {
    const [end, weight] = [floatAt(lower, i), floatAt(count, i)];
    const watched = Math.min(end, to) - Math.max(floatAt(entry, i), from);
    if (watched > 0) atRisk += weight * watched;
    if (floatAt(upper, i) !== Infinity && end > from && end <= to) failures += weight;
  }
  const tail = (1 - level) / 2;
  const low = failures > 0 ? chiSquareQuantile(tail, 2 * failures) / 2 : 0;
  const high = chiSquareQuantile(1 - tail, 2 * failures + 2) / 2;
  return { from, to, failures, atRisk, rate: failures / atRisk, low: low / atRisk, high: high / atRisk };
}
