/** Which clock wears diaphragms: days, a counter, or both. */
import { UsageError } from '../../errors.js';
import type { RegressionKind } from '../../life/estimate/regression/types.js';
import { failureCount } from '../../life/sample.js';
import type { LifeSample } from '../../life/sampleTypes.js';
import { floatAt, itemAt, sum } from '../../numeric/columns.js';
import { randomStream } from '../../numeric/random.js';
import { amount, percent } from '../../numeric/words.js';
import { lawOfCombination, lawOnClock, onClock } from './clockLaw.js';
import { type Clock, type ClockMaximum, candidates, fitClock, weightOf } from './fitClock.js';
import { isPartOf, LEAST_LEAD, pickClock, rivalOf } from './pickClock.js';
import { rateSpreads, spreadBetween } from './rateSpreads.js';
import { type KnownClocks, readClocks, sampleOf } from './readClocks.js';
import { aicOf, resampledClocks } from './resampledClocks.js';
import {
  type ClockChoice,
  type ClockColumns,
  type ClockLaw,
  type ClockOptions,
  type ClockRow,
  DAYS,
} from './types.js';
import { clockWords } from './words.js';

const WHERE = 'chooseClock';
const KINDS = ['weibull', 'exponential', 'lognormal', 'loglogistic'];
/** METHODS 3.2: rates that differ less, and resampled plants that agree less often, do not tell. */
const LEAST_SPREAD = 0.15;
const LEAST_AGREEMENT = 0.8;
const FEWEST_DRAWS = 20;
const FEWEST_FAILURES_ON_DAYS = 3;

/**
 * Fits lives on the clock of days, on each exposure and on days plus a weight times each exposure, and chooses by AIC of the
 * lives in days: an exact failure counts the rate of the clock at its age (Oakes 1995; Duchesne & Lawless 2000; from memory), one known to
 * an interval needs none. The weight counts as a parameter, and a combination must be 2 better than its parts. METHODS 3.2: the data
 * cannot tell where the best clock leads its rival by less than 2, where rates differ between lives by a standard deviation of
 * their logs under 0.15, or where under 80 % of plants of resampled positions choose the same or add days to it; the clock is then days.
 *
 * Clocks are compared on the lives of which every exposure is known. The others stay in days and are named; an exposure that is known
 * of fewer than half of the lives, or of fewer than 5 failures, is left out.
 *
 * @throws UsageError for columns that make no sense (exposure and row named), options out of range, and lives compared of which none
 * failed or to which no law can be fitted on any clock
 */
export function chooseClock(columns: ClockColumns, options: ClockOptions = {}): ClockChoice {
  const { kind = 'weibull', combinations = true, level = 0.9, draws = 200, seed = 1 } = options;
  requireOptions({ kind, level, draws, seed });
  const known = readClocks(columns);
  const { sample } = known;
  if (sample.lower.length === 0 || failureCount(sample) === 0) {
    throw new UsageError(WHERE, 'none of the lives whose exposures are known failed. Wait for failures.');
  }
  const clocks = candidates(known, kind, combinations);
  const tops = clocks.map((clock) => fitClock(clock, sample.count, clock.starts));
  const scored = clocks.map(({ parts }, k) => ({ parts, aic: aicOf(itemAt(tops, k)) }));
  if (scored.every(({ aic }) => aic === Infinity)) {
    throw new UsageError(WHERE, 'no law can be fitted on any clock: failures are too few or all at one age.');
  }
  const agreed = resampledClocks(sample, clocks, tops, draws, randomStream(seed, 'choice of clock'));
  const best = pickClock(scored);
  const rival = rivalOf(scored, best);
  const lead = rival === null ? null : itemAt(scored, rival).aic - itemAt(scored, best).aic;
  const spread = rival === null ? 0 : spreadBetween(known, itemAt(clocks, best), itemAt(clocks, rival));
  const agreement = agreementOn(clocks, agreed, best);
  const rivalName = rival === null ? null : itemAt(clocks, rival).name;
  const reasons = reasonsAgainst(rivalName, lead, spread, agreement);
  const told = reasons.length === 0;
  const used = told || itemAt(tops, 0) === null ? best : 0;
  const choice = {
    verdict: told ? ('told' as const) : ('cannot tell' as const),
    clock: itemAt(clocks, used).name,
    parts: itemAt(clocks, used).parts,
    best: itemAt(clocks, best).name,
    rival: rivalName,
    lead,
    agreement,
    rateSpread: rateSpreads(known),
    reasons,
    rows: rowsOf(clocks, tops, agreed),
    law: lawOf(known, kind, itemAt(clocks, used), itemAt(tops, used) as ClockMaximum, level),
    onDays: onDaysOf(columns, known.unknown, kind, level),
    leftOut: known.leftOut,
    lives: sum(sample.count),
    failures: failureCount(sample),
    seed,
    draws,
  };
  return { ...choice, words: clockWords(choice) };
}

/** A plant that adds days to the best clock does not speak for another one. */
function agreementOn(clocks: readonly Clock[], agreed: Float64Array, best: number): number {
  const chosen = itemAt(clocks, best);
  return sum(agreed.map((share, k) => (k === best || isPartOf(chosen, itemAt(clocks, k)) ? share : 0)));
}

function requireOptions({ kind, level, draws, seed }: Required<Omit<ClockOptions, 'combinations'>>): void {
  if (!KINDS.includes(kind)) throw new UsageError(WHERE, `kind must be one of ${KINDS.join(', ')}.`, kind);
  if (!(level > 0 && level < 1)) throw new UsageError(WHERE, 'level must be between 0 and 1.', level);
  if (!(Number.isInteger(draws) && draws >= FEWEST_DRAWS)) {
    throw new UsageError(WHERE, `draws must be a whole number from ${FEWEST_DRAWS} on.`, draws);
  }
  if (!Number.isInteger(seed)) throw new UsageError(WHERE, 'seed must be a whole number.', seed);
}

function reasonsAgainst(
  rival: string | null,
  lead: number | null,
  spread: number,
  agreement: number,
): string[] {
  if (rival === null || lead === null) return ['There is no other clock to compare it with.'];
  const out: string[] = [];
  if (lead < LEAST_LEAD) {
    const place = lead < 0 ? `${amount(-lead, 2)} ahead` : `only ${amount(lead, 2)} behind`;
    out.push(`The clock of ${rival} is ${place} in AIC, and under ${LEAST_LEAD} is no difference.`);
  }
  if (spread < LEAST_SPREAD) {
    out.push(
      `The two clocks run nearly alike: the logs of their ratio have a standard deviation of ${amount(spread, 2)} between lives, and ${LEAST_SPREAD} is asked for.`,
    );
  }
  if (agreement < LEAST_AGREEMENT) {
    out.push(
      `Only ${percent(agreement)} of resampled plants choose the same, and ${percent(LEAST_AGREEMENT)} is asked for.`,
    );
  }
  return out;
}

function rowsOf(
  clocks: readonly Clock[],
  tops: readonly (ClockMaximum | null)[],
  agreed: Float64Array,
): ClockRow[] {
  const rows = clocks.map((clock, k): ClockRow => {
    const top = itemAt(tops, k);
    const joined = clock.parts.length > 1;
    return {
      clock: clock.name,
      parts: clock.parts,
      logLikelihood: top?.value ?? null,
      aic: top === null ? null : aicOf(top),
      parameters: clock.problem.scale.size + 1 + clock.problem.spreads,
      weight: joined && top !== null ? weightOf(clock, top.theta) : null,
      agreed: floatAt(agreed, k),
      note: top === null ? noteOf(clock, joined) : '',
    };
  });
  return rows.sort((a, b) => (a.aic ?? Infinity) - (b.aic ?? Infinity) || 0);
}

function noteOf({ impossible }: Clock, joined: boolean): string {
  if (impossible !== '') return impossible;
  return joined ? 'no better than one of its parts alone' : 'no best law: failures too few or all at one age';
}

function lawOf(
  known: KnownClocks,
  kind: RegressionKind,
  clock: Clock,
  top: ClockMaximum,
  level: number,
): ClockLaw {
  if (clock.parts.length > 1) return lawOfCombination(known.sample, kind, clock, top, level);
  const name = itemAt(clock.parts, 0);
  const ends = name === DAYS ? known.sample : known.exposures.get(name);
  return lawOnClock(onClock(known.sample, ends ?? known.sample), kind, level);
}

function onDaysOf(
  { days, names }: ClockColumns,
  rows: number[],
  kind: RegressionKind,
  level: number,
): ClockChoice['onDays'] {
  const called = rows.map((i) => names?.[i] ?? `life ${i + 1}`);
  const rest: LifeSample = sampleOf(days, rows);
  if (failureCount(rest) < FEWEST_FAILURES_ON_DAYS) return { rows, names: called, law: null };
  return { rows, names: called, law: lawOrNone(rest, kind, level) };
}

/** Null where the lives are too alike to hold a law. */
function lawOrNone(sample: LifeSample, kind: RegressionKind, level: number): ClockLaw | null {
  try {
    return lawOnClock(sample, kind, level);
  } catch (error) {
    if (error instanceof UsageError) return null;
    throw error;
  }
}
