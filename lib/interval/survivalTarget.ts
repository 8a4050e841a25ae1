/** Leave or replace, for positions where only holding tight until the next window counts (METHODS 4.4). */
import { quantileSorted } from 'simple-statistics';
import { survival } from '../life/distribution/index.js';
import type { LifeDraws } from '../life/sampleTypes.js';
import { floatAt } from '../numeric/columns.js';

export interface SafestAct {
  act: 'leave' | 'replace';
  /** Lower bound of the chance to hold over the window if left in place, and if replaced now. */
  left: number;
  replaced: number;
  /** Whether the better act meets the target; null without a target. */
  meetsTarget: boolean | null;
}

export interface SafestActOptions {
  /** One-sided level of the bounds; 0.9 by default. */
  level?: number;
  /** Chance of holding that is asked for. */
  target?: number;
}

/**
 * Compares lower bounds of S(age + days) / S(age) if left and S(days) if replaced, over the draws; ties go to leaving.
 * With fitting faults a fresh diaphragm can be the riskier one for months. `fresh` are the draws of what would be
 * fitted, by default the same.
 */
export function safestAct(
  draws: LifeDraws,
  ageDays: number,
  days: number,
  fresh: LifeDraws = draws,
  { level = 0.9, target }: SafestActOptions = {},
): SafestAct {
  const left = lowerBound(draws, ageDays, days, level);
  const replaced = lowerBound(fresh, 0, days, level);
  const better = Math.max(left, replaced);
  return {
    act: replaced > left ? 'replace' : 'leave',
    left,
    replaced,
    meetsTarget: target === undefined ? null : better >= target,
  };
}

function lowerBound(draws: LifeDraws, age: number, days: number, level: number): number {
  const values = Array.from(draws.shape, (shape, d) => {
    const model = {
      kind: 'weibull' as const,
      shape,
      scale: floatAt(draws.scale, d),
      fault: { share: floatAt(draws.share, d), shape: draws.faultShape, scale: draws.faultScale },
    };
    const now = survival(model, age);
    return now > 0 ? survival(model, age + days) / now : 0;
  });
  return quantileSorted(
    values.sort((a, b) => a - b),
    1 - level,
  );
}
