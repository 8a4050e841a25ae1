/** Lives that ended for a reason nobody knows: what they may have been, and what would follow (METHODS 3.4). */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import { localPrecision } from '../../numeric/localWords.js';
import type { FitOptions, LifeFit } from '../estimate/fitTypes.js';
import type { FittedKind } from '../model.js';
import type { LifeSample } from '../sampleTypes.js';
import { type ModeLaw, quantileOfModes } from './modeLaws.js';
import type { ModeNames } from './modeRows.js';
import { type ReasonRows, readReasons } from './reasonRows.js';
import { effectsOfLeaks } from './unknownEffects.js';
import { unknownRounds } from './unknownRounds.js';

export interface UnknownReasonsOptions {
  /** Reasons that are leaks, each with a law of its own; all other reasons are none. */
  leaks: readonly string[];
  /** The reason that stands for none known; 'unknown' by default. */
  unknown?: string;
  /** The law of every leak mode, or one for each; Weibull where nothing is said. */
  kinds?: FittedKind | Readonly<Record<string, FittedKind | FitOptions>>;
  /** Factors k on the odds of a leak; 0, 0.5, 1, 2 and Infinity by default. */
  odds?: readonly number[];
  /** What is to be planned on, from the laws of the leak modes; by default the age by which 10 % have leaked. */
  of?: (laws: readonly ModeLaw[]) => number;
  /** How many rows to list at most; 20 by default. */
  most?: number;
}

export interface UnknownAnswer {
  /** k: 0 takes all unknown rows as no leaks, 1 as known rows of the same age, Infinity all as leaks. */
  odds: number;
  /** One for each leak mode, in the order of `leaks`. */
  laws: ModeLaw[];
  fits: LifeFit[];
  /** What `of` gives. */
  value: number;
  /** Leaks among the unknown rows, as expected. */
  leaks: number;
  /** For each unknown row the chance of a leak, and for each leak mode its part of that chance. */
  chance: Float64Array;
  byMode: Float64Array[];
  /**
   * Log-likelihood of each round, up to a constant; it never falls for exact ages and days. Wide intervals are weighed at their middle,
   * with which it may, by little.
   */
  trace: Float64Array;
  converged: boolean;
}

export interface UnknownRow {
  /** Row of the sample, from 0. */
  row: number;
  age: number;
  /** Chance of a leak at k = 1. */
  chance: number;
  /** By how much `of` moves if this life leaked, against no leak. */
  effect: number;
}

export interface UnknownReasonsFit {
  /** In the order of `odds`. */
  answers: UnknownAnswer[];
  /** Rows of unknown reason, in the order of `chance`. */
  unknown: number[];
  /** Whether `of` differs by more than 5 % between the answers. */
  parts: boolean;
  /** Those whose reason would tell most, at k = 1: by effect times the standard deviation of a leak with that chance. */
  rows: UnknownRow[];
  warnings: Warning[];
}

/** None, half, as known rows, double, all. */
const ODDS: readonly number[] = [0, 0.5, 1, 2, Infinity];
const SPAN = 0.05;

/**
 * Fits the laws of leaks where some reasons were lost. Each row of unknown reason is a leak of each mode or another end by the chance
 * of each at its age: leaks by their laws, other ends by their smoothed hazard, so that scheduled ages count as practised.
 * Expectation and maximisation (masked causes: Miyakawa 1984, Usher & Hodgson 1988; non-ignorable loss: Little & Rubin
 * 2002 ch. 15; from memory). At k = 1 a leak and another end of the same age lose their reason alike (missing at random,
 * and the same at every age); at other k the odds of a leak are k times those of known rows of the same age. The data cannot
 * tell k, so all answers are given.
 *
 * `sample` gives each life that ended its age at that end, whatever the reason; ages in days, exact or the day's interval.
 *
 * @param reasons for each row why it ended, null for a life still sound
 * @throws UsageError for reasons that do not fit their rows, a leak mode without a known leak, odds that are negative or no
 * number, and laws that cannot be estimated (see `fitLife`)
 */
export function fitUnknownReasons(
  sample: LifeSample,
  reasons: ModeNames,
  options: UnknownReasonsOptions,
): UnknownReasonsFit {
  const { leaks, unknown = 'unknown', odds = ODDS, most = 20 } = options;
  const of = options.of ?? ((laws: readonly ModeLaw[]) => quantileOfModes(laws, 0.1));
  const bad = odds.find((k) => !(k >= 0));
  if (bad !== undefined || odds.length === 0) {
    throw new UsageError('fitUnknownReasons', 'odds must be numbers at or above 0, at least one.', bad);
  }
  const stranger =
    typeof options.kinds === 'object' && Object.keys(options.kinds).find((name) => !leaks.includes(name));
  if (stranger)
    throw new UsageError('fitUnknownReasons', 'kinds names a reason that is not in leaks.', stranger);
  const rows = readReasons('fitUnknownReasons', sample, reasons, { leaks, unknown });
  const kinds = leaks.map((name) => kindOf(options.kinds, name));
  const answers = odds.map((k) => answerAt(rows, k, kinds, of));
  const values = answers.map(({ value }) => value);
  const parts = Math.max(...values) > (1 + SPAN) * Math.min(...values);
  const told = answers.find((one) => one.odds === 1) ?? answerAt(rows, 1, kinds, of);
  return {
    answers,
    unknown: rows.unknown,
    parts,
    rows: rowsThatMatter(rows, told, of, most),
    warnings: warningsOf(rows, parts, values),
  };
}

function answerAt(
  rows: ReasonRows,
  odds: number,
  kinds: readonly FitOptions[],
  of: (laws: readonly ModeLaw[]) => number,
): UnknownAnswer {
  const { fits, weights, trace, settled } = unknownRounds(rows, odds, kinds);
  const laws = fits.map(({ model }, m) => ({ mode: itemAt(rows.leaks, m), model }));
  const chance = rows.unknownAge.map((_, u) => weights.reduce((total, one) => total + floatAt(one, u), 0));
  return {
    odds,
    laws,
    fits,
    value: of(laws),
    leaks: chance.reduce((total, one, u) => total + one * floatAt(rows.unknownCount, u), 0),
    chance,
    byMode: weights,
    trace: Float64Array.from(trace),
    converged: settled && fits.every(({ converged }) => converged),
  };
}

function rowsThatMatter(
  rows: ReasonRows,
  answer: UnknownAnswer,
  of: (laws: readonly ModeLaw[]) => number,
  most: number,
): UnknownRow[] {
  const effects = effectsOfLeaks(rows.unknownAge, answer, of);
  const told = ({ chance, effect }: UnknownRow): number =>
    Math.abs(effect) * Math.sqrt(Math.max(0, chance * (1 - chance)));
  return rows.unknown
    .map((row, u) => ({
      row,
      age: floatAt(rows.unknownAge, u),
      chance: floatAt(answer.chance, u),
      effect: at(effects, u),
    }))
    .filter((one) => told(one) > 0)
    .sort((a, b) => told(b) - told(a))
    .slice(0, most);
}

function kindOf(kinds: UnknownReasonsOptions['kinds'], name: string): FitOptions {
  const kind = typeof kinds === 'object' ? (kinds[name] ?? 'weibull') : (kinds ?? 'weibull');
  return typeof kind === 'string' ? { kind } : kind;
}

function warningsOf(
  { unknowns, knownOthers }: ReasonRows,
  parts: boolean,
  values: readonly number[],
): Warning[] {
  if (unknowns === 0) return [];
  const warnings: Warning[] = [
    {
      code: 'reasons-missing',
      text: `${unknowns} lives ended for a reason that nobody knows. At k = 1 they are taken to have been leaks as often as known ones of the same age.`,
      todo: 'Record why each life ended.',
    },
  ];
  if (knownOthers === 0) {
    warnings.push({
      code: 'only-leaks-known',
      text: 'Every known end is a leak, so every unknown one is taken for a leak too, unless k is 0.',
      todo: 'Record removals that were no leaks with their reason.',
    });
  }
  if (parts) {
    const [low, high] = [Math.min(...values), Math.max(...values)].map((one) => localPrecision(one, 3));
    warnings.push({
      code: 'unknown-reasons-decide',
      text: `By what the unknown ends were, the result lies anywhere from ${low} to ${high}.`,
      todo: 'Find out the reasons of the rows listed first: they decide most.',
    });
  }
  return warnings;
}
