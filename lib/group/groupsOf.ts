/** Groups as the rest of the plan takes them: joint draws, what the own leaks say, practice and warnings. */

import type { Fleet } from '../fleet/types.js';
import { supportedAge } from '../life/empirical/supportedAge.js';
import { borrowedShare } from '../life/estimate/pooling/borrowedShare.js';
import { type SpreadWeights, spreadWeights } from '../life/estimate/pooling/spreadWeights.js';
import { POOLING_PRIORS, type PoolingLayout } from '../life/estimate/pooling.js';
import type { WearSurface } from '../life/estimate/weibull/wearSurface.js';
import type { LifeDraws } from '../life/sampleTypes.js';
import { columnOf, floatAt, itemAt } from '../numeric/columns.js';
import type { Cells } from './cells.js';
import type { FaultModel } from './faultModel.js';
import type { CellFit } from './fitCell.js';
import { type SharePosterior, shareQuantile } from './fittingFaults.js';
import { groupWarnings } from './groupWarnings.js';
import type { History } from './history.js';
import type { JoinedPools } from './joinShares.js';
import { type BoundedModel, LEVEL, ownFit } from './ownFit.js';
import { asBoundedModel, plannedLife } from './planned.js';
import { openingRates, practisedSchedules } from './practised.js';

import type { DamageLife, Group, PlannedLife, PractisedSchedule } from './types.js';
import type { UnknownReasons } from './unknownReasons.js';
import { unknownSensitivity } from './unknownSensitivity.js';
import { wearRecords } from './wearRecords.js';

/** Priors of the spread between groups to try beside that of the plan: half as wide, and twice (METHODS 2.3). */
const OTHER_SPREADS = [0.25, 1];

/** All that was found on the way. Lists are in the order of the groups. */
export interface Setting {
  fleet: Fleet;
  history: History;
  cells: Cells;
  fits: CellFit[];
  inflation: number[];
  surfaces: (WearSurface | null)[];
  layout: PoolingLayout;
  posterior: JoinedPools;
  faults: FaultModel;
  unknown: UnknownReasons;
  /** Null where the site does not ask for damage. */
  damage: (DamageLife | null)[];
}

/** The groups of a setting, in its order. */
export function groupsOf(setting: Setting): Group[] {
  const { fleet, fits, cells, unknown } = setting;
  const schedules = practisedSchedules(fleet, cells.cells);
  const openings = openingRates(fleet, cells.cells, unknown.openedChance);
  const wearLeaksOf = (material: string): number =>
    fits.reduce((sum, fit) => sum + (fit.cell.material === material ? fit.wearLeaks : 0), 0);
  return fits.map((fit, g) =>
    describeOne(setting, g, {
      today: itemAt(schedules, g),
      openingsPerYear: itemAt(openings, g),
      materialWearLeaks: wearLeaksOf(fit.cell.material),
    }),
  );
}

interface Around {
  today: PractisedSchedule;
  openingsPerYear: number;
  materialWearLeaks: number;
}

function describeOne(setting: Setting, g: number, around: Around): Group {
  const { fleet, history, posterior, fits, surfaces, inflation } = setting;
  const fit = itemAt(fits, g);
  const { cell } = fit;
  const draws = drawsOf(setting, g);
  const { planned, own } = livesOf(setting, g, draws);
  const sensitivity = unknownSensitivity(fleet, history, fit);
  const share = shareOf(setting, cell.material);
  const reach = supportedAge(fit.sample, { wholeDays: true });
  return {
    name: cell.name,
    material: cell.material,
    size: cell.size,
    duty: cell.duty,
    lives: cell.rows.length,
    failures: fit.failures,
    earlyLeaks: fit.earlyLeaks,
    wearLeaks: fit.wearLeaks,
    materialWearLeaks: around.materialWearLeaks,
    positions: [...cell.positions].sort((a, b) => a - b),
    sample: fit.sample,
    records: own.method === 'likelihood' ? wearRecords(fleet, history, fit) : null,
    model: own.model,
    bounds: {
      shape: own.shape,
      scale: own.scale,
      share: [shareQuantile(share, (1 - LEVEL) / 2), shareQuantile(share, (1 + LEVEL) / 2)],
    },
    level: LEVEL,
    method: own.method,
    b10: own.b10,
    planned,
    supportedAge: reach,
    borrowed: borrowedShare(itemAt(posterior.logScale, g), itemAt(surfaces, g), flatPrior(setting, g)),
    inflation: itemAt(inflation, g),
    unknown: sensitivity,
    damage: itemAt(setting.damage, g),
    draws,
    otherSpreads: OTHER_SPREADS.map((spread) => weightsUnder(posterior, g, spread)),
    warnings: groupWarnings({
      fleet,
      history,
      fit,
      supportedAge: reach,
      practisedDays: around.today.days,
      materialWearLeaks: around.materialWearLeaks,
      planned,
      sensitivity,
    }),
    today: around.today,
    openingsPerYear: around.openingsPerYear,
  };
}

/** What is planned on, and beside it what the group's own leaks say; the same where they are too few to say anything. */
function livesOf(setting: Setting, g: number, draws: LifeDraws): { planned: PlannedLife; own: BoundedModel } {
  const { fits, surfaces, posterior } = setting;
  const { own, fault } = itemAt(fits, g);
  const surface = itemAt(surfaces, g);
  const planned = plannedLife(itemAt(posterior.logShape, g), itemAt(posterior.logScale, g), draws);
  const alone = own !== null && surface !== null;
  return { planned, own: alone ? ownFit(own, surface, fault) : asBoundedModel(planned, fault) };
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

function drawsOf({ posterior, faults }: Setting, g: number): LifeDraws {
  return {
    shape: drawnOf(itemAt(posterior.logShape, g), itemAt(posterior.drawn, g)).map(Math.exp),
    scale: drawnOf(itemAt(posterior.logScale, g), itemAt(posterior.drawn, g)).map(Math.exp),
    share: drawnOf(itemAt(posterior.share, g), itemAt(posterior.drawn, g)),
    faultShape: faults.law.shape,
    faultScale: faults.law.scale,
  };
}

function drawnOf(column: Float64Array, drawn: Int32Array): Float64Array {
  return columnOf(drawn, (sweep) => floatAt(column, sweep));
}

/** Draws of a group weighed as another prior of the spread between groups would have them. */
function weightsUnder(posterior: JoinedPools, g: number, spread: number): SpreadWeights {
  const drawn = drawnOf(itemAt(posterior.betweenScale, g), itemAt(posterior.drawn, g));
  return spreadWeights(drawn, POOLING_PRIORS.betweenScale, spread);
}

function shareOf({ posterior, faults }: Setting, material: string): SharePosterior {
  return posterior.shares.get(material) ?? faults.plant;
}
