/** Life models of every group of a fleet, pooled, with what the plant does today and where every diaphragm stands. */
import type { Fleet } from '../fleet/types.js';
import { wearSurface } from '../life/estimate/weibull/wearSurface.js';
import type { FittingFault } from '../life/model.js';
import { itemAt } from '../numeric/columns.js';
import { type ClockedGroups, clockedGroups, reAge } from './byUse/reAge.js';
import { splitByUse } from './byUse/splitByUse.js';
import { type Cells, type GroupCell, groupCells } from './cells.js';
import { damageLives } from './damageLives.js';
import { type FaultModel, faultNotes, findFittingFaults } from './faultModel.js';
import { type CellFit, fitCell, PLAN_READING } from './fitCell.js';
import { shareMean } from './fittingFaults.js';
import { fleetWarnings, groupingNotes } from './fleetNotes.js';
import { groupsOf, type Setting } from './groupsOf.js';
import { type History, readHistory, rowsByMaterial } from './history.js';
import { joinShares } from './joinShares.js';
import { poolingLayout } from './layout.js';
import { poolByMaterial } from './pools.js';
import { inflationOf } from './repeats.js';
import { runningDiaphragms } from './running.js';
import { testDuties } from './splitByDuty.js';
import { followedLives } from './standOut/followed.js';
import type { GroupedFleet } from './types.js';
import { type UnknownReasons, weighUnknownReasons } from './unknownReasons.js';
import type { Wear } from './wear/types.js';

export interface GroupOptions {
  /** Seed of the posterior draws, a whole number. */
  seed: number;
  /** Joint posterior draws per group; 400 by default. */
  draws?: number;
}

/** What was found to wear groups besides days, and the groups in days that it was found on. */
export interface FoundClocks {
  inDays: GroupedFleet;
  wear: Pick<Wear, 'clocks' | 'worn'>;
}

const DRAWS = 400;

/** The groups of a fleet before they are pooled: which there are, and what was counted and fitted in each alone. */
export interface FittedGroups {
  history: History;
  unknown: UnknownReasons;
  faults: FaultModel;
  cells: Cells;
  /** In the order of the cells. */
  fits: CellFit[];
  /** Whether materials were split by duty, and why. */
  notes: string[];
  /** Groups on other clocks than days, by index. */
  clocked: ClockedGroups;
}

/**
 * Groups of a fleet with the fit of each by its own leaks: all of `groupFleet` but the drawing. With `found`, groups whose clock is not days
 * are fitted on their clock. Pure.
 */
export function fitGroups(fleet: Fleet, found?: FoundClocks): FittedGroups {
  const history = readHistory(fleet);
  const unknown = weighUnknownReasons(fleet, history);
  const byMaterial = rowsByMaterial(history, fleet.materials.length);
  const fine = groupCells(fleet, history, () => true).cells;
  const rowsOfCells = fleet.materials.map((material) =>
    fine.filter((cell) => cell.material === material).map(({ rows }) => rows),
  );
  const faults = findFittingFaults(history, rowsOfCells, PLAN_READING);
  const fitOf = rememberedFits(fleet, history, faults);
  const duties = splitMaterials(fleet, history, byMaterial, fine, fitOf);
  const cells = groupCells(fleet, history, (material) => duties.split.has(material));
  const { notes } = duties;
  if (found === undefined)
    return { history, unknown, faults, cells, fits: cells.cells.map(fitOf), notes, clocked: new Map() };
  const clocked = clockedGroups(cells.cells, found.wear);
  const aged = reAge(fleet, history, cells, clocked);
  const fits = aged.cells.cells.map((cell, g) =>
    clocked.has(g) ? fitCell(aged.history, cell, faultOf(fleet, faults, cell), faults.shown) : fitOf(cell),
  );
  return { ...aged, unknown, faults, fits, notes, clocked };
}

/**
 * Groups of a fleet (material and size, and duty where the history shows that duties differ) with their life models: one
 * joint posterior over all groups, whose draws everything is planned on, and per group what its own leaks say, with 90 % bounds. Pure; the same seed gives the same result.
 */
export function groupFleet(fleet: Fleet, options: GroupOptions): GroupedFleet {
  return drawGroups(fleet, fitGroups(fleet), options);
}

/**
 * The same where other clocks than days were found to wear some groups: these are fitted and pooled on their clocks and come in classes of
 * positions used about alike, each in days of its own use. `parentOf` says which group of `found.inDays` each is part of.
 */
export function groupByUse(
  fleet: Fleet,
  found: FoundClocks,
  options: GroupOptions,
): { grouped: GroupedFleet; parentOf: number[] } {
  const fitted = fitGroups(fleet, found);
  const whole = drawGroups(fleet, fitted, options);
  return splitByUse(fleet, whole, found.inDays, fitted.cells, fitted.clocked);
}

function drawGroups(fleet: Fleet, fitted: FittedGroups, options: GroupOptions): GroupedFleet {
  const draws = options.draws ?? DRAWS;
  const { history, unknown, faults, cells, fits, notes } = fitted;
  const inflation = inflations(fits);
  const surfaces = fits.map((fit, g) =>
    fit.cell.rows.length === 0 ? null : wearSurface(fit.rows, itemAt(inflation, g)),
  );
  const layout = poolingLayout(history, fits, surfaces);
  const pools = poolByMaterial(
    layout,
    fits.map(({ cell }) => cell.material),
    { seed: options.seed, draws },
  );
  const { materials } = fleet;
  const posterior = joinShares(pools, {
    history,
    fits,
    inflation,
    surfaces,
    faults,
    materials,
    seed: options.seed,
  });
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
    damage: damageLives(fleet, cells.cells, options.seed),
  };
  const groups = groupsOf(setting);
  return {
    groups,
    running: runningDiaphragms(
      fleet,
      cells,
      groups.map(({ planned, model }) => ({
        ...model,
        shape: planned.shape.median,
        scale: planned.scale.median,
      })),
    ),
    notes: [...notes, ...notesOfFaults(setting), ...groupingNotes(setting)],
    leaksWithoutReason: unknown.leaks,
    followed: followedLives(history, fits),
    warnings: fleetWarnings(setting),
  };
}

/** Which materials are split by duty; `fine` are the groups if all were. Repeats of positions are measured within size and duty. */
function splitMaterials(
  fleet: Fleet,
  history: History,
  byMaterial: readonly (readonly number[])[],
  fine: readonly GroupCell[],
  fitOf: (cell: GroupCell) => CellFit,
): { split: Set<string>; notes: string[] } {
  const split = new Set<string>();
  const notes = fleet.materials.map((material, m) => {
    const cells = fine.filter((cell) => cell.material === material);
    const one = new Set(cells.map((cell) => cell.duty)).size < 2;
    const repeats = one ? [] : cells.flatMap((cell) => fitOf(cell).repeats ?? []);
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

/** Fits of cells, each once: those by duty serve the test whether to split and, where it splits, the groups. */
function rememberedFits(fleet: Fleet, history: History, faults: FaultModel): (cell: GroupCell) => CellFit {
  const known = new Map<string, CellFit>();
  return (cell) => {
    const key = JSON.stringify([cell.material, cell.size, cell.duty]);
    const fit = known.get(key) ?? fitCell(history, cell, faultOf(fleet, faults, cell), faults.shown);
    known.set(key, fit);
    return { ...fit, cell };
  };
}

function notesOfFaults({ fleet, faults, posterior }: Setting): string[] {
  const shares = fleet.materials.map((material) => posterior.shares.get(material) ?? faults.plant);
  return faultNotes(fleet.materials, faults, shares);
}

/** Fitting faults of a group's material; of the plant for a material that has not been fitted yet. */
function faultOf(fleet: Fleet, faults: FaultModel, cell: GroupCell): FittingFault {
  const fault = faults.faults[fleet.materials.indexOf(cell.material)];
  return fault ?? { ...faults.law, share: shareMean(faults.plant) };
}

/** By how much each group's log-likelihood is divided: repeats of positions by material, reasons mostly unknown by group. */
function inflations(fits: readonly CellFit[]): number[] {
  const byMaterial = new Map<string, number>();
  for (const { cell } of fits) {
    if (byMaterial.has(cell.material)) continue;
    const repeats = fits
      .filter((fit) => fit.cell.material === cell.material)
      .flatMap((fit) => fit.repeats ?? []);
    byMaterial.set(cell.material, inflationOf(repeats));
  }
  return fits.map(({ cell, unsure }) => (byMaterial.get(cell.material) ?? 1) * unsure);
}
