/** Life models of every group of a fleet, pooled, with what the plant does today and where every diaphragm stands. */
import type { Fleet } from '../fleet/types.js';
import { POOLING_PRIORS, type PoolingLayout } from '../life/estimate/pooling.js';
import { type WearSurface, wearSurface } from '../life/estimate/wearSurface.js';
import type { FittingFault } from '../life/model.js';
import type { LifeDraws } from '../life/sampleTypes.js';
import { floatAt, itemAt } from '../numeric/columns.js';
import { randomStream } from '../numeric/random.js';
import { borrowedShare } from './borrowed.js';
import { type Cells, type GroupCell, groupCells } from './cells.js';
import { type FaultModel, findFittingFaults } from './faultModel.js';
import { type CellFit, fitCell, PLAN_READING, unknownReadings } from './fitCell.js';
import { drawShares, type SharePosterior, shareMean, shareQuantile } from './fittingFaults.js';
import { fleetWarnings, poolingNotes } from './fleetNotes.js';
import { groupWarnings } from './groupWarnings.js';
import { type History, readHistory, rowsByMaterial } from './history.js';
import { poolingLayout } from './layout.js';
import { LEVEL, likelihoodModel, type PlanningModel, posteriorModel } from './planningModel.js';
import { type MaterialPools, poolByMaterial } from './pools.js';
import { openingRates, practisedSchedules } from './practised.js';
import { inflationOf } from './repeats.js';
import { runningDiaphragms } from './running.js';
import { testDuties } from './splitByDuty.js';
import { supportedAge } from './supportedAge.js';
import type { Group, GroupedFleet, PractisedSchedule } from './types.js';
import { type UnknownReasons, weighUnknownReasons } from './unknownReasons.js';

export interface GroupOptions {
  /** Seed of the posterior draws, a whole number. */
  seed: number;
  /** Joint posterior draws per group; 400 by default. */
  draws?: number;
}

const DRAWS = 400;

/**
 * Groups of a fleet (material and size, and duty where the history shows that duties differ) with their life models: one
 * joint posterior over all groups, and per group a planning model with 90 % bounds. Pure; the same seed gives the same result.
 */
export function groupFleet(fleet: Fleet, options: GroupOptions): GroupedFleet {
  const draws = options.draws ?? DRAWS;
  const history = readHistory(fleet);
  const unknown = weighUnknownReasons(fleet, history);
  const byMaterial = rowsByMaterial(history, fleet.materials.length);
  const faults = findFittingFaults(history, byMaterial, fleet.materials, PLAN_READING);
  const duties = splitMaterials(fleet, history, byMaterial, faults);
  const cells = groupCells(fleet, history, (material) => duties.split.has(material));
  const fits = cells.cells.map((cell) => fitCell(history, cell, faultOf(fleet, faults, cell), faults.shown));
  const inflation = inflations(fits);
  const surfaces = fits.map((fit, g) =>
    fit.cell.rows.length === 0 ? null : wearSurface(fit.rows, itemAt(inflation, g)),
  );
  const layout = poolingLayout(history, fits, surfaces);
  const posterior = poolByMaterial(
    layout,
    fits.map(({ cell }) => cell.material),
    { seed: options.seed, draws },
  );
  const setting: Setting = {
    fleet,
    history,
    cells,
    fits,
    inflation,
    surfaces,
    layout,
    posterior,
    faults,
    unknown,
  };
  const groups = describe(setting, shareDraws(setting, draws, options.seed));
  return {
    groups,
    running: runningDiaphragms(
      fleet,
      cells,
      groups.map((group) => group.model),
    ),
    notes: [...duties.notes, ...faults.notes, ...poolingNotes(setting)],
    effectiveDraws: posterior.effectiveSize,
    leaksWithoutReason: unknown.leaks,
    warnings: fleetWarnings(setting),
  };
}

/** All that was found on the way. Lists are in the order of the groups. */
interface Setting {
  fleet: Fleet;
  history: History;
  cells: Cells;
  fits: CellFit[];
  inflation: number[];
  surfaces: (WearSurface | null)[];
  layout: PoolingLayout;
  posterior: MaterialPools;
  faults: FaultModel;
  unknown: UnknownReasons;
}

/** Which materials are split by duty. Repeats of positions are measured within size and duty. */
function splitMaterials(
  fleet: Fleet,
  history: History,
  byMaterial: readonly (readonly number[])[],
  faults: FaultModel,
): { split: Set<string>; notes: string[] } {
  const fine = groupCells(fleet, history, () => true).cells;
  const split = new Set<string>();
  const notes = fleet.materials.map((material, m) => {
    const cells = fine.filter((cell) => cell.material === material);
    const one = new Set(cells.map((cell) => cell.duty)).size < 2;
    const repeats = one
      ? []
      : cells.flatMap(
          (cell) => fitCell(history, cell, faultOf(fleet, faults, cell), faults.shown).repeats ?? [],
        );
    const test = testDuties(
      fleet,
      history,
      itemAt(byMaterial, m),
      PLAN_READING,
      material,
      inflationOf(repeats),
    );
    if (test.split) split.add(material);
    return test.note;
  });
  return { split, notes };
}

/** Fitting faults of a group's material; of the plant for a material that has not been fitted yet. */
function faultOf(fleet: Fleet, faults: FaultModel, cell: GroupCell): FittingFault {
  const fault = faults.faults[fleet.materials.indexOf(cell.material)];
  return fault ?? { ...faults.law, share: shareMean(faults.plant) };
}

function shareOf({ fleet, faults }: Setting, material: string): SharePosterior {
  return faults.shares[fleet.materials.indexOf(material)] ?? faults.plant;
}

/** By how much each group's log-likelihood is divided: repeats of positions by material, unknown reasons by group. */
function inflations(fits: readonly CellFit[]): number[] {
  const byMaterial = new Map<string, number>();
  for (const { cell } of fits) {
    if (byMaterial.has(cell.material)) continue;
    const repeats = fits
      .filter((fit) => fit.cell.material === cell.material)
      .flatMap((fit) => fit.repeats ?? []);
    byMaterial.set(cell.material, inflationOf(repeats));
  }
  return fits.map(({ cell, missing }) => (byMaterial.get(cell.material) ?? 1) * missing);
}

/** One column of share draws per material. */
function shareDraws(setting: Setting, draws: number, seed: number): Map<string, Float64Array> {
  const materials = [...new Set(setting.fits.map(({ cell }) => cell.material))];
  return new Map(
    materials.map((material) => [
      material,
      drawShares(shareOf(setting, material), draws, randomStream(seed, `fitting faults/${material}`)),
    ]),
  );
}

function describe(setting: Setting, shares: ReadonlyMap<string, Float64Array>): Group[] {
  const { fleet, fits, cells, unknown } = setting;
  const schedules = practisedSchedules(fleet, cells.cells);
  const openings = openingRates(fleet, cells.cells, unknown.openedChance);
  const leaked = new Set(fits.filter((fit) => fit.failures > 0).map(({ cell }) => cell.material));
  return fits.map((fit, g) =>
    describeOne(setting, g, {
      today: itemAt(schedules, g),
      openingsPerYear: itemAt(openings, g),
      materialLeaked: leaked.has(fit.cell.material),
      share: shares.get(fit.cell.material) ?? new Float64Array(),
    }),
  );
}

interface Around {
  today: PractisedSchedule;
  openingsPerYear: number;
  materialLeaked: boolean;
  share: Float64Array;
}

function describeOne(setting: Setting, g: number, around: Around): Group {
  const { fleet, history, posterior, fits, surfaces, inflation } = setting;
  const fit = itemAt(fits, g);
  const { cell } = fit;
  const planning = planningModel(setting, g);
  const share = shareOf(setting, cell.material);
  const reach = supportedAge(fit.sample);
  return {
    name: cell.name,
    material: cell.material,
    size: cell.size,
    duty: cell.duty,
    lives: cell.rows.length,
    failures: fit.failures,
    earlyLeaks: fit.earlyLeaks,
    positions: [...cell.positions].sort((a, b) => a - b),
    sample: fit.sample,
    model: planning.model,
    bounds: {
      shape: planning.shape,
      scale: planning.scale,
      share: [shareQuantile(share, (1 - LEVEL) / 2), shareQuantile(share, (1 + LEVEL) / 2)],
    },
    level: LEVEL,
    method: planning.method,
    supportedAge: reach,
    borrowed: borrowedShare(itemAt(posterior.logScale, g), itemAt(surfaces, g), flatPrior(setting, g)),
    inflation: itemAt(inflation, g),
    unknownReasons: unknownReadings(history, fit),
    draws: drawsOf(setting, g, around.share),
    warnings: groupWarnings({
      fleet,
      history,
      fit,
      model: planning.model,
      supportedAge: reach,
      practisedDays: around.today.days,
      materialLeaked: around.materialLeaked,
    }),
    today: around.today,
    openingsPerYear: around.openingsPerYear,
  };
}

function planningModel({ fits, surfaces, posterior }: Setting, g: number): PlanningModel {
  const { own, fault } = itemAt(fits, g);
  const surface = itemAt(surfaces, g);
  if (own !== null && surface !== null) return likelihoodModel(own, surface, fault);
  return posteriorModel(itemAt(posterior.logShape, g), itemAt(posterior.logScale, g), fault);
}

function flatPrior({ layout }: Setting, g: number): Parameters<typeof borrowedShare>[2] {
  const [shapeMean, centreSd] = POOLING_PRIORS.shapeCentre;
  return {
    centre: itemAt(layout.locations, itemAt(layout.groups, g).location).centre,
    halfWidth: POOLING_PRIORS.materialHalfWidth,
    shapeMean,
    shapeSd: Math.hypot(centreSd, POOLING_PRIORS.betweenShape),
  };
}

function drawsOf({ posterior, faults }: Setting, g: number, share: Float64Array): LifeDraws {
  return {
    shape: drawnOf(itemAt(posterior.logShape, g), itemAt(posterior.drawn, g)).map(Math.exp),
    scale: drawnOf(itemAt(posterior.logScale, g), itemAt(posterior.drawn, g)).map(Math.exp),
    share,
    faultShape: faults.law.shape,
    faultScale: faults.law.scale,
  };
}

function drawnOf(column: Float64Array, drawn: Int32Array): Float64Array {
  return Float64Array.from(drawn, (sweep) => floatAt(column, sweep));
}
