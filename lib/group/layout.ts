/** Groups laid out for the pooling model: places on the log-scale axis and where their flat priors are centred. */
import type { PooledGroup, PooledLocation, PoolingLayout } from '../life/estimate/pooling.js';
import { bestLogScale, LOG_SCALE_LIMITS, wearColumns } from '../life/estimate/weibull/wearColumn.js';
import type { WearSurface } from '../life/estimate/weibull/wearSurface.js';
import { prepareRows } from '../life/estimate/weibull/weibullLikelihood.js';
import type { FittingFault } from '../life/model.js';
import { itemAt } from '../numeric/columns.js';
import type { CellFit } from './fitCell.js';
import type { History } from './history.js';
import { heldMaximum } from './ownFit.js';
import { sampleOf } from './samples.js';

const REFERENCE_SIZE = 25;
/** Where nothing at all is known: ten years. Only the middle of a prior that is e^3 wide either way. */
const NO_IDEA_DAYS = 3653;

/** `surfaces` in the order of `fits`, null for a group without lives. */
export function poolingLayout(
  history: History,
  fits: readonly CellFit[],
  surfaces: readonly (WearSurface | null)[],
): PoolingLayout {
  const materials = [...new Set(fits.map(({ cell }) => cell.material))];
  const plant = centreOf(history, fits, Math.log(NO_IDEA_DAYS));
  const locations: PooledLocation[] = materials.map((material) => ({
    parent: null,
    centre: centreOf(
      history,
      fits.filter(({ cell }) => cell.material === material),
      plant,
    ),
  }));
  const dutyIndex = new Map<string, number>();
  const groups = fits.map(({ cell }, g): PooledGroup => {
    const material = materials.indexOf(cell.material);
    return {
      location: cell.duty === null ? material : dutyLocation(cell.duty, material, dutyIndex, locations),
      logSize: Math.log(cell.size / REFERENCE_SIZE),
      surface: itemAt(surfaces, g),
    };
  });
  return { groups, locations };
}

/** Index of a duty of a material, made when first met. */
function dutyLocation(
  duty: string,
  material: number,
  known: Map<string, number>,
  locations: PooledLocation[],
): number {
  const key = `${material}/${duty}`;
  const index = known.get(key) ?? locations.length;
  if (index === locations.length) {
    locations.push({ parent: material, centre: itemAt(locations, material).centre });
    known.set(key, index);
  }
  return index;
}

/**
 * Pooled estimate of log scale over groups. Where nothing wore out: as long as half a leak would make it, but not below
 * `fallback`, the plant's.
 */
function centreOf(history: History, fits: readonly CellFit[], fallback: number): number {
  const rows = fits.flatMap(({ cell }) => cell.rows);
  if (rows.length === 0) return fallback;
  const fault: FittingFault = itemAt(fits, 0).hiddenFault;
  const reading = itemAt(fits, 0).reading;
  const prepared = prepareRows(sampleOf(history, rows, reading), fault);
  // Leaks of faulty fittings say nothing of wear-out: with them alone its best scale runs to infinity.
  if (fits.reduce((sum, fit) => sum + fit.wearLeaks, 0) >= 1) {
    const { shape } = heldMaximum(prepared);
    return within(bestLogScale(prepared, Math.log(shape)));
  }
  return within(Math.max(fallback, wearColumns(prepared)(Math.log(2)).nudgedLogScale));
}

function within(logScale: number): number {
  return Math.min(Math.max(logScale, LOG_SCALE_LIMITS[0] + 3), LOG_SCALE_LIMITS[1] - 3);
}
