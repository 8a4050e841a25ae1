/** What the records of each group can support, by the same counts and thresholds as the plan, before anything is pooled. */
import type { Fleet } from '../fleet/types.js';
import { counted } from '../numeric/words.js';
import { unknownResult } from './describe.js';
import type { CellFit } from './fitCell.js';
import { type FittedGroups, fitGroups } from './groupFleet.js';
import { LEAKS_TO_JUDGE, LEAST_WEAR_LEAKS, OWN_LEAKS } from './ownFit.js';
import type { UnknownResult } from './resultTypes.js';
import { unknownSensitivity } from './unknownSensitivity.js';

/**
 * - `tested`: a fit of its own, and enough leaks to test it.
 * - `own`: a fit of its own.
 * - `pooled`: it leans on the other groups of the material.
 * - `assumed`: no group of the material has a leak to lend; the shape is what was assumed.
 */
export type Support = 'tested' | 'own' | 'pooled' | 'assumed';

export interface GroupSupport {
  group: string;
  material: string;
  size: number;
  duty: string | null;
  /** Positions that hold it now or will be refitted with it; 0 where it is no longer used. */
  positions: number;
  /** Lives in the fit. */
  lives: number;
  /** Leaks in the fit, weights of unknown reasons included; of them those that tell of wear-out, of the group and of its material. */
  leaks: number;
  wearLeaks: number;
  materialWearLeaks: number;
  support: Support;
  /** The same in words, without the name of the group. */
  text: string;
  /** What unknown reasons may mean; null where every reason is known. */
  unknown: UnknownResult | null;
}

/** Every group of the plan, in its order. */
export function groupSupport(fleet: Fleet): GroupSupport[] {
  const fitted = fitGroups(fleet);
  return fitted.fits.map((fit) => supportOf(fleet, fitted, fit));
}

function supportOf(fleet: Fleet, { history, fits }: FittedGroups, fit: CellFit): GroupSupport {
  const { cell, failures, wearLeaks } = fit;
  const materialWearLeaks = fits.reduce(
    (sum, other) => sum + (other.cell.material === cell.material ? other.wearLeaks : 0),
    0,
  );
  const sensitivity = unknownSensitivity(fleet, history, fit);
  const support = kindOf(fit, materialWearLeaks);
  return {
    group: cell.name,
    material: cell.material,
    size: cell.size,
    duty: cell.duty,
    positions: cell.positions.size,
    lives: cell.rows.length,
    leaks: failures,
    wearLeaks,
    materialWearLeaks,
    support,
    text: `${counted(wearLeaks, 'wear-out leak', 'wear-out leaks', 'no wear-out leak')}: ${meaning(fit, support)}`,
    unknown: sensitivity === null ? null : unknownResult(sensitivity, fleet.positions),
  };
}

function kindOf({ failures, own }: CellFit, materialWearLeaks: number): Support {
  if (own !== null) return failures >= LEAKS_TO_JUDGE ? 'tested' : 'own';
  return materialWearLeaks >= LEAST_WEAR_LEAKS ? 'pooled' : 'assumed';
}

function meaning({ cell, wearLeaks }: CellFit, support: Support): string {
  switch (support) {
    case 'tested':
      return 'an interval can be estimated from its own leaks, and the fit can be tested';
    case 'own':
      return `an interval can be estimated from its own leaks; the fit cannot be tested (that takes ${LEAKS_TO_JUDGE} leaks)`;
    case 'pooled':
      if (cell.rows.length === 0) return 'no life on record, predicted from the other groups of the material';
      return wearLeaks >= OWN_LEAKS
        ? 'they point to no sensible curve, pooled with the other groups of the material only'
        : `pooled with the other groups of the material only (its own fit takes ${OWN_LEAKS})`;
    case 'assumed':
      return 'no group of the material has a leak to lend, so how it wears out is assumed';
  }
}
