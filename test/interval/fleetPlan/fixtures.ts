/** Fleets for tests of the fleet plan: seeded plants with limits that bind. */
import type {
  FleetDiaphragm,
  FleetLine,
  FleetPosition,
  FleetProblem,
  FleetWindow,
} from '../../../lib/interval/fleetPlan/types.js';
import { itemAt } from '../../../lib/numeric/columns.js';
import { type RandomStream, randomStream } from '../../../lib/numeric/random.js';

/** A diaphragm with a Weibull life; several scales are draws of a posterior, each counted alike. */
export function weibull(
  shape: number,
  scales: number[],
  costs: Partial<FleetDiaphragm> = {},
): FleetDiaphragm {
  const held = (age: number, days: number, scale: number): number =>
    Math.exp((age / scale) ** shape - ((age + days) / scale) ** shape);
  return {
    holds: (age, days) => scales.reduce((sum, scale) => sum + held(age, days, scale), 0) / scales.length,
    leakCost: 1000,
    ...costs,
  };
}

export interface RandomFleet {
  positions: number;
  windows: number;
  lines: number;
  /** Crew hours of a window as a share of what one replacement everywhere would take. */
  tightness: number;
  /** Windows with a stop to pay. */
  made?: number;
  stopCost?: number;
  /** Years of calendar after the known one; 8 by default. */
  yearsLater?: number;
}

/** A seeded fleet: windows half a year apart, three kinds of diaphragm, positions of all ages. */
export function randomFleet(seed: number, options: RandomFleet): FleetProblem {
  const random = randomStream(seed, 'fleet');
  const { windows: count, made = 0, stopCost = 800, yearsLater = 8, tightness } = options;
  const days = Array.from({ length: count }, (_, w) => 40 + w * 182 + random.below(30));
  const kinds = Array.from({ length: 3 }, () => {
    const scale = 700 + 1800 * random.uniform();
    return weibull(1.5 + 3 * random.uniform(), [0.9 * scale, scale, 1.15 * scale], {
      leakCost: Math.round(600 + 4000 * random.uniform()),
    });
  });
  const lines = Array.from(
    { length: options.lines },
    (_, l): FleetLine => ({
      line: `L${l + 1}`,
      windows: days.map((_day, w) => ({
        window: `W${w + 1}`,
        stopCost: w % 2 === 1 && w < 2 * made ? stopCost : 0,
      })),
      later: Array.from({ length: 2 * yearsLater }, (_later, i) => ({
        day: itemAt(days, count - 1) + 182 * (i + 1),
        made: made > 0 && i % 2 === 1,
      })),
    }),
  );
  const positions = Array.from({ length: options.positions }, (_, p) =>
    randomPosition(random, p, itemAt(lines, p % options.lines).line, kinds),
  );
  const hours = positions.reduce(
    (sum, { fitterHours, instrumentHours }) => sum + fitterHours + instrumentHours,
    0,
  );
  const windows = days.map((day, w): FleetWindow => {
    const share = tightness * (0.5 + random.uniform());
    return { name: `W${w + 1}`, day, crewHours: Math.round(10 * hours * share) / 10 };
  });
  return { today: 0, windows, lines, positions };
}

function randomPosition(
  random: RandomStream,
  p: number,
  line: string,
  kinds: readonly FleetDiaphragm[],
): FleetPosition {
  const kind = itemAt(kinds, random.below(kinds.length));
  return {
    position: `V${p + 1}`,
    line,
    now: kind,
    next: kind,
    ages: [{ age: random.below(900), chance: 1 }],
    replacementCost: Math.round(80 + 150 * random.uniform()),
    stopShare: 0,
    fitterHours: Math.round(10 * (0.5 + random.uniform())) / 10,
    instrumentHours: random.below(3) === 0 ? 0.4 : 0,
    item: `P${random.below(2) + 1}`,
    latestAge: null,
    until: null,
  };
}
