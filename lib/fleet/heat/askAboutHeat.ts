/** Temperatures that some positions have and others, used the same way, have not. */
import { type Fault, fault } from '../cell.js';
import type { PositionList } from '../readPositions.js';
import type { RowBook } from '../rowBook.js';
import type { Position } from '../types.js';
import type { HeatColumn } from './heatGuide.js';
import type { PositionHeat } from './types.js';

/** A column, its value, and whether a position of that use needs it. */
const ASKED: readonly {
  column: HeatColumn;
  value: (heat: PositionHeat) => number | null;
  isUsed: (position: Position) => boolean;
}[] = [
  { column: 'steam_temperature_c', value: ({ steamCelsius }) => steamCelsius, isUsed: isSteamed },
  { column: 'steam_hold_minutes', value: ({ steamHoldMinutes }) => steamHoldMinutes, isUsed: isSteamed },
  { column: 'hot_clean_temperature_c', value: ({ hotCleanCelsius }) => hotCleanCelsius, isUsed: isCleaned },
  {
    column: 'hot_clean_hold_minutes',
    value: ({ hotCleanHoldMinutes }) => hotCleanHoldMinutes,
    isUsed: isCleaned,
  },
  { column: 'service_temperature_c', value: ({ serviceCelsius }) => serviceCelsius, isUsed: () => true },
];

function isSteamed({ steamCyclesPerWeek }: Position): boolean {
  return (steamCyclesPerWeek ?? 0) > 0;
}

function isCleaned({ hotCleansPerWeek }: Position): boolean {
  return (hotCleansPerWeek ?? 0) > 0;
}

/** Asks for each cell that is empty where it is needed; nothing is asked of a use that no position tells anything of. */
export function askAboutHeat({ positions, rows }: PositionList, book: RowBook): void {
  const isTold = (columns: readonly HeatColumn[]): boolean =>
    ASKED.some(
      ({ column, value }) =>
        columns.includes(column) && positions.some(({ heat }) => heat !== undefined && value(heat) !== null),
    );
  for (const { column, value, isUsed } of ASKED) {
    if (!isTold(ALONG_WITH[column])) continue;
    positions.forEach((position, i) => {
      const given = position.heat === undefined ? null : value(position.heat);
      if (given === null && isUsed(position)) book.ask(rows[i] ?? null, column, '', missing(column));
    });
  }
}

const STEAM = ['steam_temperature_c', 'steam_hold_minutes'] as const;
const CLEANS = ['hot_clean_temperature_c', 'hot_clean_hold_minutes'] as const;
const ALONG_WITH: Readonly<Record<HeatColumn, readonly HeatColumn[]>> = {
  steam_temperature_c: STEAM,
  steam_hold_minutes: STEAM,
  hot_clean_temperature_c: CLEANS,
  hot_clean_hold_minutes: CLEANS,
  service_temperature_c: ['service_temperature_c'],
};

function missing(column: HeatColumn): Fault {
  return fault(
    'temperature-missing',
    `${column} is not known here, and is of other positions: its lives have no equivalent hours.`,
    'Fill it in; a temperature that differs from the usual one is worth most.',
  );
}
