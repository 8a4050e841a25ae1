/**
 * Cost of block replacement: a new diaphragm every T units of time whatever its age, and at every leak or opening between.
 *
 * With M(T) renewals of the lives that end by a leak or an opening, and q(x) the cost of leaks per unit of age at age x of a
 * fresh diaphragm, Q(T) its integral, leaks up to T cost
 *
 *     C(T) = Q(T) + integral of M(T - x) q(x) from 0 to T
 *
 * and the rate is [replacement + C(T)] / T and the openings, which come at their own rate whatever is done. It goes to that of
 * running until it leaks as T grows.
 */
import type { FittingFault, LifeModel, WeibullModel } from '../../life/model.js';
import { type Renewals, renewalsOf } from '../../life/renewal.js';
import { floatAt } from '../../numeric/columns.js';
import { type Cycle, wearShare } from '../cycle.js';
import { knownCycle } from '../knownCycle.js';
import { type AgeCosts, drawRate } from '../rates.js';

export interface Block {
  costs: AgeCosts;
  renewals: Renewals;
  /** Cost of openings per unit of time. */
  openings: number;
  /** Cost per unit of time where it is left until it leaks. */
  rateRun: number;
  /** What leaks before T cost; `renewed` is M(T) where it is known already. */
  leaks(T: number, renewed?: number): number;
  /** Slope of that over T. */
  leaksSlope(T: number): number;
  /** Cost per unit of time. */
  rate(T: number, renewed?: number): number;
}

/** Trusts its costs. @throws UsageError in the name of `where` for models out of range */
export function blockOf(where: string, model: LifeModel, costs: AgeCosts, openingRate = 0): Block {
  const cycle = knownCycle(where, model, openingRate);
  const ends: LifeModel =
    openingRate > 0
      ? { kind: 'competing', modes: [model, { kind: 'exponential', scale: 1 / openingRate }] }
      : model;
  const renewals = renewalsOf(ends);
  const openings = costs.opening * openingRate;
  const leaks = hasFaults(model)
    ? leaksWithFaults(model, costs, cycle, renewals)
    : leaksWithout(costs, renewals, openingRate);
  return {
    costs,
    renewals,
    openings,
    rateRun: drawRate(cycle.partsAt(Infinity), costs, openingRate, 0),
    ...leaks,
    rate: (T, renewed) => (costs.replacement + leaks.leaks(T, renewed)) / T + openings,
  };
}

type Leaks = Pick<Block, 'leaks' | 'leaksSlope'>;

/** Every renewal that is no opening is a leak, and all cost the same. */
function leaksWithout(
  { wearLeak }: AgeCosts,
  { curve, withAtOnce, perLasting }: Renewals,
  rate: number,
): Leaks {
  return {
    leaks: (T, renewed = curve.count(T)) => wearLeak * (withAtOnce(renewed) - rate * T),
    leaksSlope: (T) => wearLeak * (perLasting * curve.rate(T) - rate),
  };
}

function leaksWithFaults(
  { shape, scale, fault }: WeibullModel & { fault: FittingFault },
  { earlyLeak, wearLeak }: AgeCosts,
  cycle: Cycle,
  { curve }: Renewals,
): Leaks {
  const { share } = fault;
  const perAge = (x: number): number => {
    const early = (x / fault.scale) ** fault.shape;
    const wear = (x / scale) ** shape;
    const atX = (share * Math.exp(-early) * fault.shape * early * earlyLeak) / x;
    const sound = 1 + share * Math.expm1(-early);
    return Math.exp(-wear - cycle.openingsPerDay * x) * (atX + (sound * shape * wear * wearLeak) / x);
  };
  const first = (T: number): number => {
    const parts = cycle.partsAt(T);
    return earlyLeak * floatAt(parts.early, 0) + wearLeak * wearShare(parts, 0);
  };
  return {
    leaks: (T) => first(T) + curve.countAfter(perAge, T),
    leaksSlope: (T) => perAge(T) + curve.rateAfter(perAge, T),
  };
}

function hasFaults(model: LifeModel): model is WeibullModel & { fault: FittingFault } {
  return model.kind === 'weibull' && model.fault !== undefined && model.fault.share > 0;
}
