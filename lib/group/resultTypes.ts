/** A group as the plan reports it: JSON-safe, with what is needed to draw fit against data. */
import type { Warning } from '../findings.js';
import type { WeibullModel } from '../life/model.js';
import type { DamageLife, GroupUse, PlannedLife } from './types.js';

export type { Drawn } from './types.js';

/**
 * Two descriptions of one group's life stand side by side and are never mixed. `model`, `bounds`, `method` and `b10` are what its own
 * leaks say (with under 5 wear-out leaks they say too little, and repeat `planned`; `method` is then 'posterior'). `planned` is
 * what intervals, demand and cost rest on: own data and groups alike. `borrowed` belongs to `planned`.
 */
export interface GroupResult {
  group: string;
  material: string;
  size: number;
  duty: string | null;
  /**
   * Where a clock other than days wears the group: the part of it that this is. Its ages are those of the whole group's counts in days of this
   * use; lives and leaks are those of the whole. Left out elsewhere.
   */
  use?: GroupUse;
  lives: number;
  failures: number;
  earlyLeaks: number;
  /** Leaks that tell of wear-out, of the group and of its material; weights of unknown reasons included. */
  wearLeaks: number;
  materialWearLeaks: number;
  positions: number;
  model: WeibullModel;
  bounds: { shape: [number, number]; scale: [number, number]; share: [number, number] };
  level: number;
  method: 'likelihood' | 'posterior';
  /** Age, days, by which 10 % have leaked by `model`, with bounds at `level` by `method`. */
  b10: [low: number, estimate: number, high: number];
  planned: PlannedLife;
  supportedAge: number | null;
  borrowed: number;
  /** Points of the product-limit estimate against which the fit is drawn; ages of lives that ended without a leak. */
  empirical: { age: number[]; failed: number[]; running: number[] };
  /** Share leaked by age, for drawing: `failed` by the own fit (the planned median where there is none), `planned` by the draws. */
  fitted: {
    age: number[];
    failed: number[];
    planned: { low: number[]; median: number[]; high: number[] };
  };
  /** What would follow if removals without a reason had been leaks less or more often; null where every reason is known. */
  unknown: UnknownResult | null;
  /** Life until damage; null unless the site asks for it. Never priced. */
  damage: DamageLife | null;
  warnings: Warning[];
}

export interface UnknownResult {
  removals: number;
  /** Leaks that they count as in the plan (k = 1). */
  leaks: number;
  /** Factors on the odds of being a leak. */
  k: (number | 'infinite')[];
  /** Age, days, by which 10 % have leaked by the group's own leaks at each k; null where under one wear-out leak is left. */
  b10: (number | null)[];
  /** Whether those ages part by more than 5 % from the one at k = 1. */
  parts: boolean;
  /**
   * Where they part, up to 20 removals whose reason matters most: age in days, chance with which it counts as a leak, and by how
   * many days the age by which 10 % have leaked moves if it was one instead of none.
   */
  rows: { position: string; removed: string; age: number; chance: number; effect: number }[];
}
