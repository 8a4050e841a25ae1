/** A law for each failure mode of a sample in which each life that ended was ended by one named mode. */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { at, itemAt } from '../../numeric/columns.js';
import { modelFromParameters } from '../estimate/coordinates.js';
import { fitLife } from '../estimate/fit.js';
import type { FitOptions, LifeFit } from '../estimate/fitTypes.js';
import { logLikelihood } from '../estimate/weibull/weibullLikelihood.js';
import type { FittedKind } from '../model.js';
import { failureCount } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { hasWideIntervals, jointLikelihood } from './jointModes.js';
import type { ModeLaw } from './modeLaws.js';
import { type ModeNames, namesOfModes, sampleOfMode } from './modeRows.js';
import { climbToSummit } from './summit.js';

export interface FitModesOptions {
  /** The law of every mode, or one for each by name, with all that `fitLife` takes; Weibull where nothing is said. */
  kinds?: FittedKind | Readonly<Record<string, FittedKind | FitOptions>>;
}

export interface FittedMode {
  mode: string;
  /** Its number from 1, as `cumulativeIncidence` takes it. */
  number: number;
  /** Lives that it ended, weights included. */
  failures: number;
  /** The fit of its law. `fit.sample` is what the mode sees: lives that another mode ended are sound at that age. */
  fit: LifeFit;
}

export interface ModesFit {
  /** In alphabetical order. */
  modes: FittedMode[];
  /** Name and law of each, in the same order: what `survivalOfModes` and `incidenceOfModes` take. */
  laws: ModeLaw[];
  /** For each row of the sample the number of its mode, 0 for a life still sound: what `cumulativeIncidence` takes. */
  number: Int32Array;
  /** Of all modes together, at the laws, without any prior. */
  logLikelihood: number;
  /** True where intervals were so wide that all modes had to be fitted together. */
  together: boolean;
  warnings: Warning[];
}

/**
 * Fits a law to each failure mode, the others taken as what ended the watch: modes are independent of each other, and the first to
 * come ends a life (Kalbfleisch & Prentice 2002 ch. 8; Meeker & Escobar 1998 ch. 15; from memory). That they are independent cannot
 * be seen in the data.
 *
 * Where each age at the end is exact, or its interval short against a life (such as a day), the likelihood is a product with a
 * factor for each mode, and each fit is that of `fitLife`. Where a life may have ended by any mode with a chance above 0.5 %
 * within one interval, the modes are fitted together by the likelihood of METHODS 1.2 for all of them; bounds of kind
 * 'normal' then follow from that likelihood, the other kinds take lives ended by another mode as sound at mid-interval.
 *
 * Example: `fitModes(sample, ['early', 'wear', null], { kinds: { early: 'weibull', wear: 'lognormal' } })`.
 *
 * @param modes for each row the name of the mode that ended it, null for a life still sound
 * @throws UsageError for names that do not fit their rows (named from 1), a kind for a mode that does not occur, a sample
 * that nothing ended, and a mode whose law cannot be estimated (see `fitLife`)
 */
export function fitModes(sample: LifeSample, modes: ModeNames, options: FitModesOptions = {}): ModesFit {
  if (sample.otherHazard !== undefined) {
    throw new UsageError('fitModes', 'rows of unknown cause have no mode; use fitUnknownReasons.');
  }
  const names = namesOfModes('fitModes', sample, modes);
  if (names.length === 0) throw new UsageError('fitModes', 'no life ended by any mode.');
  const kindOf = kindsOf(options.kinds, names);
  const alone = names.map((name) => fitOne(sampleOfMode(sample, modes, name), name, kindOf(name)));
  const lawsOf = (fits: readonly LifeFit[]): ModeLaw[] =>
    fits.map(({ model }, m) => ({ mode: itemAt(names, m), model }));
  const together = hasWideIntervals(sample, lawsOf(alone));
  const fits = together ? fitTogether(sample, modes, names, alone) : alone;
  const laws = lawsOf(fits);
  return {
    modes: fits.map((fit, m) => ({
      mode: itemAt(names, m),
      number: m + 1,
      failures: failureCount(fit.sample),
      fit,
    })),
    laws,
    number: Int32Array.from({ length: modes.length }, (_, i) => names.indexOf(modes[i] ?? '') + 1),
    logLikelihood: together
      ? jointLikelihood(sample, modes, names)(laws)
      : fits.reduce((total, fit) => total + fit.logLikelihood, 0),
    together,
    warnings: fits.flatMap(({ warnings }, m) => warnings.map((one) => named(one, itemAt(names, m)))),
  };
}

function fitOne(sample: LifeSample, name: string, options: FitOptions): LifeFit {
  try {
    return fitLife(sample, options);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    throw new UsageError('fitModes', `mode "${name}": ${error.message}`);
  }
}

/** All modes at once, from the fits of each alone. */
function fitTogether(
  sample: LifeSample,
  modes: ModeNames,
  names: readonly string[],
  alone: readonly LifeFit[],
): LifeFit[] {
  if (alone.some(({ parameters }) => parameters.some(({ name }) => name === 'logShare'))) {
    const rule =
      'a share of faulty fittings cannot be estimated from intervals this wide; use fitFittingFaults.';
    throw new UsageError('fitModes', rule);
  }
  const likelihood = jointLikelihood(sample, modes, names);
  const parts = partsOf(alone);
  const modelsAt = (x: readonly number[]): ModeLaw[] =>
    alone.map((fit, m) => ({
      mode: itemAt(names, m),
      model: modelFromParameters(fit, x.slice(itemAt(parts, m).from, itemAt(parts, m).to)),
    }));
  const target = (x: readonly number[]): number =>
    likelihood(modelsAt(x)) + alone.reduce((total, fit, m) => total + logPrior(fit, x, itemAt(parts, m)), 0);
  const start = alone.flatMap(({ parameters }) => parameters.map(({ estimate }) => estimate));
  const units = alone.flatMap(({ parameters }) => parameters.map(({ standardError }) => standardError));
  const top = climbToSummit(target, start, units);
  if (!top.converged) throw new UsageError('fitModes', `no best parameters were found: ${top.reason}.`);
  return alone.map((fit, m) => fitAt(fit, top.at, top.covariance, itemAt(parts, m)));
}

interface Part {
  from: number;
  to: number;
}

function partsOf(fits: readonly LifeFit[]): Part[] {
  let from = 0;
  return fits.map(({ parameters }) => {
    const to = from + parameters.length;
    const part = { from, to };
    from = to;
    return part;
  });
}

/** The fit of one mode, moved to its part of the parameters of all. */
function fitAt(
  fit: LifeFit,
  x: readonly number[],
  covariance: readonly number[],
  { from, to }: Part,
): LifeFit {
  const own = x.slice(from, to);
  const model = modelFromParameters(fit, own);
  const block = own.flatMap((_, i) => own.map((__, j) => at(covariance, (from + i) * x.length + from + j)));
  return {
    ...fit,
    model,
    logLikelihood: logLikelihood(fit.sample, model),
    parameters: fit.parameters.map(({ name }, i) => ({
      name,
      estimate: at(own, i),
      standardError: Math.sqrt(at(block, i * own.length + i)),
    })),
    covariance: block,
  };
}

/** Log prior of the shape, where the fit had one. */
function logPrior({ prior, parameters }: LifeFit, x: readonly number[], { from }: Part): number {
  if (prior === null) return 0;
  const i = parameters.findIndex(({ name }) => name === 'logShape' || name === 'logSigma');
  if (i < 0) return 0;
  const logShape = itemAt(parameters, i).name === 'logShape' ? at(x, from + i) : -at(x, from + i);
  return -0.5 * ((logShape - Math.log(prior.median)) / prior.sdLog) ** 2;
}

function kindsOf(kinds: FitModesOptions['kinds'], names: readonly string[]): (name: string) => FitOptions {
  if (kinds === undefined || typeof kinds === 'string') return () => ({ kind: kinds ?? 'weibull' });
  const unknown = Object.keys(kinds).find((name) => !names.includes(name));
  if (unknown !== undefined) {
    throw new UsageError(
      'fitModes',
      `kinds names a mode that ended no life; there are ${names.join(', ')}.`,
      unknown,
    );
  }
  return (name) => {
    const kind = kinds[name] ?? 'weibull';
    return typeof kind === 'string' ? { kind } : kind;
  };
}

function named(warning: Warning, mode: string): Warning {
  return { ...warning, text: `Mode “${mode}”: ${warning.text}` };
}
