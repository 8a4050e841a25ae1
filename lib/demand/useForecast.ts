/** Forecast of an item from its monthly use: which method, and why. */
import { at } from '../numeric/columns.js';
import { type IntermittentForecast, intermittentDemand } from './intermittentDemand.js';

export const USE_METHODS = ['croston', 'syntetosBoylan', 'teunterSyntetosBabai'] as const;
export type UseMethod = (typeof USE_METHODS)[number];

/** Classes of demand by how often and how unevenly pieces are asked for (Syntetos, Boylan & Croston 2005, from memory). */
export type UseClass = 'smooth' | 'erratic' | 'intermittent' | 'lumpy' | 'none';

export interface UseForecast {
  class: UseClass;
  method: UseMethod;
  /** 'class': that of the class; 'error': another one was better out of sample; 'silence': nothing was used for too long. */
  chosenBy: 'class' | 'error' | 'silence';
  /** Root of the mean squared error of each method, one month ahead over the second half; null where there are too few months. */
  errors: Record<UseMethod, number> | null;
  /** Pieces a month, the variance of a month's pieces, and the standard deviation of the mean. */
  mean: number;
  variance: number;
  meanSd: number;
  silence: IntermittentForecast['silence'];
}

/** Mean months between uses, and squared variation of their amounts, at which the classes part. */
const APART = 1.32;
const UNEVEN = 0.49;
const SMOOTHING = 0.1;
/** Months to be forecast, at least, before errors are compared; as many must come before them. */
const FEWEST_TESTED = 12;
/** An error must be smaller by this share to count for more than the class. */
const BETTER = 0.05;
const UNLIKELY = 0.01;

/**
 * Forecast from whole counts of consecutive months, the oldest first. The class chooses Croston for smooth use and
 * Syntetos-Boylan else; Teunter-Syntetos-Babai after a silence that the forecast gives less than 1 in 100; from 24 months on the method
 * with the least error over the second half where it is better by 5 %. The mean is as uncertain as smoothing leaves it: variance x
 * a / (2 - a), or over the number of months where these are fewer. Throws UsageError as intermittentDemand does.
 */
export function useForecast(counts: ArrayLike<number>): UseForecast {
  const kind = classOf(counts);
  const own: UseMethod = kind === 'smooth' ? 'croston' : 'syntetosBoylan';
  const errors = errorsOf(counts);
  const silent = intermittentDemand(counts, { method: own, smoothing: SMOOTHING }).silence.chance < UNLIKELY;
  const best = errors === null ? own : bestOf(errors, own);
  const method = silent ? 'teunterSyntetosBabai' : best;
  const found = intermittentDemand(counts, { method, smoothing: SMOOTHING });
  const nothing = found.basis === 'noDemandSeen';
  const share = Math.max(SMOOTHING / (2 - SMOOTHING), 1 / counts.length);
  return {
    class: kind,
    method,
    chosenBy: silent ? 'silence' : best === own ? 'class' : 'error',
    errors,
    mean: found.mean,
    // Where nothing was seen all that is above chance is the rate that is not known.
    variance: nothing ? found.mean : found.variance,
    meanSd: nothing ? Math.sqrt(found.variance - found.mean) : Math.sqrt(found.variance * share),
    silence: found.silence,
  };
}

function classOf(counts: ArrayLike<number>): UseClass {
  const asked: number[] = [];
  for (let t = 0; t < counts.length; t++) if (at(counts, t) > 0) asked.push(at(counts, t));
  if (asked.length === 0) return 'none';
  const mean = asked.reduce((sum, each) => sum + each, 0) / asked.length;
  const variance = asked.reduce((sum, each) => sum + (each - mean) ** 2, 0) / asked.length;
  const often = counts.length / asked.length < APART;
  const even = variance / (mean * mean) < UNEVEN;
  if (often) return even ? 'smooth' : 'erratic';
  return even ? 'intermittent' : 'lumpy';
}

/** Each month of the second half is forecast from the months before it alone. */
function errorsOf(counts: ArrayLike<number>): UseForecast['errors'] {
  const from = Math.floor(counts.length / 2);
  if (counts.length - from < FEWEST_TESTED || from < FEWEST_TESTED) return null;
  const all = Array.from({ length: counts.length }, (_, t) => at(counts, t));
  const error = (method: UseMethod): number => {
    let squares = 0;
    for (let t = from; t < all.length; t++) {
      const { mean } = intermittentDemand(all.slice(0, t), { method, smoothing: SMOOTHING });
      squares += (at(counts, t) - mean) ** 2;
    }
    return Math.sqrt(squares / (all.length - from));
  };
  return {
    croston: error('croston'),
    syntetosBoylan: error('syntetosBoylan'),
    teunterSyntetosBabai: error('teunterSyntetosBabai'),
  };
}

function bestOf(errors: Record<UseMethod, number>, own: UseMethod): UseMethod {
  const best = USE_METHODS.reduce((a, b) => (errors[b] < errors[a] ? b : a));
  return errors[best] < (1 - BETTER) * errors[own] ? best : own;
}
