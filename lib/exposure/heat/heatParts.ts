/** What heats the diaphragm of each position: steam, hot cleans, and what runs through it the rest of the time. */
import type { PositionHeat } from '../../fleet/heat/types.js';
import type { Position } from '../../fleet/types.js';
import { columnOf } from '../../numeric/columns.js';
import type { CounterName } from '../exposureTypes.js';

export const HEAT_PARTS = ['steam', 'hot cleans', 'service'] as const;
export type HeatPartName = (typeof HEAT_PARTS)[number];

/** One of them, with a value for each position; NaN where positions.csv does not say it. */
export interface HeatPart {
  name: HeatPartName;
  /** Null: days in use. */
  counter: CounterName | null;
  celsius: Float64Array;
  /** Hours at that temperature for each count: its hold, or 24 for a day in use. */
  hoursPerCount: Float64Array;
  /** The columns of positions.csv that give it. */
  columns: string;
}

const HOURS_PER_DAY = 24;
const NOT_GIVEN: PositionHeat = {
  steamCelsius: null,
  steamHoldMinutes: null,
  hotCleanCelsius: null,
  hotCleanHoldMinutes: null,
  serviceCelsius: null,
};

/** Those that any position gives; none where no position gives a temperature or a hold. */
export function heatParts(positions: readonly Pick<Position, 'heat'>[]): HeatPart[] {
  if (positions.every(({ heat }) => heat === undefined)) return [];
  const read = (value: (heat: PositionHeat) => number | null): Float64Array =>
    columnOf(positions, ({ heat }) => value(heat ?? NOT_GIVEN) ?? Number.NaN);
  const hours = (minutes: Float64Array): Float64Array => minutes.map((each) => each / 60);
  const all: HeatPart[] = [
    {
      name: 'steam',
      counter: 'steamCycles',
      celsius: read(({ steamCelsius }) => steamCelsius),
      hoursPerCount: hours(read(({ steamHoldMinutes }) => steamHoldMinutes)),
      columns: 'steam_temperature_c or steam_hold_minutes',
    },
    {
      name: 'hot cleans',
      counter: 'hotCleans',
      celsius: read(({ hotCleanCelsius }) => hotCleanCelsius),
      hoursPerCount: hours(read(({ hotCleanHoldMinutes }) => hotCleanHoldMinutes)),
      columns: 'hot_clean_temperature_c or hot_clean_hold_minutes',
    },
    {
      name: 'service',
      counter: null,
      celsius: read(({ serviceCelsius }) => serviceCelsius),
      hoursPerCount: new Float64Array(positions.length).fill(HOURS_PER_DAY),
      columns: 'service_temperature_c',
    },
  ];
  return all.filter(
    ({ counter, celsius, hoursPerCount }) =>
      celsius.some((each) => !Number.isNaN(each)) ||
      (counter !== null && hoursPerCount.some((each) => !Number.isNaN(each))),
  );
}
