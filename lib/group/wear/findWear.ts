/** What wears the diaphragms of a plant besides days: exposures, clocks, and how life goes with use. */

import {
  ASSUMED,
  BRIDGED,
  EXTRAPOLATED,
  INTERPOLATED,
  MEASURED,
  UNKNOWN,
} from '../../exposure/exposureTypes.js';
import { type DailyRate, joinedRate } from '../../exposure/rates.js';
import type { Fleet } from '../../fleet/types.js';
import { at, columnOf, floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { count, listed } from '../../numeric/words.js';
import type { GroupedFleet, RunningLife } from '../types.js';
import { counterNotes } from './counterNotes.js';
import { counterOf, weightOf } from './counters.js';
import { DOSE } from './doseApart.js';
import { alikeNotes } from './doseWords.js';
import { materialDose } from './materialDose.js';
import {
  WEAR_COUNTERS,
  type Wear,
  type WearClock,
  type WearCounter,
  type WearExposure,
  type WornLives,
  type WornPosition,
} from './types.js';
import { COUNTER_OF, type UsedLives } from './usedLives.js';
import { type UsedRates, usedRates } from './usedRates.js';
import { MOST_LIVES, wearClocks } from './wearClocks.js';
import { wearEffects } from './wearEffects.js';

const MOST_NAMED = 5;

/**
 * Readings become counts per life (`exposeLives`), each group's lives choose the clock that tells them best (METHODS 3.2, as
 * `chooseClock` with quick searches), and each material says how life goes with use. Lives are watched from 60 days on, so that faulty
 * fittings do not speak; removals without a reason count as sound. Pure; the seed draws the resampled positions.
 */
export function findWear(fleet: Fleet, grouped: GroupedFleet, seed: number): Wear {
  const { exposed, heat, notes } = materialDose(fleet, grouped, seed);
  const used = WEAR_COUNTERS.filter((counter) => isKnown(fleet, exposed, counter));
  if (used.length === 0) return nothingKnown(grouped);
  const { told, drawn, alike } = wearClocks(fleet, grouped, exposed, seed);
  return {
    exposures: used.map((counter) => exposureOf(counter, exposed)),
    notes: [...counterNotes(fleet, exposed.findings), ...drawnNote(drawn), ...notes, ...alikeNotes(alike)],
    clocks: told.map(({ clock }) => clock),
    worn: wornOf(fleet, grouped, exposed, told),
    effects: wearEffects(fleet, grouped, exposed, seed),
    ...(heat === null ? {} : { heat }),
  };
}

/** Whether readings or positions.csv give a counter that is not 0 everywhere. */
function isKnown({ readings, positions }: Fleet, { dose }: UsedLives, counter: WearCounter): boolean {
  if (counter === DOSE) return dose.exposure.some((hours) => hours > 0);
  const column = readings[COUNTER_OF[counter]];
  for (let i = 0; i < readings.length; i++) if (floatAt(column, i) > 0) return true;
  return positions.some(({ steamCyclesPerWeek, hotCleansPerWeek, strokesPerDay }) => {
    const given: Partial<Record<WearCounter, number | null>> = {
      'steam cycles': steamCyclesPerWeek,
      'hot cleans': hotCleansPerWeek,
      strokes: strokesPerDay,
    };
    return (given[counter] ?? 0) > 0;
  });
}

function nothingKnown({ groups }: GroupedFleet): Wear {
  return {
    exposures: [],
    notes:
      groups.length === 0
        ? []
        : [
            'No strokes, steam cycles or hot cleans are on record. Counters read twice a year (readings.csv) would tell what wears these diaphragms, and give each position an interval of its own.',
          ],
    clocks: [],
    worn: [],
    effects: [],
  };
}

function exposureOf(counter: WearCounter, exposed: UsedLives): WearExposure {
  const { mark } = exposed[COUNTER_OF[counter]];
  const numbers = new Float64Array(6);
  let lives = 0;
  for (let i = 0; i < mark.length; i++) {
    if (Number.isNaN(floatAt(exposed.days, i))) continue;
    lives += 1;
    numbers[at(mark, i)] = floatAt(numbers, at(mark, i)) + 1;
  }
  const share = (...marks: number[]): number =>
    lives === 0 ? 0 : marks.reduce((total, each) => total + floatAt(numbers, each), 0) / lives;
  return {
    counter,
    lives,
    measured: share(MEASURED),
    interpolated: share(INTERPOLATED),
    byOwnRate: share(BRIDGED, EXTRAPOLATED),
    assumed: share(ASSUMED),
    unknown: share(UNKNOWN),
  };
}

function drawnNote(drawn: readonly string[]): string[] {
  if (drawn.length === 0) return [];
  return [
    `Clocks of ${listed(drawn, MOST_NAMED)} are compared on ${count(MOST_LIVES, 'life', 'lives')} at most: whole positions, drawn by chance.`,
  ];
}

function wornOf(
  fleet: Fleet,
  { running, followed }: GroupedFleet,
  exposed: UsedLives,
  told: ReturnType<typeof wearClocks>['told'],
): Wear['worn'] {
  if (told.every(({ model }) => model === null)) return [];
  const rates = usedRates(fleet, exposed);
  const runningRow = new Map<number, number>();
  for (let i = 0; i < fleet.lives.length; i++) {
    if (Number.isNaN(floatAt(fleet.lives.removed, i))) runningRow.set(wholeAt(fleet.lives.position, i), i);
  }
  return told.flatMap(({ clock, model }, group) => {
    if (model === null) return [];
    const positions = running
      .filter(({ groupNow }) => groupNow === group)
      .map((life) => wornPosition(life, clock, exposed, runningRow, itemAt(rates, life.position)));
    const perDay = columnOf(rates, (each) => onClock(each, clock)?.perDay ?? Number.NaN);
    return [{ group, law: model, positions, perDay, lives: wornLives(followed, group, clock, exposed) }];
  });
}

function wornLives(
  followed: GroupedFleet['followed'],
  group: number,
  clock: WearClock,
  exposed: UsedLives,
): WornLives {
  const life = followed.life.filter((_, i) => at(followed.group, i) === group);
  const { exposure, toEntry, toLastTight } = exposed[COUNTER_OF[counterOf(clock)]];
  const ofLives = (column: Float64Array): Float64Array => columnOf(life, (row) => floatAt(column, row));
  return {
    life,
    counts: ofLives(exposure),
    toEntry: ofLives(toEntry),
    toLastTight: ofLives(toLastTight),
  };
}

function wornPosition(
  { position, fitted }: RunningLife,
  clock: WearClock,
  exposed: UsedLives,
  runningRow: ReadonlyMap<number, number>,
  rates: UsedRates,
): WornPosition {
  const row = runningRow.get(position);
  const counts =
    row === undefined || fitted === null
      ? Number.NaN
      : floatAt(exposed[COUNTER_OF[counterOf(clock)]].exposure, row);
  const weight = weightOf(clock);
  const count = weight === null ? counts : floatAt(exposed.days, row ?? 0) + weight * counts;
  return { position, count: Number.isNaN(count) ? null : count, rate: onClock(rates, clock) };
}

/** How fast a clock runs at a position; null where not known. */
function onClock(rates: UsedRates, clock: WearClock): DailyRate | null {
  const own = rates[COUNTER_OF[counterOf(clock)]];
  const weight = weightOf(clock);
  return own === null || weight === null ? own : joinedRate(own, weight);
}
