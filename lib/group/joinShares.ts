/** The pools of all materials with the share of faulty fittings drawn along with the wear-out (jointShare.ts). */
import type { WearSurface } from '../life/estimate/weibull/wearSurface.js';
import { itemAt } from '../numeric/columns.js';
import { randomStream } from '../numeric/random.js';
import { type FaultModel, faultRows } from './faultModel.js';
import type { CellFit } from './fitCell.js';
import { drawShares, type SharePosterior, shareMean, shareOnGrid } from './fittingFaults.js';
import type { History } from './history.js';
import { type JointShare, jointShare, type ShareGroup } from './jointShare.js';
import type { MaterialPools } from './pools.js';

export interface JoinedPools extends MaterialPools {
  /** Per group: the share of faulty fittings, sweep by sweep. */
  share: Float64Array[];
  /** Per material: what is known of its share, the wear-out integrated over. */
  shares: Map<string, SharePosterior>;
}

export interface JoinSetting {
  history: History;
  fits: readonly CellFit[];
  inflation: readonly number[];
  /** In the order of `fits`, null for a group without lives. */
  surfaces: readonly (WearSurface | null)[];
  faults: FaultModel;
  /** In the order of the shares of `faults`. */
  materials: readonly string[];
  seed: number;
}

/** `pools` were sampled at the mean shares of `faults`; every draw moves to where it goes at the share drawn with it. */
export function joinShares(pools: MaterialPools, setting: JoinSetting): JoinedPools {
  const joined: JoinedPools = { ...pools, logScale: [], logShape: [], share: [], shares: new Map() };
  const materialOf = setting.fits.map(({ cell }) => cell.material);
  for (const material of new Set(materialOf)) {
    const members = materialOf.map((_, g) => g).filter((g) => materialOf[g] === material);
    const groups = members.map((g) => shareGroup(pools, setting, g));
    const { joint, posterior } = shareOf(groups, material, setting);
    const sweeps = itemAt(groups, 0).logShape.length;
    const random = randomStream(setting.seed, `fitting faults/${material}`);
    const share = drawShares(posterior, sweeps, random);
    const logShare = share.map(Math.log);
    joined.shares.set(material, posterior);
    members.forEach((g, i) => {
      const { logShape, logScale } = joint.follow(i, logShare);
      joined.logShape[g] = logShape;
      joined.logScale[g] = logScale;
      joined.share[g] = share;
    });
  }
  return joined;
}

function shareGroup(pools: MaterialPools, setting: JoinSetting, g: number): ShareGroup {
  const { history, fits, inflation, surfaces } = setting;
  const { cell, reading } = itemAt(fits, g);
  return {
    rows: faultRows(history, cell.rows, reading),
    inflation: itemAt(inflation, g),
    logShape: itemAt(pools.logShape, g),
    logScale: itemAt(pools.logScale, g),
    surface: itemAt(surfaces, g),
  };
}

/** The share of a material with its prior; that of the plant for a material that has not been fitted yet. */
function shareOf(
  groups: readonly ShareGroup[],
  material: string,
  { faults, materials }: JoinSetting,
): { joint: JointShare; posterior: SharePosterior } {
  const m = materials.indexOf(material);
  const share = faults.faults[m]?.share ?? shareMean(faults.plant);
  const joint = jointShare(groups, faults.law, share, faults.shown);
  const prior = faults.priors[m];
  if (prior === undefined) return { joint, posterior: faults.plant };
  return { joint, posterior: shareOnGrid((logShare) => joint.logLikelihood(logShare) + prior(logShare)) };
}
