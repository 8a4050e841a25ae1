/** The valves of the plant. */
import { dayFromText } from '../../lib/numeric/day.js';
import type { RandomStream } from '../../lib/numeric/random.js';
import {
  DATA_UNTIL,
  DUTIES,
  type DutyDesign,
  RECORDS_FROM,
  SHAPES,
  STEAM_CELSIUS,
  scaleOf,
  TRUE_ENERGY,
  WORSE_FACTOR,
  WORSE_SHARE,
} from './design.js';
import { chance, pick, shuffled } from './draws.js';
import type { PlantOptions, TruePosition } from './types.js';
import { linesOf } from './windows.js';

/** A line that was built while records were kept. */
const NEW_LINE = { line: 'B5', since: '2021-03-01' } as const;
const FIRST_COMMISSIONED = dayFromText('2008-01-01') as number;
const LAST_COMMISSIONED = dayFromText('2016-12-31') as number;
const RETIRED_SHARE = 0.03;
const RENAMED_SHARE = 0.02;
/** Spread of the log of the use of each counter where each has its own. */
const OWN_USE_SD = 0.3;
/** Tags that are awkward to read and right all the same, by the number of the position. */
const AWKWARD_TAGS: Readonly<Record<number, string>> = { 7: '00417', 230: 'C2-V012, upper' };

export function makePositions(random: RandomStream, options: PlantOptions): TruePosition[] {
  const plain = DUTIES.flatMap((duty) => ofDuty(random.fork(duty.name), duty, options.times ?? 1)).map(
    (position, index) => ({ ...position, index, tag: AWKWARD_TAGS[index] ?? position.tag }),
  );
  const heated = options.temperatures === true ? withSteam(random.fork('steam'), plain) : plain;
  const used = options.clock === undefined ? heated : onClock(random.fork('use'), heated, options.clock);
  const named = renamed(random.fork('renamed'), used);
  return options.worsePositions === false ? named : withWorse(random.fork('worse'), named);
}

/** The positions of a duty: groups in order, spread over its lines at random. */
function ofDuty(random: RandomStream, duty: DutyDesign, times: number): TruePosition[] {
  const kinds = duty.groups.flatMap(([material, size, positions]) =>
    Array.from({ length: positions * times }, () => ({ material, size })),
  );
  const lines = linesOf(duty);
  return shuffled(random, kinds).map(({ material, size }, i) => {
    const line = lines[i % lines.length] as string;
    const usage = Math.exp(0.25 * random.normal());
    const commissioned =
      line === NEW_LINE.line ? dayOf(NEW_LINE.since) : between(random, FIRST_COMMISSIONED, LAST_COMMISSIONED);
    return {
      index: 0,
      tag: `${line}-V${String(Math.floor(i / lines.length) + 1).padStart(3, '0')}`,
      former: null,
      line,
      duty,
      material,
      size,
      shape: SHAPES[material] ?? Number.NaN,
      scale: scaleOf(duty, material, size),
      worse: false,
      accessories: pick(random, duty.accessories),
      steamPerWeek: rounded(duty.steamPerWeek * usage),
      steamCelsius: null,
      strokesPerDay: rounded(duty.strokesPerDay * usage),
      hotCleansPerWeek: rounded(duty.hotCleansPerWeek * usage),
      commissioned,
      retired: chance(random, RETIRED_SHARE)
        ? between(random, dayOf('2021-06-01'), dayOf(DATA_UNTIL) - 60)
        : null,
    };
  });
}

/** Each temperature as often as the other, whatever the position is used for. */
function withSteam(random: RandomStream, positions: readonly TruePosition[]): TruePosition[] {
  return positions.map((position) => {
    const celsius = pick(random, STEAM_CELSIUS);
    return position.duty.steamPerWeek > 0 ? { ...position, steamCelsius: celsius } : position;
  });
}

/** Ageing at a temperature against the middle of the two, by the law of Arrhenius. */
function steamFactor(celsius: number | null): number {
  const perKelvin = (degrees: number): number => TRUE_ENERGY / (0.00831446261815324 * (degrees + 273.15));
  const middle = STEAM_CELSIUS.reduce((total, each) => total + perKelvin(each), 0) / STEAM_CELSIUS.length;
  return celsius === null ? 1 : Math.exp(middle - perKelvin(celsius));
}

/** A use of its own for each counter, and the scale in days that it makes of wear-out on one of them. */
function onClock(
  random: RandomStream,
  positions: readonly TruePosition[],
  clock: NonNullable<PlantOptions['clock']>,
): TruePosition[] {
  return positions.map((position) => {
    const { duty } = position;
    const own = (usual: number): number => rounded(usual * Math.exp(OWN_USE_SD * random.normal()));
    const [steamPerWeek, strokesPerDay, hotCleansPerWeek] = [
      own(duty.steamPerWeek),
      own(duty.strokesPerDay),
      own(duty.hotCleansPerWeek),
    ];
    const [usual, rate] = {
      days: [1, 1] as const,
      'steam cycles': [duty.steamPerWeek, steamPerWeek] as const,
      'hot cleans': [duty.hotCleansPerWeek, hotCleansPerWeek] as const,
      strokes: [duty.strokesPerDay, strokesPerDay] as const,
      'equivalent hours': [duty.steamPerWeek, steamPerWeek * steamFactor(position.steamCelsius)] as const,
    }[clock];
    const scale = usual > 0 && rate > 0 ? (position.scale * usual) / rate : position.scale;
    return { ...position, steamPerWeek, strokesPerDay, hotCleansPerWeek, scale };
  });
}

function renamed(random: RandomStream, positions: readonly TruePosition[]): TruePosition[] {
  return positions.map((position) => {
    const day = between(random, dayOf(RECORDS_FROM) + 400, dayOf(DATA_UNTIL) - 400);
    const plain = position.tag.startsWith(position.line) && AWKWARD_TAGS[position.index] === undefined;
    if (!chance(random, RENAMED_SHARE) || !plain) return position;
    return { ...position, former: { tag: position.tag.replace('-V', '-MV'), until: day } };
  });
}

/** The same number in every plant, so that plants differ in which positions are worse only. */
function withWorse(random: RandomStream, positions: readonly TruePosition[]): TruePosition[] {
  const count = Math.round(WORSE_SHARE * positions.length);
  const worse = new Set(
    shuffled(random, positions)
      .slice(0, count)
      .map(({ index }) => index),
  );
  return positions.map((position) =>
    worse.has(position.index) ? { ...position, worse: true, scale: WORSE_FACTOR * position.scale } : position,
  );
}

function dayOf(text: string): number {
  return dayFromText(text) as number;
}

function between(random: RandomStream, first: number, last: number): number {
  return first + random.below(last - first + 1);
}

function rounded(rate: number): number {
  return rate >= 20 ? Math.round(rate) : Math.round(rate * 10) / 10;
}
