/** The invented plant: its files as text, and the truth behind them. Pure; the same options give the same bytes. */
import { randomStream } from '../../lib/numeric/random.js';
import { csvText } from './csv.js';
import { type Entry, spoilLives } from './lifeFaults.js';
import { otherWork } from './openings.js';
import { spoilPositions } from './positionFaults.js';
import { makePositions } from './positions.js';
import { makeReadings, READING_COLUMNS } from './readings.js';
import {
  HEATED_COLUMNS,
  LIFE_COLUMNS,
  lifeRow,
  POSITION_COLUMNS,
  positionRow,
  recordedLives,
} from './records.js';
import { simulateLives } from './simulate.js';
import { SHUTDOWN_COLUMNS, shutdownRows, siteText } from './site.js';
import { ITEM_COLUMNS, LOT_COLUMNS, makeStores, ORDER_COLUMNS } from './stores.js';
import { type PlantTruth, truthOf } from './truth.js';
import type { PlantedFault, PlantOptions, Row, TrueLife } from './types.js';
import { windows } from './windows.js';

export interface Plant {
  /** Text by name of the file. */
  files: Record<string, string>;
  truth: PlantTruth;
  /** What really happened, in order of fitting: that of the rows of lives.csv where no mistakes are put in. */
  lives: TrueLife[];
}

export function makePlant(options: PlantOptions): Plant {
  const random = randomStream(options.seed, 'demo plant');
  const positions = makePositions(random.fork('positions'), options);
  const calendar = windows(random.fork('windows'));
  const openings = otherWork(random.fork('openings'), positions);
  const lives = recordedLives(simulateLives(random.fork('lives'), positions, calendar, openings, options));
  const withFaults = options.dataFaults !== false;

  const entries = entriesOf(random, lives);
  const written = withFaults ? spoilLives(random.fork('life faults'), entries) : entries;
  const positionRows = positions.map((position) =>
    positionRow(random.fork(`position row ${position.index}`), position),
  );
  const list = withFaults
    ? spoilPositions(random.fork('position faults'), positionRows)
    : { rows: positionRows, faults: [] };
  const readings = makeReadings(random.fork('readings'), positions, withFaults);
  const stores = makeStores(options.times ?? 1);
  const faults = [...list.faults, ...lifeFaults(written), ...readings.faults];

  return {
    files: {
      'positions.csv': csvText(options.temperatures === true ? HEATED_COLUMNS : POSITION_COLUMNS, list.rows),
      'lives.csv': csvText(
        LIFE_COLUMNS,
        written.map(({ row }) => row),
      ),
      'readings.csv': csvText(READING_COLUMNS, readings.rows),
      'items.csv': csvText(ITEM_COLUMNS, stores.items),
      'lots.csv': csvText(LOT_COLUMNS, stores.lots),
      'orders.csv': csvText(ORDER_COLUMNS, stores.orders),
      'shutdowns.csv': csvText(SHUTDOWN_COLUMNS, shutdownRows(calendar)),
      'site.json': siteText(positions),
    },
    truth: truthOf(
      options,
      positions,
      calendar,
      lives,
      faults,
      written.map(({ row }) => row),
    ),
    lives,
  };
}

function entriesOf(random: ReturnType<typeof randomStream>, lives: readonly TrueLife[]): Entry[] {
  const seen = new Map<number, number>();
  return lives.map((life) => {
    const { index } = life.position;
    const number = (seen.get(index) ?? 0) + 1;
    seen.set(index, number);
    return { life, row: lifeRow(random.fork(`life ${index}/${number}`), life), fault: null };
  });
}

/** What was put into lives.csv, and the fitting days that are not known. */
function lifeFaults(written: readonly Entry[]): PlantedFault[] {
  const file = 'lives.csv';
  return written.flatMap(({ row, fault }, i): PlantedFault[] => {
    if (fault !== null)
      return [{ code: fault.code, file, row: i + 1, column: fault.column, what: fault.what }];
    return isUndated(row)
      ? [
          {
            code: 'fitted-missing',
            file,
            row: i + 1,
            column: 'fitted',
            what: 'fitted before the records; the day is not known',
          },
        ]
      : [];
  });
}

function isUndated(row: Row): boolean {
  return row.fitted === '';
}
