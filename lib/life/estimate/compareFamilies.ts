/** Which family of laws suits a sample: fits side by side, and the rule by which one is chosen. */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { localPrecision } from '../../numeric/localWords.js';
import { lawOf } from '../distribution/functions.js';
import type { FittedKind } from '../model.js';
import { failureCount } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { FITTED_KINDS, fitLife, type LifeFit } from './fit.js';

/** Another family than the Weibull needs an AIC lower by so much (METHODS 2.4) ... */
export const AIC_TO_LEAVE_WEIBULL = 6;
/** ... and so many failures. */
export const FAILURES_TO_LEAVE_WEIBULL = 20;

export interface FamilyRow {
  kind: FittedKind;
  /** How many parameters were estimated. */
  parameters: number;
  /** Null, as all that follows from it, where the family cannot be fitted. */
  logLikelihood: number | null;
  /** Twice the parameters less twice the log likelihood (Akaike 1974). */
  aic: number | null;
  /** AIC with its correction for few data, by the number of failures (Hurvich & Tsai 1989); null with too few for one. */
  aicc: number | null;
  /** Parameters times log of the failures, less twice the log likelihood (Schwarz 1978; failures for lives: Volinsky & Raftery 2000). */
  bic: number | null;
  /** By how much the AIC is above the lowest. */
  aboveBest: number | null;
  fit: LifeFit | null;
  /** Why the family cannot be fitted, or null. */
  reason: string | null;
}

export interface FamilyComparison {
  /** Lowest AIC first; families without a fit last. */
  rows: FamilyRow[];
  /** The family to work with; null where neither the Weibull nor one that may replace it can be fitted. */
  chosen: FittedKind | null;
  /** Another family to look at beside it: the lognormal while the Weibull is kept by default. */
  secondOpinion: FittedKind | null;
  failures: number;
  warnings: Warning[];
}

/**
 * Fits families by maximum likelihood and compares them. The Weibull is the default; another family is chosen only where its AIC
 * is lower by 6 and 20 failures or more speak, else the lognormal is the second opinion (METHODS 2.4). Criteria are from
 * memory. They compare families with each other and do not say that the best of them suits.
 * @param kinds which families; all that `fitLife` fits by default. The Weibull must be among them.
 * @throws UsageError for a kind that is not fitted, one named twice, or no Weibull among them
 */
export function compareFamilies(
  sample: LifeSample,
  kinds: readonly FittedKind[] = FITTED_KINDS,
): FamilyComparison {
  requireKinds(kinds);
  const failures = failureCount(sample);
  const rows = kinds.map((kind) => rowOf(sample, kind, failures));
  const lowest = Math.min(...rows.map(({ aic }) => aic ?? Infinity));
  for (const row of rows) row.aboveBest = row.aic === null ? null : row.aic - lowest;
  rows.sort((one, other) => orderOf(one.aic, other.aic));
  const chosen = choose(rows, failures);
  const lognormal = rows.some(({ kind, fit }) => kind === 'lognormal' && fit !== null);
  return {
    rows,
    chosen,
    secondOpinion: chosen === 'weibull' && lognormal ? 'lognormal' : null,
    failures,
    warnings: [...choiceWarnings(rows, chosen, failures), ...fitWarnings(rows)],
  };
}

function rowOf(sample: LifeSample, kind: FittedKind, failures: number): FamilyRow {
  const parameters = kind === 'exponential' ? 1 : kind === 'generalisedGamma' ? 3 : 2;
  const none = { logLikelihood: null, aic: null, aicc: null, bic: null, aboveBest: null, fit: null };
  const refused = (reason: string): FamilyRow => ({ kind, parameters, ...none, reason });
  try {
    const fit = fitLife(sample, { kind });
    if (!fit.converged) return refused(fit.reason);
    const deviance = -2 * fit.logLikelihood;
    const aic = deviance + 2 * parameters;
    const spare = failures - parameters - 1;
    return {
      kind,
      parameters,
      logLikelihood: fit.logLikelihood,
      aic,
      aicc: spare > 0 ? aic + (2 * parameters * (parameters + 1)) / spare : null,
      bic: deviance + parameters * Math.log(failures),
      aboveBest: null,
      fit,
      reason: null,
    };
  } catch (error) {
    if (error instanceof UsageError) return refused(error.message);
    throw error;
  }
}

/** Equal criteria keep the order in which the kinds were given. */
function orderOf(one: number | null, other: number | null): number {
  if (one === null || other === null) return (one === null ? 1 : 0) - (other === null ? 1 : 0);
  return one - other;
}

function choose(rows: readonly FamilyRow[], failures: number): FittedKind | null {
  const weibull = rows.find(({ kind }) => kind === 'weibull')?.aic ?? null;
  const best = rows[0];
  if (best?.aic == null) return null;
  if (failures < FAILURES_TO_LEAVE_WEIBULL) return weibull === null ? null : 'weibull';
  if (weibull === null) return best.kind;
  return weibull - best.aic >= AIC_TO_LEAVE_WEIBULL ? best.kind : 'weibull';
}

function choiceWarnings(rows: readonly FamilyRow[], chosen: FittedKind | null, failures: number): Warning[] {
  if (chosen === null) {
    const why = rows.find(({ kind }) => kind === 'weibull')?.reason ?? 'no family can be fitted';
    const text = `No family is chosen: the Weibull cannot be fitted (${why}).`;
    return [
      {
        code: 'no-family',
        text,
        todo: 'Give a shape or a prior of it to fitLife, or wait for more failures.',
      },
    ];
  }
  if (failures < FAILURES_TO_LEAVE_WEIBULL) {
    return [
      {
        code: 'too-few-to-choose',
        text: `Fewer than ${FAILURES_TO_LEAVE_WEIBULL} failures cannot tell families apart: the Weibull is kept whatever the criteria say.`,
        todo: 'Look at the results under the second opinion too, most of all at ages beyond those seen.',
      },
    ];
  }
  if (chosen === 'weibull') return [];
  const above = rows.find(({ kind }) => kind === 'weibull')?.aboveBest;
  const by =
    above == null
      ? 'the Weibull cannot be fitted'
      : `its AIC is ${localPrecision(above, 3)} below that of the Weibull`;
  return [
    {
      code: 'other-family',
      text: `The family ${chosen} is chosen: ${by}.`,
      todo: 'Ask why: several modes of failure, or lives of several kinds, in one sample often look like another family.',
    },
  ];
}

function fitWarnings(rows: readonly FamilyRow[]): Warning[] {
  const missing = rows.filter(({ fit }) => fit === null).map(({ kind }) => kind);
  const warnings: Warning[] = [];
  if (missing.length > 0) {
    warnings.push({
      code: 'family-not-fitted',
      text: `Not fitted: ${missing.join(', ')}. The reason is in the row of each.`,
      todo: 'Nothing, where the others answer the question.',
    });
  }
  const model = rows.find(({ kind }) => kind === 'smallestValue')?.fit?.model;
  const below = model === undefined ? 0 : -Math.expm1(-lawOf(model).cumulativeHazard(model, 0));
  if (below > 0.01) {
    warnings.push({
      code: 'mass-below-zero',
      text: `The smallest value law puts ${localPrecision(100 * below, 2)} % of lives below age 0.`,
      todo: 'Do not use it for early ages, whatever its AIC.',
    });
  }
  return warnings;
}

function requireKinds(kinds: readonly FittedKind[]): void {
  const unknown = kinds.find((kind) => !FITTED_KINDS.includes(kind));
  if (unknown !== undefined) {
    throw new UsageError('compareFamilies', `kinds must be among ${FITTED_KINDS.join(', ')}.`, unknown);
  }
  if (new Set(kinds).size < kinds.length) {
    throw new UsageError('compareFamilies', 'each kind must be named once.', kinds.join(', '));
  }
  if (!kinds.includes('weibull')) {
    throw new UsageError(
      'compareFamilies',
      'kinds must include weibull, from which the others are told.',
      kinds.join(', '),
    );
  }
}
