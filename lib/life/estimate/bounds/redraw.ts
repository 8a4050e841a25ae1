/**
 * Samples drawn anew from a fitted model, watched as the lives were: entries kept, running lives seen up to the closing day,
 * planned replacements at ages as observed, ages written down as they were (METHODS 2.4; Davison & Hinkley 1997 ch. 3.5).
 */
import { UsageError } from '../../../errors.js';
import { at, columnOf, floatAt } from '../../../numeric/columns.js';
import type { RandomStream } from '../../../numeric/random.js';
import { countUpTo } from '../../../numeric/sorted.js';
import { lawOf } from '../../distribution/functions.js';
import { requireKnownCauses, riskTable } from '../../empirical/atRisk.js';
import { mergeSample } from '../../mergeSample.js';
import type { LifeModel } from '../../model.js';
import { isFailure, ownClusters } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { dayOfHazard } from './dayOfHazard.js';
import { lastLookOf, TOLERANCE } from './lastLook.js';
import { type Recording, recordingOf, written } from './recording.js';

/** What ended the watching of lives that did not fail: columns as long as the sample, in its order. */
export interface RedrawOptions {
  /**
   * Age that each life had, or would have had, on the day the records close; Infinity where there is no such day. A life that is
   * looked at from time to time and was last found sound less than a gap before it is taken as still running (see lastLook.ts).
   */
  closing?: ArrayLike<number>;
  /**
   * Age at which each life was to be replaced, where that was settled beforehand; Infinity where it was not to be. Without it
   * planned ages are drawn from those observed: of lives censored before their closing age, or of all censored lives.
   */
  planned?: ArrayLike<number>;
}

/** What is known of each row before its lives are drawn. */
interface Watch {
  entry: Float64Array;
  closing: Float64Array;
  planned: Float64Array | null;
  lives: Float64Array;
  /** Cumulative hazard at entry. */
  reached: Float64Array;
}

/** Ages of planned ends, ascending, and the chance of none up to each of them. */
interface PlannedLaw {
  age: Float64Array;
  beyond: Float64Array;
}

/**
 * Prepares the redrawing of a sample. Each call of the function returned gives a new sample with as many lives, identical rows
 * merged and positions lost.
 * @throws UsageError, named after `where`, for columns of another length, closing or planned ages below what was seen, counts
 * that are not whole and ends of unknown cause
 */
export function redrawer(
  sample: LifeSample,
  model: LifeModel,
  options: RedrawOptions,
  where: string,
): (random: RandomStream) => LifeSample {
  requireKnownCauses(sample, where);
  const law = lawOf(model);
  const watch = watchOf(sample, model, options, where);
  const recording = recordingOf(sample);
  const look = lastLookOf(sample, watch.closing, recording);
  const ageAt =
    recording.kind === 'days' ? dayOfHazard(law, model) : (h: number) => law.ageAtHazard(model, h);
  const hazardAt = remembered((age) => law.cumulativeHazard(model, age));
  const due = watch.planned === null ? plannedAges(sample, look.closing) : null;
  return (random) => {
    const rows: Columns = { lower: [], upper: [], entry: [] };
    for (let i = 0; i < watch.lives.length; i++) {
      const entry = floatAt(watch.entry, i);
      for (let k = 0; k < floatAt(watch.lives, i); k++) {
        const planned = due === null ? at(watch.planned ?? [], i) : drawPlanned(due, entry, random);
        const stop = Math.max(Math.min(planned, look.endOf(i, random)), entry);
        const hazard = floatAt(watch.reached, i) - Math.log(random.uniform());
        const survives = stop < Infinity && hazard >= hazardAt(stop);
        if (survives) addRow(rows, stop, Infinity, entry);
        else addRow(rows, ...failedAt(recording, entry, ageAt(hazard), stop, random), entry);
      }
    }
    return mergeSample(sampleFrom(rows));
  };
}

const MOST_ENDS = 65_536;

/** Ends are few: ages at which a life was replaced, and closing days. */
function remembered(of: (age: number) => number): (age: number) => number {
  const known = new Map<number, number>();
  return (age) => {
    const before = known.get(age);
    if (before !== undefined) return before;
    const value = of(age);
    if (known.size < MOST_ENDS) known.set(age, value);
    return value;
  };
}

interface Columns {
  lower: number[];
  upper: number[];
  entry: number[];
}

function addRow(rows: Columns, lower: number, upper: number, entry: number): void {
  rows.lower.push(lower);
  rows.upper.push(upper);
  rows.entry.push(entry);
}

/** An age that rounding puts at 0, at its entry or beyond its end is moved by the least that there is. */
function failedAt(
  recording: Recording,
  entry: number,
  age: number,
  stop: number,
  random: RandomStream,
): [number, number] {
  const above = Math.max(entry * (1 + Number.EPSILON), Number.MIN_VALUE);
  const within = Math.min(Math.max(age, above), Math.max(stop, above), Number.MAX_VALUE);
  return written(recording, entry, within, stop, random);
}

function sampleFrom({ lower, upper, entry }: Columns): LifeSample {
  return {
    lower: Float64Array.from(lower),
    upper: Float64Array.from(upper),
    entry: Float64Array.from(entry),
    count: new Float64Array(lower.length).fill(1),
    cluster: ownClusters(lower.length),
  };
}

function watchOf(sample: LifeSample, model: LifeModel, options: RedrawOptions, where: string): Watch {
  const rows = sample.lower.length;
  const law = lawOf(model);
  const column = (name: 'closing' | 'planned'): Float64Array => limitsOf(sample, name, options[name], where);
  for (let i = 0; i < rows; i++) {
    if (!Number.isInteger(floatAt(sample.count, i))) {
      throw new UsageError(
        where,
        `row ${i + 1}: only whole lives can be drawn anew.`,
        floatAt(sample.count, i),
      );
    }
  }
  return {
    entry: sample.entry,
    closing: column('closing'),
    planned: options.planned === undefined ? null : column('planned'),
    lives: sample.count,
    reached: columnOf(sample.entry, (age) => law.cumulativeHazard(model, age)),
  };
}

/** A column of latest ages, Infinity where none was given; a life cannot have been seen beyond its own. */
function limitsOf(
  sample: LifeSample,
  name: 'closing' | 'planned',
  given: ArrayLike<number> | undefined,
  where: string,
): Float64Array {
  const rows = sample.lower.length;
  if (given === undefined) return new Float64Array(rows).fill(Infinity);
  if (given.length !== rows) {
    throw new UsageError(
      where,
      `${name} must have an age for each row of the sample (${rows}).`,
      given.length,
    );
  }
  return columnOf(given, (age, i) => {
    const seen = floatAt(sample.lower, i);
    if (age >= seen - TOLERANCE * seen) return Math.max(age, seen);
    const rule = `row ${i + 1}: the ${name} age must not be below the age at which the life was last seen, ${seen}.`;
    throw new UsageError(where, rule, age);
  });
}

/**
 * Ages of planned ends by the product limit with the parts changed over: a planned end counts as the event, and a failure or the
 * closing day hides it (Davison & Hinkley 1997 ch. 3.5). Delayed entry is kept.
 */
function plannedAges(sample: LifeSample, closing: Float64Array): PlannedLaw {
  const end = (i: number): number => {
    const [lower, upper] = [floatAt(sample.lower, i), floatAt(sample.upper, i)];
    // A failure comes before a planned end of the same age, and so hides it.
    return isFailure(sample, i) ? (0.5 * lower + 0.5 * upper) * (1 - 1e-12) : lower;
  };
  const lower = columnOf(sample.lower, (_, i) => Math.max(end(i), floatAt(sample.entry, i)));
  const isPlanned = (i: number): boolean =>
    !isFailure(sample, i) && floatAt(sample.lower, i) < floatAt(closing, i) * (1 - TOLERANCE);
  const upper = columnOf(lower, (age, i) => (isPlanned(i) ? age : Infinity));
  const { age, failed, atRisk } = riskTable({ ...sample, lower, upper }, 'redrawer');
  let now = 1;
  const beyond = columnOf(age, (_, k) => {
    now *= Math.max(0, 1 - floatAt(failed, k) / floatAt(atRisk, k));
    return now;
  });
  return { age, beyond };
}

/** A planned age above the entry of a life; Infinity where none is drawn. */
function drawPlanned({ age, beyond }: PlannedLaw, entry: number, random: RandomStream): number {
  const first = countUpTo(age, entry);
  if (first === age.length) return Infinity;
  const chance = random.uniform() * (first === 0 ? 1 : floatAt(beyond, first - 1));
  let [low, high] = [first, age.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (floatAt(beyond, middle) < chance) high = middle;
    else low = middle + 1;
  }
  return low === age.length ? Infinity : floatAt(age, low);
}
