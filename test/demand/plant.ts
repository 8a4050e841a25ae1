/** A small plant for tests of demand and stock: one group per entry, all typed by hand, no file and no fit. */
import type {
  Criticality,
  Delivery,
  Fleet,
  Item,
  Lot,
  MonthlyUse,
  OpenOrder,
  Shutdown,
} from '../../lib/fleet/types.js';
import { readHistory } from '../../lib/group/history.js';
import { followedLives } from '../../lib/group/standOut/followed.js';
import type { Group, GroupedFleet, RunningLife } from '../../lib/group/types.js';
import { fillTable, NO_FINDINGS, NO_MONEY } from './empty.js';

export const TODAY = 20_454; // 2026-01-01

export interface PlantGroup {
  material?: string;
  size?: number;
  shape: number;
  scale: number;
  share?: number;
  /** Posterior draws of (shape, scale, share); one draw at the model where not given. */
  draws?: { shape: number; scale: number; share?: number }[];
  openingsPerYear?: number;
  /** Ages in days of the diaphragms that run today. */
  ages: number[];
  line?: string;
  criticality?: Criticality;
}

export interface PlantOptions {
  shutdowns?: { name: string; inDays: number; lines?: string[] }[];
  items?: Partial<Item>[];
  orders?: OpenOrder[];
  deliveries?: Delivery[];
  monthlyUse?: MonthlyUse[];
  lots?: Lot[];
  opened?: { position: number; day: number }[];
  reviewDays?: number;
  served?: number;
}

export const FAULT_SHAPE = 0.8;
export const FAULT_SCALE = 10;

export function plant(
  groups: PlantGroup[],
  options: PlantOptions = {},
): { fleet: Fleet; grouped: GroupedFleet } {
  const positions: Fleet['positions'] = [];
  const running: RunningLife[] = [];
  groups.forEach((group, g) => {
    for (const age of group.ages) {
      running.push({
        position: positions.length,
        groupNow: g,
        groupNext: g,
        fitted: TODAY - age,
        ages: [{ age, chance: 1 }],
      });
      positions.push({
        position: `V-${positions.length + 1}`,
        line: group.line ?? 'A',
        location: '',
        size: group.size ?? 25,
        duty: '',
        criticality: group.criticality ?? 'normal',
        steamCyclesPerWeek: null,
        strokesPerDay: null,
        hotCleansPerWeek: null,
        accessories: 0,
        materialNext: null,
        inServiceSince: null,
        outOfServiceSince: null,
        idle: [],
      });
    }
  });
  const materials = [...new Set(groups.map((group) => group.material ?? 'EPDM'))];
  const served = options.served ?? 0.95;
  const fleet: Fleet = {
    site: {
      name: 'Test plant',
      currency: 'EUR',
      recordsFrom: TODAY - 1461,
      dataUntil: TODAY,
      event: 'leak',
      damageFindings: [],
      money: NO_MONEY,
      limits: [],
      targets: {
        served: { low: served, normal: served, high: served, safety: served },
        kitComplete: 0.98,
        survival: { low: null, normal: null, high: null, safety: null },
      },
      horizonMonths: 24,
      reviewDays: options.reviewDays ?? 7,
      assumed: [],
    },
    positions,
    materials,
    lotNames: [],
    fitters: [],
    lives: fillTable(
      (options.opened ?? []).map(({ position, day }) => ({
        position,
        material: materials.indexOf(materialOf(groups, position)),
        size: positions[position]?.size ?? 25,
        fitted: day - 100,
        removed: day,
      })),
    ),
    readings: {
      length: 0,
      position: new Int32Array(0),
      date: new Float64Array(0),
      strokes: new Float64Array(0),
      steamCycles: new Float64Array(0),
      hotCleans: new Float64Array(0),
    },
    items: (options.items ?? []).map(fullItem),
    orders: options.orders ?? [],
    deliveries: options.deliveries ?? [],
    monthlyUse: options.monthlyUse ?? [],
    lots: options.lots ?? [],
    shutdowns: (options.shutdowns ?? []).map(
      ({ name, inDays, lines }): Shutdown => ({
        name,
        start: TODAY + inDays,
        end: TODAY + inDays + 5,
        crewHours: null,
        fitterHours: null,
        instrumentHours: null,
        mostReplacements: null,
        mostLines: null,
        must: [],
        notOn: [],
        lines: lines ?? [],
        stopFor: 'anyway',
      }),
    ),
    filesRead: ['positions.csv', 'lives.csv', 'items.csv'],
    findings: NO_FINDINGS,
    inputsHash: '',
  };
  return {
    fleet,
    grouped: {
      groups: groups.map(groupOf),
      running,
      notes: [],
      leaksWithoutReason: 0,
      followed: followedLives(readHistory(fleet), []),
      warnings: [],
    },
  };
}

function materialOf(groups: PlantGroup[], position: number): string {
  let from = 0;
  for (const group of groups) {
    from += group.ages.length;
    if (position < from) return group.material ?? 'EPDM';
  }
  return 'EPDM';
}

function groupOf(group: PlantGroup): Group {
  const draws = group.draws ?? [{ shape: group.shape, scale: group.scale, share: group.share ?? 0 }];
  const share = group.share ?? 0;
  return {
    name: `${group.material ?? 'EPDM'} DN ${group.size ?? 25}`,
    material: group.material ?? 'EPDM',
    size: group.size ?? 25,
    duty: null,
    lives: 100,
    failures: 20,
    earlyLeaks: 0,
    positions: [],
    sample: {
      lower: new Float64Array(0),
      upper: new Float64Array(0),
      entry: new Float64Array(0),
      count: new Float64Array(0),
      cluster: new Int32Array(0),
    },
    model: {
      kind: 'weibull',
      shape: group.shape,
      scale: group.scale,
      fault: { share, shape: FAULT_SHAPE, scale: FAULT_SCALE },
    },
    bounds: { shape: [1, 5], scale: [500, 1500], share: [0, 0.1] },
    level: 0.9,
    method: 'likelihood',
    supportedAge: 900,
    borrowed: 0,
    inflation: 1,
    records: null,
    unknown: null,
    damage: null,
    wearLeaks: 20,
    materialWearLeaks: 20,
    b10: [250, 400, 550],
    planned: {
      shape: { low: 1, median: group.shape, high: 5 },
      scale: { low: 500, median: group.scale, high: 1500 },
      b10: { low: 250, median: 400, high: 550 },
    },
    otherSpreads: [],
    draws: {
      shape: Float64Array.from(draws, (draw) => draw.shape),
      scale: Float64Array.from(draws, (draw) => draw.scale),
      share: Float64Array.from(draws, (draw) => draw.share ?? 0),
      faultShape: FAULT_SHAPE,
      faultScale: FAULT_SCALE,
    },
    warnings: [],
    today: { days: null, scheduledRemovals: 0, range: null, exceededShare: 0 },
    openingsPerYear: group.openingsPerYear ?? 0,
  };
}

export function fullItem(part: Partial<Item>): Item {
  return {
    item: 'P-1',
    material: 'EPDM',
    size: 25,
    price: 40,
    priceBreaks: [],
    leadTimeDays: 40,
    leadTimeSdDays: 10,
    pack: 1,
    minOrder: 1,
    shelfLifeMonths: null,
    shelfLifeLeftAtReceiptMonths: null,
    onHand: 0,
    emergencyDays: null,
    emergencyExtraCost: null,
    approvedSubstitute: null,
    ...part,
  };
}
