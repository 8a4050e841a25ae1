/** How hot the diaphragm of a row of positions.csv gets. */
import { remembered } from '../cell.js';
import { columnOf } from '../columnReader.js';
import type { CsvRow, CsvTable } from '../csvTable.js';
import { mended } from '../mended.js';
import { holdCell, temperatureCell } from './heatCell.js';
import { HEAT_GUIDE, type HeatColumn } from './heatGuide.js';
import type { Heated, PositionHeat } from './types.js';

/** A cell that cannot be meant is told and taken for empty; without any of the columns nothing is read. */
export function heatReader(table: CsvTable): (row: CsvRow) => Heated {
  if (!Object.keys(HEAT_GUIDE).some(table.has)) return () => ({});
  const degrees = (column: HeatColumn) =>
    mended(table, column, columnOf(table, column, remembered(temperatureCell(column))));
  const minutes = (column: HeatColumn) =>
    mended(table, column, columnOf(table, column, remembered(holdCell)));
  const read = {
    steamCelsius: degrees('steam_temperature_c'),
    steamHoldMinutes: minutes('steam_hold_minutes'),
    hotCleanCelsius: degrees('hot_clean_temperature_c'),
    hotCleanHoldMinutes: minutes('hot_clean_hold_minutes'),
    serviceCelsius: degrees('service_temperature_c'),
  };
  return (row) => {
    const heat: PositionHeat = {
      steamCelsius: read.steamCelsius(row),
      steamHoldMinutes: read.steamHoldMinutes(row),
      hotCleanCelsius: read.hotCleanCelsius(row),
      hotCleanHoldMinutes: read.hotCleanHoldMinutes(row),
      serviceCelsius: read.serviceCelsius(row),
    };
    return Object.values(heat).every((value) => value === null) ? {} : { heat };
  };
}
