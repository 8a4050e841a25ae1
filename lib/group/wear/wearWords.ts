/** Verdicts on clocks in sentences, with what data would settle what is open. */
import { DAYS } from '../../exposure/clock/types.js';
import type { Bounds } from '../../life/sampleTypes.js';
import { normalQuantile } from '../../numeric/special.js';
import { amount, chanceWords, count, listed, percent } from '../../numeric/words.js';
import { type EnergyDoubt, untoldEnergyWords } from './doseWords.js';
import type { WearClock, WearLaw } from './types.js';

/** As `chooseClock` asks (METHODS 3.2). */
const LEAST_LEAD = 2;
const LEAST_SPREAD = 0.15;
const LEAST_AGREEMENT = 0.8;
/** More leaks than this many times those there are is no plan to wait for. */
const MOST_TIMES = 10;

export type WhyNotCompared = 'nothing read' | 'few leaks' | 'few counts';
type Facts = Omit<WearClock, 'text' | 'todo'>;
type Words = Pick<WearClock, 'text' | 'todo'>;

/** "1 steam cycle", "310 steam cycles": two digits below a hundred, else three. */
export function onClockWords(value: number, clock: string): string {
  const [days, counter] = clock.split(` and `);
  const unit = counter === undefined ? (days ?? clock) : `days with their ${counter} counted in`;
  return `${amount(value)} ${unit}`;
}

export function toldWords(facts: Facts, law: Pick<WearLaw, 'weight' | 'half' | 'level'> | null): Words {
  const { best, clock, rival, lead, agreement } = facts;
  const ahead = `the clock of ${rival ?? 'no other'} is ${amount(lead ?? 0, 3)} behind by AIC (${LEAST_LEAD} counts as a difference)`;
  const sure = `${chanceWords(agreement ?? 0)} of resampled positions choose the same`;
  const worth =
    law?.weight == null
      ? ''
      : ` One count of ${clock.replace(`${DAYS} and `, '')} wears as much as ${boundsWords(law.weight)} days.`;
  const half =
    law === null
      ? ''
      : ` Half have leaked by ${onClockWords(law.half.estimate, clock)} (${percent(law.level)} range ${amount(law.half.low)} to ${amount(law.half.high)}).`;
  const name = best === DAYS ? 'Days wear them, whatever their use' : `What wears them is ${best ?? clock}`;
  return { text: `${name}: ${ahead}, and ${sure}.${worth}${half}`, todo: '' };
}

/** What forbids a verdict besides the comparison: counts that were not read, or a few positions that decide it. */
export interface Doubts {
  /** Share of lives whose counts come from positions.csv; null where that is not in the way. */
  assumed: number | null;
  positions: readonly string[];
  /** Another clock does as well at an end of the range of the activation energy. */
  energy: EnergyDoubt | null;
}

export function untoldWords(facts: Facts, { assumed, positions, energy }: Doubts): Words {
  const { best, rival, lead, agreement, rateSpread } = facts;
  const fits = `Cannot tell (${best ?? DAYS} fit best)`;
  if (assumed !== null) {
    return {
      text: `${fits}: the counts of ${percent(assumed)} of these lives are assumed from positions.csv, not read.`,
      todo: 'Intervals stay in days. Read the counters of these positions twice a year.',
    };
  }
  if (positions.length > 0) {
    return {
      text: `${fits}: the verdict hangs on ${listed(positions)}, without which ${rival ?? DAYS} would do as well.`,
      todo: `Intervals stay in days. Find out whether something else wears ${positions.length === 1 ? 'it' : 'them'}; more leaks of other positions would tell.`,
    };
  }
  if (energy !== null) return untoldEnergyWords(fits, energy);
  const spread = spreadOf(best, rival, rateSpread);
  const reasons: string[] = [];
  if (rival === null) reasons.push('there is no other clock to compare it with');
  if (lead !== null && lead < LEAST_LEAD) {
    reasons.push(
      `the clock of ${rival ?? DAYS} ${lead < 0 ? `is ${amount(-lead, 2)} ahead` : `is only ${amount(lead, 2)} behind`} by AIC (under ${LEAST_LEAD} is no difference)`,
    );
  }
  const alike = spread !== null && spread < LEAST_SPREAD;
  if (alike) reasons.push(`these positions are used so alike that ${best} and ${rival} rise together`);
  if (reasons.length === 0 || (agreement ?? 1) < LEAST_AGREEMENT) {
    reasons.push(
      `only ${percent(agreement ?? 0)} of resampled positions choose it (${percent(LEAST_AGREEMENT)} is asked for)`,
    );
  }
  return { text: `${fits}: ${listed(reasons)}.`, todo: settleWords(facts, alike) };
}

/** The least spread that the two clocks could be told apart by: null where a rate is in both or in none. */
function spreadOf(best: string | null, rival: string | null, rateSpread: Facts['rateSpread']): number | null {
  const names = Object.keys(rateSpread).filter((name) => `${best} and ${rival}`.includes(name));
  if (names.length === 0) return null;
  return Math.max(...names.map((name) => rateSpread[name] ?? 0));
}

/** AIC grows with the leaks, and how sure resampling is with their root. */
function settleWords({ leaks, lead, agreement }: Facts, alike: boolean): string {
  if (alike)
    return 'Intervals stay in days. Only positions of this kind that are used at other rates would tell.';
  const byLead = lead !== null && lead > 0 ? LEAST_LEAD / lead : Infinity;
  const sure = Math.min(Math.max(agreement ?? 0, 0.001), 0.999);
  const byAgreement = sure > 0.5 ? (normalQuantile(LEAST_AGREEMENT) / normalQuantile(sure)) ** 2 : Infinity;
  const times = Math.max(byLead, byAgreement, 1);
  if (times > MOST_TIMES) {
    return 'Intervals stay in days. More leaks alone would take too long to tell; positions of this kind used at other rates would.';
  }
  const more = Math.max(1, Math.ceil(leaks * (times - 1)));
  return `Intervals stay in days. About ${count(Number(amount(more, 2).replace(/\D/g, '')), 'more leak', 'more leaks')}, if they fall as these, would settle it.`;
}

export function notComparedWords({ leaks }: Facts, why: WhyNotCompared): Words {
  if (why === 'nothing read') {
    return {
      text: 'Cannot tell: no strokes, steam cycles or hot cleans are known here.',
      todo: 'Read the counters (readings.csv), or give the use in positions.csv.',
    };
  }
  if (why === 'few leaks') {
    return {
      text: `Cannot tell: ${leaks === 0 ? 'no leak' : count(leaks, 'leak')} of 60 days and older ${leaks <= 1 ? 'is' : 'are'} on record.`,
      todo: 'Keep the days; from about 20 leaks on clocks can be compared.',
    };
  }
  return {
    text: 'Cannot tell: counts are known of too few of these lives and leaks.',
    todo: 'Read the counters of these positions when a diaphragm is fitted and when it is removed.',
  };
}

/** "2.1 (1.5 to 3)". */
function boundsWords({ estimate, low, high }: Bounds): string {
  return `${amount(estimate)} (${amount(low)} to ${amount(high)})`;
}
