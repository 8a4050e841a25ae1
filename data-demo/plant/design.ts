/**
 * The truth of the invented plant. Every number here is ours: chosen to be consistent with what is said in the trade
 * about such valves (what wears them, how long they last, how often plants replace them), and taken from no plant.
 */

/** How the wear-out of a material spreads: Weibull shape, the same in every duty and size. */
export const SHAPES: Readonly<Record<string, number>> = {
  EPDM: 2.8,
  'PTFE-faced EPDM': 2.2,
  FKM: 2.6,
  // Solvent carried over by mistake ruins whatever silicone is in place, old or new: nearly pure chance.
  VMQ: 0.9,
};

/** Share of fittings that are faulty, and the law of the early leaks they lead to (scale in days). */
export const FAULT_SHARES: Readonly<Record<string, number>> = {
  EPDM: 0.02,
  'PTFE-faced EPDM': 0.04,
  FKM: 0.015,
  VMQ: 0.02,
};
export const EARLY_LAW = { shape: 0.7, scale: 20 } as const;

/** Scale = scale at DN 25 times (size / 25) to this power: large diaphragms flex further. */
export const SIZE_POWER = -0.2;

/** Share of positions that wear faster than their group (over-torqued, hot end, water hammer), and by how much. */
export const WORSE_SHARE = 0.04;
export const WORSE_FACTOR = 0.4;

/** The poor lot: pieces in it, which one of its item it is, and by how much it wears faster. */
export const POOR_LOT = { material: 'EPDM', size: 25, number: 27, pieces: 40, factor: 0.5 } as const;
export const PIECES_PER_LOT = 40;

/** For plants that ask for them: who fits badly and how many times as often, and the share fitted badly in the poor week. */
export const POOR_FITTER = { fitter: 'F4', times: 5 } as const;
export const POOR_WEEK_SHARE = 0.3;

/** Openings for other work per position and year; they come in jobs of several valves of a line within 3 days. */
export const OPENINGS_PER_YEAR = 0.08;
export const JOB_SIZES = [2, 3, 4, 5] as const;
export const JOB_DAYS = 3;

/** Share of leaks on tested duties that nobody sees until the next pressure-hold test, and days between tests. */
export const SILENT_SHARE = 0.35;
export const TEST_DAYS = 28;

/** A tear can be seen on opening from this share of the leak age on, at the earliest. */
export const TEAR_FROM = 0.85;

/** For plants that tell temperatures: of steam, degrees C, how long it is held, minutes, and the true activation energy, kJ/mol. */
export const STEAM_CELSIUS = [121, 134] as const;
export const STEAM_HOLD_MINUTES = 30;
export const TRUE_ENERGY = 95;

export interface DutyDesign {
  name: string;
  /** First letter of its lines, and how many lines there are. */
  letter: string;
  lines: number;
  criticality: 'low' | 'normal' | 'high' | 'safety';
  /** Practised replacement age, months; of some materials it is another. */
  intervalMonths: number;
  intervalOf?: Readonly<Record<string, number>>;
  /** Chance that a replacement that is due is put off to the next window. */
  putOff: number;
  /** Lines stop every quarter, not only at the two shutdowns of the plant. */
  quarterly: boolean;
  /** A pressure-hold test is made every TEST_DAYS. */
  tested: boolean;
  steamPerWeek: number;
  strokesPerDay: number;
  hotCleansPerWeek: number;
  accessories: readonly number[];
  /** Cost of an hour of downtime of one of its lines: low, likely, high. */
  downtime: readonly [number, number, number];
  /** Scale at DN 25 by material, days. */
  scales: Readonly<Record<string, number>>;
  /** Material, size, positions. */
  groups: readonly (readonly [string, number, number])[];
}

export const DUTIES: readonly DutyDesign[] = [
  {
    name: 'sterile line',
    letter: 'A',
    lines: 6,
    criticality: 'high',
    intervalMonths: 6,
    putOff: 0.08,
    quarterly: true,
    tested: true,
    steamPerWeek: 3,
    strokesPerDay: 36,
    hotCleansPerWeek: 2,
    accessories: [0, 1, 2],
    downtime: [3200, 4500, 7500],
    scales: { EPDM: 660, 'PTFE-faced EPDM': 780 },
    groups: [
      ['EPDM', 8, 8],
      ['EPDM', 25, 40],
      ['PTFE-faced EPDM', 15, 30],
      ['PTFE-faced EPDM', 25, 32],
    ],
  },
  {
    name: 'bioreactor',
    letter: 'B',
    lines: 5,
    criticality: 'high',
    intervalMonths: 12,
    putOff: 0.12,
    quarterly: true,
    tested: true,
    steamPerWeek: 1,
    strokesPerDay: 20,
    hotCleansPerWeek: 1,
    accessories: [1, 2],
    downtime: [1500, 2500, 4000],
    scales: { EPDM: 1000, 'PTFE-faced EPDM': 1200 },
    groups: [
      ['EPDM', 25, 34],
      ['EPDM', 50, 28],
      ['PTFE-faced EPDM', 25, 30],
      ['PTFE-faced EPDM', 50, 20],
    ],
  },
  {
    name: 'cleaning skid',
    letter: 'C',
    lines: 5,
    criticality: 'normal',
    intervalMonths: 12,
    putOff: 0.15,
    quarterly: false,
    tested: false,
    steamPerWeek: 0,
    strokesPerDay: 140,
    hotCleansPerWeek: 8,
    accessories: [0, 1],
    downtime: [150, 250, 450],
    scales: { EPDM: 1000, 'PTFE-faced EPDM': 900 },
    groups: [
      ['EPDM', 40, 28],
      ['EPDM', 50, 24],
      ['PTFE-faced EPDM', 40, 26],
      ['PTFE-faced EPDM', 80, 20],
    ],
  },
  {
    name: 'utilities',
    letter: 'D',
    lines: 6,
    criticality: 'low',
    intervalMonths: 12,
    putOff: 0.25,
    quarterly: false,
    tested: false,
    steamPerWeek: 0,
    strokesPerDay: 2,
    hotCleansPerWeek: 0,
    accessories: [0, 0, 1],
    downtime: [15, 30, 60],
    scales: { EPDM: 1500, 'PTFE-faced EPDM': 2100 },
    groups: [
      ['EPDM', 8, 8],
      ['EPDM', 25, 44],
      ['EPDM', 50, 38],
      ['PTFE-faced EPDM', 40, 36],
    ],
  },
  {
    name: 'dairy',
    letter: 'E',
    lines: 5,
    criticality: 'normal',
    intervalMonths: 12,
    putOff: 0.12,
    quarterly: true,
    tested: false,
    steamPerWeek: 0,
    strokesPerDay: 190,
    hotCleansPerWeek: 11,
    accessories: [0, 1, 2],
    downtime: [1800, 2600, 4200],
    scales: { EPDM: 780, 'PTFE-faced EPDM': 680 },
    groups: [
      ['EPDM', 40, 36],
      ['EPDM', 50, 28],
      ['PTFE-faced EPDM', 40, 24],
      ['PTFE-faced EPDM', 50, 16],
    ],
  },
  {
    name: 'chemical',
    letter: 'F',
    lines: 4,
    criticality: 'low',
    intervalMonths: 24,
    intervalOf: { VMQ: 12 },
    putOff: 0.15,
    quarterly: false,
    tested: false,
    steamPerWeek: 0,
    strokesPerDay: 22,
    hotCleansPerWeek: 0.5,
    accessories: [0, 1],
    downtime: [20, 40, 80],
    scales: { FKM: 5000, VMQ: 1500 },
    groups: [
      ['FKM', 15, 8],
      ['FKM', 25, 9],
      ['VMQ', 25, 44],
      ['VMQ', 40, 14],
    ],
  },
];

export const RECORDS_FROM = '2018-10-01';
export const DATA_UNTIL = '2026-09-30';

/** Weibull scale of a group in days, sizes included. */
export function scaleOf(duty: DutyDesign, material: string, size: number): number {
  return (duty.scales[material] ?? Number.NaN) * (size / 25) ** SIZE_POWER;
}

/** Practised replacement age of a material in a duty, months. */
export function practisedMonths(duty: DutyDesign, material: string): number {
  return duty.intervalOf?.[material] ?? duty.intervalMonths;
}
