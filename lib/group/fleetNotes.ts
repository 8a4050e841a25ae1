/** What the engineer should know of the groups as a whole: how they were pooled, and what that cannot promise. */
import type { Warning } from '../findings.js';
import { POOLING_PRIORS } from '../life/estimate/pooling.js';
import { localNumber } from '../numeric/localWords.js';
import { significant } from '../numeric/round.js';
import { count } from '../numeric/words.js';
import { DELAY_PRIOR } from './damageLives.js';
import type { CellFit } from './fitCell.js';
import type { MaterialPools } from './pools.js';
import type { DamageLife } from './types.js';
import type { UnknownReasons } from './unknownReasons.js';

/** Effective size and agreement of chains below and above which the result says so. */
const SMALLEST_EFFECTIVE_SIZE = 1000;
const LARGEST_RHAT = 1.05;

const damageNote = (): string =>
  `The site asks for damage: each group also has a life until damage (Weibull; log shape normal log 2, ${localNumber(0.5)}), with an exponential ` +
  `delay until it leaks (log mean delay normal log ${DELAY_PRIOR.median} days, ${localNumber(DELAY_PRIOR.sdLog)}). It is shown and nothing is planned or priced on it.`;

export interface FleetFacts {
  damage: (DamageLife | null)[];
  fits: CellFit[];
  inflation: number[];
  posterior: MaterialPools;
  unknown: UnknownReasons;
}

export function groupingNotes({ inflation, fits, posterior, damage }: FleetFacts): string[] {
  const priors = POOLING_PRIORS;
  const most = Math.max(1, ...inflation);
  const at1 = fits[inflation.indexOf(most)]?.cell.name ?? '';
  return [
    `Pooling, each material by itself: log scale = material (flat within ${localNumber(priors.materialHalfWidth)} of its pooled estimate) + duty where split ` +
      `(normal, spread half-normal ${localNumber(priors.betweenDuty)}) + b log(size / 25) (b normal 0, ${localNumber(priors.size)}) + group (normal, spread ` +
      `half-normal ${localNumber(priors.betweenScale)}); log shape = material (normal log 2, ${localNumber(priors.shapeCentre[1])}) + group (normal, spread half-normal ` +
      `${localNumber(priors.betweenShape)}). Two chains: effective size ${localNumber(Math.round(posterior.effectiveSize))}, largest split R-hat ` +
      `${localNumber(significant(posterior.largestRHat, 4))}.`,
    most > 1
      ? `Lives of one position are alike, or known reasons are too few to say what else ended lives: likelihoods are flattened, most for ${at1} (by ${localNumber(significant(most, 3))}).`
      : 'Lives of one position are no more alike than others: likelihoods stand as they are.',
    ...(damage.some((life) => life !== null) ? [damageNote()] : []),
  ];
}

export function fleetWarnings({ posterior, unknown, fits }: FleetFacts): Warning[] {
  const warnings: Warning[] = [];
  if (fits.length > 0 && fits.every((fit) => fit.failures === 0)) {
    warnings.push({
      code: 'no-leaks',
      text: 'No leak is on record in the whole plant: lives are known from below only.',
      todo: 'Check that leaks are recorded as such, and how far the history goes back.',
    });
  }
  if (unknown.rows > 0) {
    warnings.push({
      code: 'unknown-reasons',
      text: `${count(unknown.rows, 'removal has', 'removals have')} no known reason; by material, duty and age ${unknown.rows === 1 ? 'it counts' : 'they count'} as ${count(significant(unknown.leaks, 3), 'leak')}, as if reasons were missing by chance.`,
      todo: 'The engineer’s part shows what would follow if they leaked less or more often, and which reasons to ask for first.',
    });
  }
  if (posterior.effectiveSize < SMALLEST_EFFECTIVE_SIZE || posterior.largestRHat > LARGEST_RHAT) {
    warnings.push({
      code: 'posterior-sample',
      text: `The posterior sample is worth ${localNumber(Math.round(posterior.effectiveSize))} independent draws (wanted: ${SMALLEST_EFFECTIVE_SIZE}); its chains agree to R-hat ${localNumber(significant(posterior.largestRHat, 4))} (wanted: at most ${LARGEST_RHAT}).`,
      todo: 'Bounds of small groups may be off by a few percent; try another seed and compare.',
    });
  }
  return warnings;
}
