/** The activation energy that the lives of a material show, where they were kept at different temperatures. */
import { candidates, quickClock } from '../../exposure/clock/fitClock.js';
import { readClocks } from '../../exposure/clock/readClocks.js';
import type { HeatEnergy } from '../../exposure/heat/heatEnergies.js';
import type { Fleet } from '../../fleet/types.js';
import { zOf } from '../../life/empirical/kaplanMeier.js';
import { at, floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { minimiseOnInterval } from '../../numeric/minimise.js';
import { randomStream } from '../../numeric/random.js';
import { findRoot } from '../../numeric/roots.js';
import type { GroupedFleet } from '../types.js';
import { spreadOfLogRatio } from './doseApart.js';
import { doseAt, type HeatBasis, type UsedLives } from './usedLives.js';
import { usualPositions } from './usualPositions.js';
import { countsOf, type WearLives, wearLives } from './wearLives.js';

const LEVEL = 0.9;
/** A group with fewer leaks of 60 days and older says nothing of temperatures. */
const FEWEST_LEAKS = 5;
/** Doses by both ends of the usual range must part by this between lives (as logs), or temperatures are alike. */
const LEAST_SPREAD = 0.04;
const MOST_LIVES = 4000;
/** Searched up to here, kJ/mol; a best one at the end is none. */
const MOST_KJ = 300;
/** Step for slopes, kJ/mol. */
const STEP = 2;

export interface LivesEnergy extends Pick<HeatEnergy, 'material' | 'kJPerMol' | 'low' | 'high'> {
  level: number;
  leaks: number;
  groups: number;
  /** Coldest and hottest steam, clean or service of the positions compared, degrees C. */
  lowestCelsius: number;
  highestCelsius: number;
}

/** One group's lives: each has a law of its own, all have one energy. */
interface Stratum {
  lives: WearLives;
  leaks: number;
}

/** Log-likelihood at one energy: all, and of each position. */
interface Likelihood {
  value: number;
  byPosition: Map<number, number>;
}

/**
 * The energy under which doses tell lives best (maximum likelihood of a Weibull law for each group on the clock of its dose, one energy for
 * all; of the steam alone this is the Arrhenius regression of Meeker & Escobar 1998 ch. 19). Its range (90 %) is where the profile of the
 * likelihood falls by no more than chi-squared asks, and by more where positions differ from each other more than their laws say (the
 * drop times the sum of squared slopes by position over the curvature, after White 1982, from memory). Null where temperatures do
 * not differ within groups, leaks are too few, or nothing is best; the low end is 0 where heat may do nothing.
 */
export function energyFromLives(
  fleet: Fleet,
  { groups, followed }: GroupedFleet,
  used: UsedLives & { heat: HeatBasis },
  material: string,
  seed: number,
): LivesEnergy | null {
  const strata = groups.flatMap((group, g): Stratum[] => {
    if (group.material !== material) return [];
    const rows: number[] = [];
    followed.group.forEach((each, i) => {
      if (each === g) rows.push(i);
    });
    const random = randomStream(seed, `wear/energy/${group.name}`);
    const lives = usualPositions(wearLives(fleet, followed, rows, MOST_LIVES, random), followed, used);
    const [low, high] = used.doseRange;
    const spread = spreadOfLogRatio(lives, followed, low.exposure, high.exposure);
    return lives.leaks < FEWEST_LEAKS || spread < LEAST_SPREAD ? [] : [{ lives, leaks: lives.leaks }];
  });
  if (strata.length === 0) return null;
  const likelihood = profileOf(fleet, followed, used, material, strata);
  const found = bestWithRange(likelihood);
  if (found === null) return null;
  return {
    material,
    ...found,
    level: LEVEL,
    leaks: strata.reduce((total, { leaks }) => total + leaks, 0),
    groups: strata.length,
    ...celsiusOf(fleet, followed, used.heat, strata),
  };
}

function profileOf(
  fleet: Fleet,
  followed: GroupedFleet['followed'],
  used: UsedLives & { heat: HeatBasis },
  material: string,
  strata: readonly Stratum[],
): (kJPerMol: number) => Likelihood {
  return (kJPerMol) => {
    const energies = fleet.materials.map((each) => (each === material ? kJPerMol : Number.NaN));
    const dose = doseAt(fleet, used.heat, energies);
    const total: Likelihood = { value: 0, byPosition: new Map() };
    for (const { lives } of strata) {
      const known = readClocks({
        days: lives.days,
        exposures: { dose: countsOf(lives, followed, used, dose) },
      });
      const clock = candidates(known, 'weibull', false).find(({ name }) => name === 'dose');
      const top = clock === undefined ? null : quickClock(clock);
      if (top?.each === undefined) {
        total.value = -Infinity;
        continue;
      }
      total.value += top.value;
      top.each.forEach((each, k) => {
        const position = at(known.sample.cluster, k);
        const own = total.byPosition.get(position) ?? 0;
        total.byPosition.set(position, own + floatAt(known.sample.count, k) * each);
      });
    }
    return total;
  };
}

function bestWithRange(
  likelihood: (kJPerMol: number) => Likelihood,
): Pick<LivesEnergy, 'kJPerMol' | 'low' | 'high'> | null {
  const value = (kJPerMol: number): number => likelihood(kJPerMol).value;
  const { at: best, value: least } = minimiseOnInterval((x) => -value(x), 0, MOST_KJ, { relative: 1e-3 });
  if (!Number.isFinite(least) || best > MOST_KJ - STEP || best < STEP) return null;
  const floor = -least - dropAt(likelihood, best);
  const over = (x: number): number => value(x) - floor;
  const [first, last] = [over(0), over(MOST_KJ)];
  if (!(last < 0)) return null;
  const top = -least - floor;
  const end = (edge: number, atEdge: number): number =>
    findRoot(over, best, edge, { absolute: 0.2, ends: [top, atEdge] }).root;
  return { kJPerMol: best, low: first < 0 ? end(0, first) : 0, high: end(MOST_KJ, last) };
}

/** How far the log-likelihood may fall. */
function dropAt(likelihood: (kJPerMol: number) => Likelihood, best: number): number {
  const [below, middle, above] = [likelihood(best - STEP), likelihood(best), likelihood(best + STEP)];
  const curvature = -(above.value - 2 * middle.value + below.value) / STEP ** 2;
  let squares = 0;
  for (const [position, value] of above.byPosition) {
    squares += ((value - (below.byPosition.get(position) ?? value)) / (2 * STEP)) ** 2;
  }
  const wider = curvature > 0 ? Math.max(1, squares / curvature) : 1;
  return 0.5 * zOf('energyFromLives', LEVEL) ** 2 * wider;
}

function celsiusOf(
  { lives: table }: Fleet,
  { life }: GroupedFleet['followed'],
  { parts }: HeatBasis,
  strata: readonly Stratum[],
): Pick<LivesEnergy, 'lowestCelsius' | 'highestCelsius'> {
  let [lowestCelsius, highestCelsius] = [Infinity, -Infinity];
  // What ages them most is what tells: the first part is steam where there is any.
  const { celsius } = itemAt(parts, 0);
  for (const { lives } of strata) {
    for (const i of lives.rows) {
      const degrees = floatAt(celsius, wholeAt(table.position, wholeAt(life, i)));
      if (Number.isNaN(degrees)) continue;
      lowestCelsius = Math.min(lowestCelsius, degrees);
      highestCelsius = Math.max(highestCelsius, degrees);
    }
  }
  return { lowestCelsius, highestCelsius };
}
