/** What is asked of a choice of clock, and what it says. */
import type { RegressionKind } from '../../life/estimate/regression/types.js';
import type { FittedModel } from '../../life/model.js';
import type { Bounds, LifeSample } from '../../life/sampleTypes.js';

/** The name of the clock that everybody has. */
export const DAYS = 'days';

/** What a counter stood at along each life, counted from its fitting. Columns as long as the sample; NaN where not known. */
export interface ClockExposure {
  /** At the last age of the life: its failure (`upper`), or where it was last seen sound (`lower`). */
  exit: ArrayLike<number>;
  /** Counts a day at that age. */
  rate: ArrayLike<number>;
  /** At the entry of the life; needed where any life came under watch late. */
  entry?: ArrayLike<number>;
  /** At the lower age of a failure known to an interval; the exit less the rate times the width of the interval by default. */
  lower?: ArrayLike<number>;
  /** Numbers behind the counts that were estimated from these lives, such as an activation energy: counted in the AIC. 0 by default. */
  estimated?: number;
}

export interface ClockColumns {
  /** Lives in days. */
  days: LifeSample;
  /** Candidates besides days, by their name in the plural: 'strokes', 'steam cycles', 'equivalent hours at 20 degrees C'. */
  exposures: Readonly<Record<string, ClockExposure>>;
  /** What each life is called, for the list of those without exposure; 'life 1' and so on by default. */
  names?: readonly string[];
}

export interface ClockOptions {
  /** Law of life on every clock; weibull by default. */
  kind?: RegressionKind;
  /** Whether days plus a multiple of an exposure are candidates too; true by default. */
  combinations?: boolean;
  /** Of all bounds, two-sided; 0.9 by default. */
  level?: number;
  /** Resampled plants; 200 by default, from 20 on. */
  draws?: number;
  /**
   * 'full' fits every law to the end and again to each resampled plant (default). 'quick', for the weibull law, searches coarsely and
   * draws the likelihoods of positions under the laws found once: under a hundredth of the time, with nearly the same leads and shares.
   */
  effort?: 'full' | 'quick';
  seed?: number;
}

/** One candidate. */
export interface ClockRow {
  clock: string;
  /** The one name, or 'days' and the exposure. */
  parts: readonly string[];
  /** Of the lives in days, so that clocks compare; null where the clock cannot be fitted. */
  logLikelihood: number | null;
  aic: number | null;
  /** Parameters counted in the AIC: the weight of a combination is one. */
  parameters: number;
  /** Days that one count is worth, in a combination. */
  weight: number | null;
  /** Share of resampled plants that chose it. */
  agreed: number;
  /** Why it cannot be fitted, or that a combination is no better than one of its parts; empty otherwise. */
  note: string;
}

/** The law on the chosen clock, ages in its unit (days of a combination: days plus the weight times the count). */
export interface ClockLaw {
  model: FittedModel;
  /** Of a Weibull or log-logistic law, null for others. */
  shape: Bounds | null;
  /** Ages by which one in ten and one in two have failed. */
  tenth: Bounds;
  half: Bounds;
  /** Days that one count is worth, in a combination; null otherwise. */
  weight: Bounds | null;
  level: number;
}

export interface ClockChoice {
  verdict: 'told' | 'cannot tell';
  /** The clock to use: the best one where the data tell, else days. */
  clock: string;
  parts: readonly string[];
  /** The best one, whether or not the data tell. */
  best: string;
  /** The best of the clocks that the best is judged against: those that do not hold it as a part. Null where it is alone. */
  rival: string | null;
  /** AIC of the rival less that of the best. */
  lead: number | null;
  /** Share of resampled plants that choose the best one too, or a combination that holds it. */
  agreement: number;
  /** Standard deviation between lives of the log of counts per day, by exposure. */
  rateSpread: Readonly<Record<string, number>>;
  /** Why the data cannot tell: a sentence each; empty where they do. */
  reasons: string[];
  /** From the lowest AIC on; those that cannot be fitted last. */
  rows: ClockRow[];
  law: ClockLaw;
  /** Lives whose exposure is not known: they stay on the clock of days, with a law of their own where three of them failed. */
  onDays: { rows: number[]; names: string[]; law: ClockLaw | null };
  /** Exposures that too few lives have: left out, a sentence each. */
  leftOut: string[];
  /** Lives and failures that the clocks were compared on. */
  lives: number;
  failures: number;
  seed: number;
  draws: number;
  words: string;
}
