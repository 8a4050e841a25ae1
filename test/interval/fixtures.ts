/** Plants for tests of cost, intervals and yearly cost: groups with known truth, posterior draws and practice. */
import type { Fleet, Limit, Money, Shutdown, Spread } from '../../lib/fleet/types.js';
import { REASONS } from '../../lib/fleet/types.js';
import type { Group, GroupedFleet } from '../../lib/group/types.js';
import { randomStream } from '../../lib/numeric/random.js';
import { type PlantGroup, plant, TODAY } from '../demand/plant.js';

export { TODAY };

export interface TestGroup extends PlantGroup {
  /** Standard deviations of log shape and log scale over the draws; 0 by default. */
  spread?: [shape: number, scale: number];
  failures?: number;
  earlyLeaks?: number;
  /** Failures without the early leaks by default. */
  wearLeaks?: number;
  /** Over all groups of the material; 20 by default. */
  materialWearLeaks?: number;
  lives?: number;
  todayDays?: number | null;
  exceededShare?: number;
  supportedAge?: number | null;
  longestLife?: number;
}

export interface TestOptions {
  money?: Partial<Money>;
  limits?: Limit[];
  shutdowns?: Partial<Shutdown>[];
  price?: number | null;
  drawCount?: number;
  seed?: number;
}

export const exact = (amount: number): Spread => ({ low: amount, likely: amount, high: amount });

/** Replacement 100 with a price of 40, leak 1000 in all: a ratio of 10. */
export const RATIO_TEN: Partial<Money> = {
  labourPerHour: exact(60),
  fittingHours: exact(1),
  retightenHours: exact(0),
  recalibrationHoursPerAccessory: exact(0),
  downtimePerHour: new Map([['', exact(100)]]),
  leakDowntimeHours: exact(4),
  lostBatchProbability: exact(0.01),
  batchValue: exact(40_000),
  cleanupCost: exact(100),
};

/** A plant of these groups; `RATIO_TEN` unless money is given. */
export function testPlant(
  groups: TestGroup[],
  options: TestOptions = {},
): { fleet: Fleet; grouped: GroupedFleet } {
  const { fleet, grouped } = plant(groups);
  const price = options.price === undefined ? 40 : options.price;
  const built: Fleet = {
    ...fleet,
    site: {
      ...fleet.site,
      money: { ...fleet.site.money, ...(options.money ?? RATIO_TEN) },
      limits: options.limits ?? [],
    },
    items: grouped.groups.map((group, g) => ({
      item: `P-${g + 1}`,
      material: group.material,
      size: group.size,
      price,
      leadTimeDays: 30,
      priceBreaks: [],
      leadTimeSdDays: 5,
      pack: 1,
      minOrder: 1,
      shelfLifeMonths: null,
      shelfLifeLeftAtReceiptMonths: null,
      onHand: 0,
      emergencyDays: null,
      emergencyExtraCost: null,
      approvedSubstitute: null,
    })),
    shutdowns: (options.shutdowns ?? []).map((shutdown, i) => ({
      name: `stop ${i + 1}`,
      start: TODAY + 100,
      end: TODAY + 105,
      crewHours: null,
      fitterHours: null,
      instrumentHours: null,
      mostReplacements: null,
      mostLines: null,
      must: [],
      notOn: [],
      lines: [],
      stopFor: 'anyway' as const,
      ...shutdown,
    })),
  };
  const full = grouped.groups.map((group, g) => groupOf(group, groups[g] as TestGroup, g, grouped, options));
  return { fleet: built, grouped: { ...grouped, groups: full } };
}

function groupOf(
  group: Group,
  test: TestGroup,
  g: number,
  grouped: GroupedFleet,
  options: TestOptions,
): Group {
  const positions = grouped.running.filter((life) => life.groupNext === g).map((life) => life.position);
  const [shapeSpread, scaleSpread] = test.spread ?? [0, 0];
  const random = randomStream(options.seed ?? 1, `draws of group ${g}`);
  const count = test.spread === undefined ? 1 : (options.drawCount ?? 400);
  const pairs = Array.from({ length: count }, () => [random.normal(), random.normal()] as const);
  const longest = test.longestLife ?? 1500;
  return {
    ...group,
    name: `${group.material} DN ${group.size} #${g + 1}`,
    positions,
    lives: test.lives ?? 214,
    failures: test.failures ?? 20,
    earlyLeaks: test.earlyLeaks ?? 0,
    wearLeaks: test.wearLeaks ?? (test.failures ?? 20) - (test.earlyLeaks ?? 0),
    materialWearLeaks: test.materialWearLeaks ?? 20,
    supportedAge: test.supportedAge === undefined ? 2000 : test.supportedAge,
    bounds: {
      shape: [test.shape * Math.exp(-1.645 * shapeSpread), test.shape * Math.exp(1.645 * shapeSpread)],
      scale: [test.scale * Math.exp(-1.645 * scaleSpread), test.scale * Math.exp(1.645 * scaleSpread)],
      share: [0, 0.05],
    },
    sample: { ...group.sample, lower: Float64Array.of(longest), upper: Float64Array.of(Infinity) },
    otherSpreads: [],
    draws: {
      ...group.draws,
      shape: Float64Array.from(pairs, ([z]) => test.shape * Math.exp(shapeSpread * z)),
      scale: Float64Array.from(pairs, ([, z]) => test.scale * Math.exp(scaleSpread * z)),
      share: new Float64Array(count).fill(test.share ?? 0),
    },
    today: {
      days: test.todayDays === undefined ? 365 : test.todayDays,
      scheduledRemovals: 100,
      range: null,
      exceededShare: test.exceededShare ?? 0.1,
    },
  };
}

export interface RemovalRow {
  position: number;
  removed: number;
  reason: (typeof REASONS)[number];
}

/** The fleet with a history of removals. */
export function withRemovals(fleet: Fleet, rows: RemovalRow[]): Fleet {
  const column = (pick: (row: RemovalRow) => number): Float64Array => Float64Array.from(rows, pick);
  return {
    ...fleet,
    lives: {
      length: rows.length,
      position: Int32Array.from(rows, (row) => row.position),
      material: new Int32Array(rows.length),
      size: column((row) => fleet.positions[row.position]?.size ?? 25),
      fitted: column((row) => row.removed - 300),
      removed: column((row) => row.removed),
      reason: Uint8Array.from(rows, (row) => REASONS.indexOf(row.reason)),
      finding: new Uint8Array(rows.length),
      lastTight: new Float64Array(rows.length).fill(Number.NaN),
      lot: new Int32Array(rows.length).fill(-1),
      fittedBy: new Int32Array(rows.length).fill(-1),
      recorded: new Float64Array(rows.length).fill(Number.NaN),
      row: Int32Array.from(rows, (_, i) => i + 1),
    },
  };
}
