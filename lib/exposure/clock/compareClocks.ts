/** Which clock tells lives best, before any law is shown: the part of `chooseClock` that a plan asks of many groups. */
import { UsageError } from '../../errors.js';
import type { RegressionKind } from '../../life/estimate/regression/types.js';
import { failureCount } from '../../life/sample.js';
import { floatAt, itemAt, sum } from '../../numeric/columns.js';
import { randomStream } from '../../numeric/random.js';
import { amount, percent } from '../../numeric/words.js';
import { lawOfCombination, lawOnClock, onClock } from './clockLaw.js';
import { type Clock, type ClockMaximum, candidates, fitClock, quickClock, weightOf } from './fitClock.js';
import { isPartOf, LEAST_LEAD, pickClock, rivalOf } from './pickClock.js';
import { rateSpreads, spreadBetween } from './rateSpreads.js';
import { type KnownClocks, readClocks } from './readClocks.js';
import { aicOf, type LeadPart, leadByPosition, resampledClocks, reweighedClocks } from './resampledClocks.js';
import {
  type ClockChoice,
  type ClockColumns,
  type ClockLaw,
  type ClockOptions,
  type ClockRow,
  DAYS,
} from './types.js';

const WHERE = 'chooseClock';
const KINDS = ['weibull', 'exponential', 'lognormal', 'loglogistic'];
/** METHODS 3.2: rates that differ less, and resampled plants that agree less often, do not tell. */
const LEAST_SPREAD = 0.15;
const LEAST_AGREEMENT = 0.8;
const FEWEST_DRAWS = 20;

/** A choice before its law. */
export interface ClockComparison extends Omit<ClockChoice, 'law' | 'onDays' | 'words'> {
  /** Rows of the lives whose exposure is not known. */
  unknown: number[];
  /** How much each position adds to the lead, most first; empty without a rival. */
  leadParts(): LeadPart[];
  /** The law on the chosen clock. */
  lawOnChosen(): ClockLaw;
}

/** As `chooseClock`, which says what is thrown. */
export function compareClocks(columns: ClockColumns, options: ClockOptions = {}): ClockComparison {
  const { kind = 'weibull', combinations = true, level = 0.9, draws = 200, seed = 1 } = options;
  const { effort = 'full' } = options;
  requireOptions({ kind, level, draws, seed, effort });
  const isQuick = effort === 'quick';
  const known = readClocks(columns);
  const { sample } = known;
  if (sample.lower.length === 0 || failureCount(sample) === 0) {
    throw new UsageError(WHERE, 'none of the lives whose exposures are known failed. Wait for failures.');
  }
  const clocks = candidates(known, kind, combinations);
  const tops = clocks.map((clock) =>
    isQuick ? quickClock(clock) : fitClock(clock, sample.count, clock.starts()),
  );
  const scored = clocks.map(({ parts }, k) => ({ parts, aic: aicOf(itemAt(tops, k)) }));
  if (scored.every(({ aic }) => aic === Infinity)) {
    throw new UsageError(WHERE, 'no law can be fitted on any clock: failures are too few or all at one age.');
  }
  const resample = isQuick ? reweighedClocks : resampledClocks;
  const agreed = resample(sample, clocks, tops, draws, randomStream(seed, 'choice of clock'));
  const best = pickClock(scored);
  const rival = rivalOf(scored, best);
  const lead = rival === null ? null : itemAt(scored, rival).aic - itemAt(scored, best).aic;
  const spread = rival === null ? 0 : spreadBetween(known, itemAt(clocks, best), itemAt(clocks, rival));
  const agreement = agreementOn(clocks, agreed, best);
  const rivalName = rival === null ? null : itemAt(clocks, rival).name;
  const reasons = reasonsAgainst(rivalName, lead, spread, agreement);
  const told = reasons.length === 0;
  const used = told || itemAt(tops, 0) === null ? best : 0;
  return {
    verdict: told ? 'told' : 'cannot tell',
    clock: itemAt(clocks, used).name,
    parts: itemAt(clocks, used).parts,
    best: itemAt(clocks, best).name,
    rival: rivalName,
    lead,
    agreement,
    rateSpread: rateSpreads(known),
    reasons,
    rows: rowsOf(clocks, tops, agreed),
    leftOut: known.leftOut,
    lives: sum(sample.count),
    failures: failureCount(sample),
    seed,
    draws,
    unknown: known.unknown,
    leadParts: () => {
      const [top, other] = [itemAt(tops, best), rival === null ? null : itemAt(tops, rival)];
      if (top === null || rival === null || other === null) return [];
      const parts = leadByPosition(sample, [itemAt(clocks, best), top], [itemAt(clocks, rival), other]);
      return parts.sort((a, b) => b.lead - a.lead);
    },
    lawOnChosen: () => {
      const clock = itemAt(clocks, used);
      const top = itemAt(tops, used) as ClockMaximum;
      // The quick search leaves out what bounds of a combination need.
      const whole = isQuick && clock.parts.length > 1 ? fitClock(clock, sample.count, [top.theta]) : top;
      return lawOf(known, kind, clock, whole ?? top, level);
    },
  };
}

/** A plant that adds days to the best clock does not speak for another one. */
function agreementOn(clocks: readonly Clock[], agreed: Float64Array, best: number): number {
  const chosen = itemAt(clocks, best);
  return sum(agreed.map((share, k) => (k === best || isPartOf(chosen, itemAt(clocks, k)) ? share : 0)));
}

function requireOptions({
  kind,
  level,
  draws,
  seed,
  effort,
}: Required<Omit<ClockOptions, 'combinations'>>): void {
  if (!KINDS.includes(kind)) throw new UsageError(WHERE, `kind must be one of ${KINDS.join(', ')}.`, kind);
  if (!(level > 0 && level < 1)) throw new UsageError(WHERE, 'level must be between 0 and 1.', level);
  if (!(Number.isInteger(draws) && draws >= FEWEST_DRAWS)) {
    throw new UsageError(WHERE, `draws must be a whole number from ${FEWEST_DRAWS} on.`, draws);
  }
  if (effort !== 'full' && effort !== 'quick') {
    throw new UsageError(WHERE, "effort must be 'full' or 'quick'.", effort);
  }
  if (effort === 'quick' && kind !== 'weibull') {
    throw new UsageError(WHERE, 'the quick search knows the weibull law only.', kind);
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
      parameters: top?.parameters ?? clock.problem.scale.size + 1 + clock.problem.spreads,
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
