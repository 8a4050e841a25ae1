/** Options and results of bounds. */
import type { Warning } from '../../../findings.js';
import type { Bounds } from '../../sampleTypes.js';
import type { ShapePrior } from '../fitTypes.js';
import type { BoundedQuantity } from './quantity.js';
import type { RedrawOptions } from './redraw.js';

export type BoundsMethod = 'normal' | 'likelihood' | 'bootstrap' | 'posterior';

export interface BoundsOptions {
  of: BoundedQuantity;
  /** Share of certainty, 0.9 by default: two-sided (each side then at 95 %), or of the one side asked for. */
  level?: number;
  /** 'likelihood' from 5 failures on, 'posterior' below (METHODS 2.1), unless given. */
  method?: BoundsMethod;
  side?: 'both' | 'lower' | 'upper';
  /** Position-robust where a position has two lives or more; true by default (METHODS 1.7). */
  robust?: boolean;
  /** Prior of the shape for 'posterior': the fit's own, or DEFAULT_SHAPE_PRIOR. */
  prior?: ShapePrior;
  /** Seed of the bootstrap; 1 by default. */
  seed?: number;
  /** Bootstrap samples; 1000 by default. */
  draws?: number;
  /**
   * Where bootstrap samples come from: the lives (positions where these repeat), drawn again, by default; or the fitted model, each
   * life watched as it was (see `RedrawOptions`; takes lives as independent of each other).
   */
  resample?: 'lives' | 'model';
  /** Ends of the bootstrap: plain percentiles by default, or corrected for bias and acceleration (BCa: Efron 1987). */
  ends?: 'percentile' | 'bca';
  /** For `resample: 'model'`: what ended the watching of lives that did not fail. */
  redraw?: RedrawOptions;
}

/** `low` is 0 and `high` Infinity (1 for survival) on a side that was not asked for or has no bound. */
export interface LifeBounds extends Bounds {
  level: number;
  side: 'both' | 'lower' | 'upper';
  method: BoundsMethod | 'chi-square';
  /** Whether positions with several lives widened the bounds. */
  robust: boolean;
  warnings: Warning[];
}

/** Ends on the free axis, lower first; infinite where there is no bound. */
export interface FreeBounds {
  low: number;
  high: number;
  /** Estimate on the free axis, where the method has one of its own. */
  middle?: number;
  warnings?: Warning[];
}

/** Chances left out below and above on the free axis. */
export interface Tails {
  below: number;
  above: number;
}
