/** Forecasts from counts of which most are 0: pieces asked for in each month (or any other period). */
import { UsageError } from '../errors.js';
import { at } from '../numeric/columns.js';
import { localPrecision } from '../numeric/localWords.js';
import { negativeBinomialPmf, poissonPmf } from '../numeric/special.js';

/**
 * `croston`: mean size over mean interval, each smoothed when pieces are asked for (Croston 1972).
 * `syntetosBoylan`: that times 1 - smoothing / 2, which takes out most of its bias (Syntetos & Boylan 2005).
 * `shaleBoylanJohnston`: that times 1 - smoothing / (2 - smoothing) instead, for demand by Poisson (Shale et al. 2006).
 * `teunterSyntetosBabai`: mean size times the chance of a period with demand, smoothed every period, so that it falls
 * where nothing is asked for any more (Teunter, Syntetos & Babai 2011). All from memory.
 */
export type IntermittentMethod =
  | 'croston'
  | 'syntetosBoylan'
  | 'shaleBoylanJohnston'
  | 'teunterSyntetosBabai';

export interface IntermittentOptions {
  /** Default syntetosBoylan. */
  method?: IntermittentMethod;
  /** Weight of the newest size, above 0 and up to 1; default 0.1. */
  smoothing?: number;
  /** Weight of the newest interval or of the newest period's yes or no; the same as `smoothing` by default. */
  intervalSmoothing?: number;
}

/** A count of pieces, as `stockMeasures` takes it. */
export type CountDemand =
  | { kind: 'poisson'; mean: number }
  | { kind: 'negativeBinomial'; mean: number; variance: number };

export interface IntermittentForecast {
  method: IntermittentMethod;
  /** `noDemandSeen`: nothing to smooth; the rate is that of half a piece in the time watched. */
  basis: 'smoothed' | 'noDemandSeen';
  /** Pieces a period. */
  mean: number;
  /** Variance of a period's pieces; the mean (Poisson) where what was seen varies less. */
  variance: number;
  /** Smoothed size of a demand, pieces; null where none was seen. */
  size: number | null;
  /** Chance that a period asks for anything. */
  chance: number;
  /** The forecast of the mean for the next period, known at the end of each; null before the first demand. */
  means: (number | null)[];
  /** Periods since the last demand, and the chance of so long a silence under this forecast. */
  silence: { periods: number; chance: number };
  /** What to doubt, and what to do about it. */
  warnings: string[];
}

/** A silence less likely than this is pointed out. */
const UNLIKELY = 0.01;
/** A distribution of more chances than this is refused. */
const MOST_CHANCES = 2_000_000;

/**
 * Forecast of the pieces asked for in a period, from counts of the periods so far (oldest first). The first size is the
 * first count above 0, the first interval its number from the start; Teunter-Syntetos-Babai starts from the share and mean size
 * of the whole series. Spread: a period asks for a size with `chance`, sizes spread as smoothed squares say.
 * Where nothing was ever asked for, the rate is not 0: it is half a piece over the periods watched, uncertain as a gamma
 * belief with shape 0.5 makes it (Jeffreys' prior). Throws UsageError on no counts, counts that are not whole numbers at or
 * above 0, an unknown method, or a smoothing outside (0, 1].
 * @example intermittentDemand([0, 0, 3, 0, 1], { method: 'croston' }).mean // 2.8 / 2.9
 */
export function intermittentDemand(
  counts: ArrayLike<number>,
  options: IntermittentOptions = {},
): IntermittentForecast {
  const { method = 'syntetosBoylan', smoothing = 0.1, intervalSmoothing = smoothing } = options;
  requireCounts(counts);
  requireSmoothing('smoothing', smoothing);
  requireSmoothing('intervalSmoothing', intervalSmoothing);
  const last = lastDemand(counts);
  if (last < 0) return nothingSeen(method, counts.length);
  const weights = { size: smoothing, interval: intervalSmoothing };
  const { state, means } =
    method === 'teunterSyntetosBabai' ? byPeriod(counts, weights) : byDemand(counts, method, weights);
  const mean = state.chance * state.size;
  const spread = state.chance * state.square - mean * mean;
  const periods = counts.length - 1 - last;
  const silence = { periods, chance: Math.exp(periods * Math.log1p(-Math.min(1, state.chance))) };
  return {
    method,
    basis: 'smoothed',
    mean,
    variance: Math.max(mean, spread),
    size: state.size,
    chance: state.chance,
    means,
    silence: { periods, chance: periods === 0 ? 1 : silence.chance },
    warnings: periods > 0 ? silenceWarnings(method, silence) : [],
  };
}

/**
 * Distribution of the pieces asked for over so many periods to come: as a law that `stockMeasures` takes, and as chances
 * (element k the chance of k; what lies beyond weighs less than 1e-12). Periods are independent; where no demand was ever seen, they
 * share one unknown rate, and the variance grows faster than the mean. Throws UsageError unless periods is above 0 and finite.
 */
export function intermittentOver(
  forecast: IntermittentForecast,
  periods: number,
): { law: CountDemand; chances: Float64Array } {
  if (!(periods > 0 && Number.isFinite(periods))) {
    throw new UsageError('intermittentOver', 'periods must be above 0, and finite.', periods);
  }
  const mean = forecast.mean * periods;
  const extra = forecast.variance - forecast.mean;
  const grows = forecast.basis === 'noDemandSeen' ? periods * periods : periods;
  const variance = mean + extra * grows;
  const law: CountDemand =
    variance > mean ? { kind: 'negativeBinomial', mean, variance } : { kind: 'poisson', mean };
  return { law, chances: chancesOf(mean, variance) };
}

/** What is smoothed: the chance of a period with demand, the size of a demand and its square. */
interface Smoothed {
  chance: number;
  size: number;
  square: number;
}

interface Course {
  state: Smoothed;
  means: (number | null)[];
}

function byDemand(
  counts: ArrayLike<number>,
  method: IntermittentMethod,
  weights: { size: number; interval: number },
): Course {
  const factor = biasFactor(method, weights.interval);
  let [size, square, interval, since] = [0, 0, 0, 0];
  const means: (number | null)[] = [];
  for (let t = 0; t < counts.length; t++) {
    since += 1;
    const asked = at(counts, t);
    if (asked > 0) {
      const first = interval === 0;
      size += (first ? 1 : weights.size) * (asked - size);
      square += (first ? 1 : weights.size) * (asked * asked - square);
      interval += (first ? 1 : weights.interval) * (since - interval);
      since = 0;
    }
    means.push(interval === 0 ? null : (factor / interval) * size);
  }
  return { state: { chance: factor / interval, size, square }, means };
}

function byPeriod(counts: ArrayLike<number>, weights: { size: number; interval: number }): Course {
  const state = overall(counts);
  const means: number[] = [];
  for (let t = 0; t < counts.length; t++) {
    const asked = at(counts, t);
    state.chance += weights.interval * ((asked > 0 ? 1 : 0) - state.chance);
    if (asked > 0) {
      state.size += weights.size * (asked - state.size);
      state.square += weights.size * (asked * asked - state.square);
    }
    means.push(state.chance * state.size);
  }
  return { state, means };
}

function overall(counts: ArrayLike<number>): Smoothed {
  let [demands, pieces, squares] = [0, 0, 0];
  for (let t = 0; t < counts.length; t++) {
    const asked = at(counts, t);
    if (asked > 0) demands += 1;
    pieces += asked;
    squares += asked * asked;
  }
  return { chance: demands / counts.length, size: pieces / demands, square: squares / demands };
}

function biasFactor(method: IntermittentMethod, smoothing: number): number {
  switch (method) {
    case 'croston':
      return 1;
    case 'syntetosBoylan':
      return 1 - smoothing / 2;
    case 'shaleBoylanJohnston':
      return 1 - smoothing / (2 - smoothing);
    default:
      throw new UsageError(
        'intermittentDemand',
        'method must be croston, syntetosBoylan, shaleBoylanJohnston or teunterSyntetosBabai.',
        method,
      );
  }
}

function nothingSeen(method: IntermittentMethod, periods: number): IntermittentForecast {
  if (method !== 'teunterSyntetosBabai') biasFactor(method, 0.1);
  const mean = 0.5 / periods;
  // Gamma belief with shape 0.5 in the rate: variance of a period's count is mean + mean squared / 0.5.
  const variance = mean + 2 * mean * mean;
  const chance = 1 - Math.sqrt(periods / (periods + 1));
  return {
    method,
    basis: 'noDemandSeen',
    mean,
    variance,
    size: null,
    chance,
    means: Array.from({ length: periods }, () => null),
    silence: { periods, chance: Math.SQRT1_2 },
    warnings: [
      `Nothing was asked for in ${periods} periods: the rate is taken as half a piece in that time. Ask whether the part is still fitted anywhere.`,
    ],
  };
}

function silenceWarnings(
  method: IntermittentMethod,
  { periods, chance }: { periods: number; chance: number },
): string[] {
  if (chance >= UNLIKELY) return [];
  const doubt = `Nothing was asked for in the last ${periods} periods, which this forecast gives a chance of ${localPrecision(chance, 2)}.`;
  return method === 'teunterSyntetosBabai'
    ? [`${doubt} Ask whether the part is still fitted anywhere.`]
    : [
        `${doubt} The method does not see a silence: use teunterSyntetosBabai, and ask whether the part is still fitted.`,
      ];
}

function chancesOf(mean: number, variance: number): Float64Array {
  const chances: number[] = [];
  for (let k = 0, total = 0; ; k++) {
    const chance = variance > mean ? negativeBinomialPmf(k, mean, variance) : poissonPmf(k, mean);
    chances.push(chance);
    total += chance;
    if (k > mean && (total >= 1 - 1e-12 || chance < 1e-18)) return Float64Array.from(chances);
    if (k > MOST_CHANCES) throw new UsageError('intermittentOver', 'the counts spread too wide.', variance);
  }
}

function lastDemand(counts: ArrayLike<number>): number {
  for (let t = counts.length - 1; t >= 0; t--) if (at(counts, t) > 0) return t;
  return -1;
}

function requireCounts(counts: ArrayLike<number>): void {
  if (counts.length === 0) throw new UsageError('intermittentDemand', 'there must be at least one count.');
  for (let t = 0; t < counts.length; t++) {
    const count = at(counts, t);
    if (!(Number.isSafeInteger(count) && count >= 0)) {
      throw new UsageError('intermittentDemand', `counts[${t}] must be a whole number at or above 0.`, count);
    }
  }
}

function requireSmoothing(name: string, value: number): void {
  if (!(value > 0 && value <= 1)) {
    throw new UsageError('intermittentDemand', `${name} must be above 0 and at most 1.`, value);
  }
}
