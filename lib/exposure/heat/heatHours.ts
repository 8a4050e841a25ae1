/** Hours that each life has spent at each of its temperatures. */
import { columnOf, floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { type ExposedFleet, type ExposedLives, type LifeExposure, spansOfLives } from '../exposeLives.js';
import type { DaySpans } from '../exposeSpans.js';
import { MEASURED, UNKNOWN } from '../exposureTypes.js';
import { type UseCalendar, useCalendar, useDay } from '../useDays.js';
import type { HeatPart } from './heatParts.js';

/** What is known of a count over lives, as of any counter. */
export type LifeAmount = Pick<LifeExposure, 'exposure' | 'byRate' | 'mark' | 'toEntry' | 'toLastTight'>;

/** Hours of one part, rows as in `Fleet.lives`; NaN where not known. A part that a position does without has 0 hours there. */
export interface PartHours extends LifeAmount {
  part: HeatPart;
  /** Positions (index) that are used so and whose temperature or hold is not given. */
  missing: Set<number>;
}

/** Counts times hold, and days in use times 24. Heating up and cooling down are left out. */
export function heatHours(
  fleet: Pick<ExposedFleet, 'positions' | 'lives' | 'site'>,
  exposed: ExposedLives,
  parts: readonly HeatPart[],
): PartHours[] {
  return parts.map((part) => {
    const counts = part.counter === null ? daysInUse(fleet) : exposed[part.counter];
    return hoursOf(fleet.lives.position, part, counts);
  });
}

function hoursOf(position: Int32Array, part: HeatPart, counts: LifeAmount): PartHours {
  const missing = new Set<number>();
  const scale = columnOf(counts.exposure, (count, life) => {
    const p = wholeAt(position, life);
    const [hours, celsius] = [floatAt(part.hoursPerCount, p), floatAt(part.celsius, p)];
    const isGiven = !Number.isNaN(hours) && !Number.isNaN(celsius);
    if (isGiven) return hours;
    if (count > 0) missing.add(p);
    // Not used so, as far as anybody says: neither counts nor a temperature.
    return count === 0 || (Number.isNaN(count) && Number.isNaN(celsius)) ? 0 : Number.NaN;
  });
  const hours = (column: Float64Array): Float64Array =>
    columnOf(column, (count, life) => (floatAt(scale, life) === 0 ? 0 : count * floatAt(scale, life)));
  return {
    part,
    missing,
    exposure: hours(counts.exposure),
    byRate: hours(counts.byRate),
    toEntry: hours(counts.toEntry),
    toLastTight: hours(counts.toLastTight),
    mark: counts.mark.map((mark, life) => (floatAt(scale, life) === 0 ? MEASURED : mark)),
  };
}

/** Days without those on which a position is idle. */
function daysInUse(fleet: Pick<ExposedFleet, 'positions' | 'lives' | 'site'>): LifeAmount {
  const calendars: (UseCalendar | null)[] = fleet.positions.map(useCalendar);
  const { whole, toEntry, toLastTight } = spansOfLives(fleet);
  const days = ({ position, from, to }: DaySpans): Float64Array =>
    columnOf(from, (start, life) => {
      const end = floatAt(to, life);
      if (Number.isNaN(start) || Number.isNaN(end)) return Number.NaN;
      const calendar = itemAt(calendars, wholeAt(position, life));
      return useDay(calendar, end) - useDay(calendar, start);
    });
  const exposure = days(whole);
  return {
    exposure,
    byRate: new Float64Array(exposure.length),
    toEntry: days(toEntry),
    toLastTight: days(toLastTight),
    mark: Uint8Array.from(exposure, (each) => (Number.isNaN(each) ? UNKNOWN : MEASURED)),
  };
}
