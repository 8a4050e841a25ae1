/** Weibull wear-out with an unknown share of faulty fittings (METHODS 3.1). */

import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import { differentiateTwice } from '../../numeric/differentiate.js';
import { localNumber, localPrecision } from '../../numeric/localWords.js';
import { invertSymmetric } from '../../numeric/matrix.js';
import { minimiseOnInterval } from '../../numeric/minimise.js';
import { mergeSample } from '../mergeSample.js';
import { isFailure } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { summaryOf } from './fitSummary.js';
import {
  EARLY_DAYS,
  EARLY_LEAKS_NEEDED,
  FAULT_SHARE_PRIOR,
  type LifeFit,
  type ShapePrior,
} from './fitTypes.js';
import { maximiseWeibull, type WeibullMaximum } from './weibull/maximiseWeibull.js';
import { prepareShares } from './weibull/prepareRows.js';
import { evaluator } from './weibull/weibullLikelihood.js';

interface EarlyLaw {
  shape: number;
  scale: number;
}

/**
 * Fits shape, scale and share together, the early-leak law being given. With five or more leaks before 60 days the data
 * alone say the share; with fewer they are joined by the prior FAULT_SHARE_PRIOR, which is said in the warnings. Ages are days.
 */
export function fitWithShare(
  sample: LifeSample,
  law: EarlyLaw,
  fixedShape: number | undefined,
  prior: ShapePrior | null,
): LifeFit {
  const rows = mergeSample(sample);
  const identified = earlyLeaks(rows) >= EARLY_LEAKS_NEEDED;
  const prepare = prepareShares(rows, law);
  // The best of the share before is a good start; where it leads nowhere the search begins afresh.
  let start: WeibullMaximum | undefined;
  const topAt = (logShare: number): WeibullMaximum => {
    const prepared = prepare(Math.exp(logShare));
    const near = start === undefined ? undefined : maximiseWeibull(prepared, { fixedShape, prior, start });
    start = near?.converged ? near : maximiseWeibull(prepared, { fixedShape, prior });
    return start;
  };
  const penalty = (logShare: number): number => (identified ? 0 : sharePenalty(logShare));
  const worth = (logShare: number): number => {
    const top = topAt(logShare);
    return penalty(logShare) + shapePenalty(prior, top.shape) - top.logLikelihood;
  };
  // Coarse first: the profile over the share may have a second, worse top near a share of 1.
  const grid = Array.from(
    { length: 24 },
    (_, i) => Math.log(1e-5) + (i * (Math.log(0.95) - Math.log(1e-5))) / 23,
  );
  const values = grid.map(worth);
  const best = values.indexOf(Math.min(...values));
  const low = itemAt(grid, Math.max(0, best - 1));
  const high = itemAt(grid, Math.min(grid.length - 1, best + 1));
  const found = minimiseOnInterval(worth, low, high, { relative: 1e-10 });
  const top = topAt(found.at);
  if (!top.converged) throw new UsageError('fitLife', `no best parameters were found: ${top.reason}.`);
  const share = Math.exp(found.at);
  const target = (x: readonly number[]): number => {
    const [b, e, s] = [at(x, 0), at(x, 1), at(x, 2)];
    const fit = evaluator(prepare(Math.min(Math.exp(s), 1)))(Math.exp(b), Math.exp(e));
    return penalty(s) + shapePenalty(prior, Math.exp(b)) - fit;
  };
  const where = [Math.log(top.shape), Math.log(top.scale), found.at];
  const free = fixedShape === undefined ? [0, 1, 2] : [1, 2];
  const covariance = invertSymmetric(differentiateTwice(target, where, free), free.length);
  const names = ['logShape', 'logScale', 'logShare'];
  const summary = summaryOf(sample, fixedShape !== undefined, prior);
  return {
    kind: 'weibull',
    model: { kind: 'weibull', shape: top.shape, scale: top.scale, fault: { ...law, share } },
    logLikelihood: top.logLikelihood,
    parameters: free.map((j, i) => ({
      name: itemAt(names, j),
      estimate: at(where, j),
      standardError: Math.sqrt(at(covariance, i * free.length + i)),
    })),
    covariance,
    ...summary,
    warnings: [...summary.warnings, shareWarning(identified, share)],
    converged: top.converged && found.converged,
    iterations: found.iterations,
    reason: top.reason,
  };
}

/** Leaks before EARLY_DAYS. */
export function earlyLeaks(sample: LifeSample): number {
  let total = 0;
  for (let i = 0; i < sample.upper.length; i++) {
    if (isFailure(sample, i) && floatAt(sample.upper, i) <= EARLY_DAYS) total += floatAt(sample.count, i);
  }
  return total;
}

function sharePenalty(logShare: number): number {
  const { median, sdLog } = FAULT_SHARE_PRIOR;
  return 0.5 * ((logShare - Math.log(median)) / sdLog) ** 2;
}

function shapePenalty(prior: ShapePrior | null, shape: number): number {
  return prior === null ? 0 : 0.5 * (Math.log(shape / prior.median) / prior.sdLog) ** 2;
}

function shareWarning(identified: boolean, share: number): Warning {
  const percent = `${localPrecision(100 * share, 2)} %`;
  if (identified) {
    return {
      code: 'fault-share-estimated',
      text: `The share of faulty fittings, ${percent}, was estimated from leaks before ${EARLY_DAYS} days.`,
      todo: 'Look at those early leaks: who fitted them, and when.',
    };
  }
  return {
    code: 'fault-share-from-prior',
    text: `Fewer than ${EARLY_LEAKS_NEEDED} leaks before ${EARLY_DAYS} days: the share of faulty fittings, ${percent}, rests on a prior with median 1 % and 95 % between ${localNumber(0.1)} and 5 %.`,
    todo: 'Record leaks in the first weeks with their day, so that the share can be estimated.',
  };
}
