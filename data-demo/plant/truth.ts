/** What is true about the plant, kept beside its files so that results can be held against it. */
import { dayFromText, textFromDay, yearOfDay } from '../../lib/numeric/day.js';
import {
  DATA_UNTIL,
  DUTIES,
  EARLY_LAW,
  FAULT_SHARES,
  OPENINGS_PER_YEAR,
  POOR_FITTER,
  POOR_LOT,
  practisedMonths,
  RECORDS_FROM,
  SHAPES,
  SIZE_POWER,
  scaleOf,
  WORSE_FACTOR,
} from './design.js';
import { isLeak, lotName, poorWeekOf } from './simulate.js';
import type { PlantedFault, PlantOptions, Row, TrueGroup, TrueLife, TruePosition } from './types.js';
import type { Window } from './windows.js';

export interface PlantTruth {
  seed: number;
  recordsFrom: string;
  dataUntil: string;
  /** Wear-out: Weibull in days; scale = scale of the duty at DN 25 times (size / 25) to the power. */
  shapes: Readonly<Record<string, number>>;
  sizePower: number;
  faultShares: Readonly<Record<string, number>>;
  earlyLaw: { shape: number; scale: number };
  openingsPerYear: number;
  groups: TrueGroup[];
  /** Positions that wear faster than their group, and the factor on their scale. */
  worse: { factor: number; positions: string[] };
  /** Null where there is none. `fitted` is how many of its pieces were fitted by the end of the data. */
  poorLot: { lot: string; factor: number; fitted: number } | null;
  /** Who fits badly, and the Monday of the week in which much was; only of plants that ask for them. */
  poorFitter?: string;
  poorWeek?: string;
  /** Tag now and before. */
  renamed: { tag: string; former: string }[];
  retired: string[];
  /** Leaks by year of the records, all of them: also those whose reason was not written down. */
  leaksByYear: Record<string, number>;
  /** Rows of lives.csv that ended and have no reason in the file. */
  reasonsLost: number;
  faults: PlantedFault[];
}

export function truthOf(
  options: PlantOptions,
  positions: readonly TruePosition[],
  calendar: readonly Window[],
  lives: readonly TrueLife[],
  faults: PlantedFault[],
  rows: readonly Row[],
): PlantTruth {
  return {
    seed: options.seed,
    recordsFrom: RECORDS_FROM,
    dataUntil: DATA_UNTIL,
    shapes: SHAPES,
    sizePower: SIZE_POWER,
    faultShares: FAULT_SHARES,
    earlyLaw: EARLY_LAW,
    openingsPerYear: OPENINGS_PER_YEAR,
    groups: groupsOf(positions, lives),
    worse: { factor: WORSE_FACTOR, positions: positions.filter(({ worse }) => worse).map(({ tag }) => tag) },
    poorLot: options.poorLot === false ? null : poorLot(lives, options.poorLotFactor ?? POOR_LOT.factor),
    ...(options.poorFitter === true ? { poorFitter: POOR_FITTER.fitter } : {}),
    ...(options.poorWeek === true ? { poorWeek: textFromDay(poorWeekOf(calendar)) } : {}),
    renamed: positions.flatMap(({ tag, former }) => (former === null ? [] : [{ tag, former: former.tag }])),
    retired: positions.filter(({ retired }) => retired !== null).map(({ tag }) => tag),
    leaksByYear: leaksByYear(lives),
    reasonsLost: rows.filter(
      ({ removed, reason }) => removed !== '' && (reason === '' || reason === 'unknown'),
    ).length,
    faults,
  };
}

/** Name of a group as the plan writes it: the duty stands only where a material has more than one. */
export function groupName(material: string, size: number, duty: string): string {
  const duties = DUTIES.filter(({ groups }) => groups.some(([other]) => other === material));
  return duties.length > 1 ? `${material} DN ${size}, ${duty}` : `${material} DN ${size}`;
}

function groupsOf(positions: readonly TruePosition[], lives: readonly TrueLife[]): TrueGroup[] {
  return DUTIES.flatMap((duty) =>
    duty.groups.map(([material, size]): TrueGroup => {
      const isOwn = (position: TruePosition): boolean =>
        position.duty === duty && position.material === material && position.size === size;
      const own = positions.filter(isOwn);
      const ownLives = lives.filter(({ position }) => isOwn(position));
      return {
        name: groupName(material, size, duty.name),
        material,
        size,
        duty: duty.name,
        positions: own.length,
        shape: SHAPES[material] ?? Number.NaN,
        scale: Math.round(scaleOf(duty, material, size) * 100) / 100,
        faultShare: FAULT_SHARES[material] ?? 0,
        practisedMonths: practisedMonths(duty, material),
        lives: ownLives.length,
        leaks: ownLives.filter(({ reason }) => isLeak(reason)).length,
        worsePositions: own.filter(({ worse }) => worse).length,
      };
    }),
  );
}

function poorLot(lives: readonly TrueLife[], factor: number): PlantTruth['poorLot'] {
  const lot = lotName(POOR_LOT.material, POOR_LOT.size, POOR_LOT.number);
  return { lot, factor, fitted: lives.filter((life) => life.lot === lot).length };
}

function leaksByYear(lives: readonly TrueLife[]): Record<string, number> {
  const from = dayFromText(RECORDS_FROM) as number;
  const counts: Record<string, number> = {};
  for (const { removed, reason } of lives) {
    if (removed === null || removed < from || !isLeak(reason)) continue;
    const year = String(yearOfDay(removed));
    counts[year] = (counts[year] ?? 0) + 1;
  }
  return counts;
}
