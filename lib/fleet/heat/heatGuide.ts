/** The columns of positions.csv that say how hot a diaphragm gets: a part of the guide of columns. */
import type { ColumnGuide } from '../columnGuide.js';

export const HEAT_GUIDE = {
  steam_temperature_c: {
    meaning: 'temperature of a steam cycle while it is held',
    unit: 'degrees C',
    example: '121',
  },
  steam_hold_minutes: {
    meaning: 'how long a steam cycle is held at its temperature',
    unit: 'minutes',
    example: '30',
  },
  hot_clean_temperature_c: {
    meaning: 'temperature of a hot clean while it is held',
    unit: 'degrees C',
    example: '80',
  },
  hot_clean_hold_minutes: {
    meaning: 'how long a hot clean is held at its temperature',
    unit: 'minutes',
    example: '20',
  },
  service_temperature_c: {
    meaning: 'of what runs through the valve the rest of the time, as a mean',
    unit: 'degrees C',
    example: '37',
  },
} as const satisfies Readonly<Record<string, ColumnGuide>>;

export type HeatColumn = keyof typeof HEAT_GUIDE;
