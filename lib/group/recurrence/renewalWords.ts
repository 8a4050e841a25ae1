/** Whether lives change, in plain words, and what it means for the interval. */
import { amount, count, range } from '../../numeric/words.js';
import type { LifeTrend } from '../../recurrence/renewalVerdict.js';
import type { RenewalFinding } from './types.js';

export interface RenewalWords
  extends Pick<RenewalFinding, 'group' | 'leaks' | 'positions' | 'verdict' | 'trends'> {
  /** What the verdict says where it cannot tell; null where it was not asked. */
  why: string | null;
}

/** Leaks, and positions, that a verdict takes. */
export const FEWEST = 10;
/** Chance of calling a renewal process something else. */
export const ALPHA = 0.05;
const PER = {
  'fitting date': 'with each year of the date of fitting',
  'life number': 'from one diaphragm of a position to the next',
} as const;

export function renewalWords(finding: RenewalWords): Pick<RenewalFinding, 'text' | 'todo'> {
  const { verdict, trends } = finding;
  if (verdict === 'cannot tell') return untold(finding);
  const worst = trends.reduce((a, b) => (b.pValue < a.pValue ? b : a));
  if (verdict === 'trend') return { text: trendText(worst, trends), todo: trendTodo(finding, worst) };
  const sizes = trends.map((trend) => `${PER[trend.by]} ${eitherWay(trend)}`);
  return {
    text: `No clear sign that lives change: ${sizes.join('; ')} (90 % ranges).`,
    todo: `${finding.group === null ? 'The laws take' : 'The law takes'} old and new lives for alike, and nothing clearly speaks against it.`,
  };
}

const WHAT_CHANGED =
  'Find out what changed and when: supplier or compound, cleaning, heat, torque, what is recorded as a leak.';
const LOOK = {
  'fitting date': { shorter: WHAT_CHANGED, longer: WHAT_CHANGED },
  'life number': {
    shorter:
      'Look at seats and bodies, which wear though the diaphragm is new. Positions that wear fast come to higher numbers too: see first what stands out.',
    longer: 'See what was done at these positions while they were open (seats, torque): it may help others.',
  },
} as const;

/** The clearest trend, and the other where it goes the same way and would do alone. */
function trendText(worst: LifeTrend, trends: readonly LifeTrend[]): string {
  const other = trends.find(
    ({ by, ratio, pValue }) => by !== worst.by && ratio < 1 === worst.ratio < 1 && 2 * pValue < ALPHA,
  );
  const way = worst.ratio < 1 ? 'shorter' : 'longer';
  const both =
    other === undefined
      ? ''
      : ` Also ${sizeOf(other)}: later dates go with higher numbers, and which of the two it is cannot be told for sure.`;
  return `Lives get ${way} ${sizeOf(worst)}.${both}`;
}

/** "with each year of the date of fitting: by 8 % (90 % range 3 % to 12 %)". */
function sizeOf({ by, ratio, low, high }: LifeTrend): string {
  const change = (value: number): number => Math.abs(1 - value);
  const [from, to] = ratio < 1 ? [high, low] : [low, high];
  return `${PER[by]} by ${share(change(ratio))} (90 % range ${range(change(from), change(to), share)})`;
}

function trendTodo({ group }: Pick<RenewalFinding, 'group'>, { by, ratio }: LifeTrend): string {
  const law = group === null ? 'The laws mix' : 'The law of this group mixes';
  const mixed =
    ratio < 1
      ? `${law} longer lives of earlier years with shorter ones of today: the interval from it is likely too long for what is fitted now.`
      : `${law} shorter lives of earlier years with longer ones of today: the interval from it is likely shorter than it need be.`;
  const look = LOOK[by][ratio < 1 ? 'shorter' : 'longer'];
  return `${mixed} ${look} Where the change stays, set records_from in site.json to the day from which things are as today, and plan again.`;
}

/** "from 3 % shorter to 5 % longer", "0 to 2.5 % shorter". */
function eitherWay({ low, high }: LifeTrend): string {
  const way = (ratio: number): string => (ratio < 1 ? 'shorter' : 'longer');
  if (low < 1 && high > 1) return `from ${share(1 - low)} shorter to ${share(high - 1)} longer`;
  const [from, to] = low < 1 ? [1 - high, 1 - low] : [low - 1, high - 1];
  return `${range(from, to, share)} ${way(low)}`;
}

/** A change in percent: two digits, and no more than one decimal. */
function share(value: number): string {
  return `${amount(value < 0.1 ? Math.round(1000 * value) / 10 : 100 * value, 2)} %`;
}

function untold({ leaks, positions, why, trends }: RenewalWords): Pick<RenewalFinding, 'text' | 'todo'> {
  const asked = 'Whether lives change cannot be told';
  const alike = 'Until then old and new lives are taken for alike.';
  if (leaks < FEWEST) {
    return {
      text: `${asked}: ${count(leaks, 'leak')} at 60 days or older, and it takes ${FEWEST}.`,
      todo: `${count(FEWEST - leaks, 'more leak')} would settle it. ${alike}`,
    };
  }
  if (positions < FEWEST) {
    return {
      text: `${asked}: its lives are of ${count(positions, 'position')}, and it takes ${FEWEST}.`,
      todo: `Records of ${count(FEWEST - positions, 'more position')} would settle it. ${alike}`,
    };
  }
  const reason = why?.replace(/^Whether lives change cannot be told: |\.$/g, '') ?? '';
  return {
    text: `${asked}${reason === '' || trends.length > 0 ? '' : `: ${reason}`}.`,
    todo: `Lives fitted on other dates would settle it: records of later years, or earlier ones. ${alike}`,
  };
}
