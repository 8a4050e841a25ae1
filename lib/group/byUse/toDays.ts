/** A group told on a clock, in days of one use. */
import type { LifeSample } from '../../life/sampleTypes.js';
import { floatAt } from '../../numeric/columns.js';
import type { Drawn, Group } from '../types.js';

/** As many diaphragms must have been in place so long for an age in days not to be beyond what was seen. */
const AT_RISK = 5;

/**
 * The group with every age of wear-out times `pace`: what a day of its own ages lasts at this use. `reach` caps the supported age: that a
 * counter alone wears them was seen up to that many days in place and not beyond.
 */
export function inDaysOf(group: Group, pace: number, reach: number | null): Group {
  const { model, bounds, b10, planned, draws, records, unknown, supportedAge } = group;
  const scaled = (column: Float64Array): Float64Array => column.map((age) => age * pace);
  const drawn = ({ low, median, high }: Drawn): Drawn => ({
    low: low * pace,
    median: median * pace,
    high: high * pace,
  });
  const sample = (own: LifeSample): LifeSample => ({
    ...own,
    lower: scaled(own.lower),
    upper: scaled(own.upper),
    entry: scaled(own.entry),
  });
  return {
    ...group,
    sample: sample(group.sample),
    records:
      records === null
        ? null
        : { ...records, sample: sample(records.sample), closing: scaled(records.closing) },
    model: { ...model, scale: model.scale * pace },
    bounds: { ...bounds, scale: [bounds.scale[0] * pace, bounds.scale[1] * pace] },
    b10: [b10[0] * pace, b10[1] * pace, b10[2] * pace],
    planned: { shape: planned.shape, scale: drawn(planned.scale), b10: drawn(planned.b10) },
    draws: { ...draws, scale: scaled(draws.scale) },
    supportedAge: supportedAge === null ? null : Math.min(supportedAge * pace, reach ?? Infinity),
    unknown:
      unknown === null
        ? null
        : {
            ...unknown,
            b10: unknown.b10.map((age) => (age === null ? null : age * pace)),
            rows: unknown.rows.map((row) => ({ ...row, effect: row.effect * pace })),
          },
  };
}

/** Oldest age in days that five lives or more reached; null where fewer are on record. */
export function reachInDays({ lower, upper, count }: LifeSample): number | null {
  const ends = Array.from(lower, (age, i): [number, number] => {
    const end = floatAt(upper, i);
    return [end === Infinity ? age : end, floatAt(count, i)];
  }).sort(([a], [b]) => b - a);
  let reached = 0;
  for (const [age, lives] of ends) {
    reached += lives;
    if (reached >= AT_RISK - 1e-9) return age;
  }
  return null;
}
