/** A simulated plant with known truth, as a Fleet: for the tests of lib/group only. */
import type { Fleet, LifeTable, Position } from '../../lib/fleet/types.js';
import { FINDINGS_AT_REMOVAL, type FindingAtRemoval, REASONS, type Reason } from '../../lib/fleet/types.js';
import type { Day } from '../../lib/numeric/day.js';
import { type RandomStream, randomStream } from '../../lib/numeric/random.js';

export interface LifeFact {
  position: number;
  material: string;
  size: number;
  fitted: Day | null;
  removed: Day | null;
  reason?: Reason;
  finding?: FindingAtRemoval;
}

export const DATA_UNTIL = 20_000;

export function position(name: string, size: number, more: Partial<Position> = {}): Position {
  return {
    position: name,
    line: 'L1',
    location: '',
    size,
    duty: '',
    criticality: 'normal',
    steamCyclesPerWeek: null,
    strokesPerDay: null,
    hotCleansPerWeek: null,
    accessories: 0,
    materialNext: null,
    inServiceSince: null,
    outOfServiceSince: null,
    idle: [],
    ...more,
  };
}

/** A fleet of positions and lives, everything else empty. */
export function fleetOf(positions: Position[], lives: LifeFact[], recordsFrom: Day | null = null): Fleet {
  const materials = [...new Set(lives.map((life) => life.material))];
  const table: LifeTable = {
    length: lives.length,
    position: Int32Array.from(lives, (life) => life.position),
    material: Int32Array.from(lives, (life) => materials.indexOf(life.material)),
    size: Float64Array.from(lives, (life) => life.size),
    fitted: Float64Array.from(lives, (life) => life.fitted ?? Number.NaN),
    removed: Float64Array.from(lives, (life) => life.removed ?? Number.NaN),
    reason: Uint8Array.from(lives, (life) => REASONS.indexOf(life.reason ?? 'unknown')),
    finding: Uint8Array.from(lives, (life) => FINDINGS_AT_REMOVAL.indexOf(life.finding ?? 'unknown')),
    lastTight: new Float64Array(lives.length).fill(Number.NaN),
    lot: new Int32Array(lives.length).fill(-1),
    fittedBy: new Int32Array(lives.length).fill(-1),
    recorded: new Float64Array(lives.length).fill(Number.NaN),
    row: Int32Array.from(lives, (_, i) => i + 1),
  };
  return {
    site: {
      name: 'Test plant',
      currency: 'EUR',
      recordsFrom,
      dataUntil: DATA_UNTIL,
      event: 'leak',
      damageFindings: ['cracked', 'torn', 'swollen', 'hardened'],
      money: {} as Fleet['site']['money'],
      limits: [],
      targets: {} as Fleet['site']['targets'],
      horizonMonths: 24,
      reviewDays: 7,
      assumed: [],
    },
    positions,
    materials,
    lotNames: [],
    fitters: [],
    lives: table,
    readings: {} as Fleet['readings'],
    items: [],
    orders: [],
    lots: [],
    deliveries: [],
    monthlyUse: [],
    shutdowns: [],
    filesRead: ['positions.csv', 'lives.csv'],
    findings: {} as Fleet['findings'],
    inputsHash: '',
  };
}

/** Truth of one group of positions. Ages in days. */
export interface GroupTruth {
  material: string;
  size: number;
  duty?: string;
  positions: number;
  shape: number;
  scale: number;
  /** Age at scheduled replacement; Infinity = none. */
  scheduled: number;
}

export interface PlantTruth {
  groups: GroupTruth[];
  years: number;
  faultShare: (material: string) => number;
  fault: { shape: number; scale: number };
  openingsPerYear: number;
  /** Chance that the reason of a removal is not written down. */
  reasonLost: number;
  /** Standard deviation of log scale between positions of a group. */
  betweenPositions?: number;
  /** Days of service before the records begin. */
  before: number;
}

/** Lives of every position from `before` days ahead of the records to the end of the data; whole days. */
export function simulatedPlant(truth: PlantTruth, seed: number): Fleet {
  const random = randomStream(seed, 'plant');
  const positions: Position[] = [];
  const lives: LifeFact[] = [];
  const recordsFrom = DATA_UNTIL - Math.round(365.25 * truth.years);
  for (const group of truth.groups) {
    for (let i = 0; i < group.positions; i++) {
      const name = `V${positions.length + 1}`;
      positions.push(position(name, group.size, { duty: group.duty ?? '' }));
      const scale = group.scale * Math.exp((truth.betweenPositions ?? 0) * random.normal());
      simulatePosition(truth, { ...group, scale }, positions.length - 1, recordsFrom, lives, random);
    }
  }
  return fleetOf(positions, lives, recordsFrom);
}

function simulatePosition(
  truth: PlantTruth,
  group: GroupTruth,
  index: number,
  recordsFrom: Day,
  lives: LifeFact[],
  random: RandomStream,
): void {
  let clock = recordsFrom - truth.before * random.uniform();
  while (clock < DATA_UNTIL) {
    const { age, reason } = oneLife(truth, group, random);
    const fitted = Math.floor(clock);
    const end = clock + age;
    const base = { position: index, material: group.material, size: group.size, fitted };
    if (end >= DATA_UNTIL) lives.push({ ...base, removed: null });
    else if (end > recordsFrom) {
      const lost = random.uniform() < truth.reasonLost;
      lives.push({ ...base, removed: Math.floor(end), reason: lost ? 'unknown' : reason });
    }
    clock = end;
  }
}

function oneLife(
  truth: PlantTruth,
  group: GroupTruth,
  random: RandomStream,
): { age: number; reason: Reason } {
  const weibull = (shape: number, scale: number): number =>
    scale * (-Math.log(random.uniform())) ** (1 / shape);
  const wear = weibull(group.shape, group.scale);
  const faulty = random.uniform() < truth.faultShare(group.material);
  const early = faulty ? weibull(truth.fault.shape, truth.fault.scale) : Infinity;
  const leak = Math.min(wear, early);
  const scheduled = group.scheduled * Math.exp(0.04 * random.normal());
  const opened = truth.openingsPerYear > 0 ? weibull(1, 365.25 / truth.openingsPerYear) : Infinity;
  const age = Math.min(leak, scheduled, opened);
  return { age, reason: age === leak ? 'leak' : age === opened ? 'opened' : 'scheduled' };
}
