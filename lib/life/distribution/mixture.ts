/** Lives of several kinds in one lot: survival is the sum of shares times the survivals of the parts. */
import { UsageError } from '../../errors.js';
import type { MixtureModel } from '../model.js';
import { ageBetween, logSumOf, pickByShare, type RulesOf, tailPower } from './compound.js';
import type { LifeLaw } from './law.js';

export function mixtureLaw(rulesOf: RulesOf): LifeLaw<MixtureModel> {
  const law: LifeLaw<MixtureModel> = {
    check: (model) => check(rulesOf, model),
    cumulativeHazard: (model, t) => hazardAt(rulesOf, model, t),
    logHazard: (model, t) => logHazardAt(rulesOf, model, t),
    ageAtHazard: (model, hazard) => ageAt(rulesOf, model, hazard),
    meanUpTo: (model, t) => meanUpTo(rulesOf, model, t),
    remaining: (model, t) => remaining(rulesOf, model, t),
    variance: (model) => variance(rulesOf, model),
    draw({ parts }, random) {
      const { model } = pickByShare(parts, random.uniform());
      return rulesOf(model).draw(model, random);
    },
  };
  return law;
}

function check(rulesOf: RulesOf, { parts }: MixtureModel): void {
  if (!Array.isArray(parts) || parts.length < 2) {
    throw new UsageError('mixture', 'parts must be two or more.', JSON.stringify(parts));
  }
  for (const { share, model } of parts) {
    if (!(share >= 0 && share <= 1)) throw new UsageError('mixture', 'shares must be from 0 to 1.', share);
    rulesOf(model).check(model);
  }
  const whole = parts.reduce((total, { share }) => total + share, 0);
  if (Math.abs(whole - 1) > 1e-9) throw new UsageError('mixture', 'shares must add up to 1.', whole);
}

/** By the share failed while that is small, by the log of survival later: both tails keep their digits. */
function hazardAt(rulesOf: RulesOf, model: MixtureModel, t: number): number {
  const logLeft: number[] = [];
  let failed = 0;
  for (const part of living(model)) {
    const reached = rulesOf(part.model).cumulativeHazard(part.model, t);
    failed -= part.share * Math.expm1(-reached);
    logLeft.push(Math.log(part.share) - reached);
  }
  return failed < 0.5 ? -Math.log1p(-failed) + 0 : -logSumOf(logLeft);
}

function logHazardAt(rulesOf: RulesOf, model: MixtureModel, t: number): number {
  const reached = hazardAt(rulesOf, model, t);
  const parts = living(model);
  const hazards = parts.map((part) => rulesOf(part.model).logHazard(part.model, t));
  // Where none is left that a number could show, the part that lasts longest is what is left.
  if (reached === Infinity) return Math.min(...hazards);
  const densities = parts.map((part, k) => {
    const own = rulesOf(part.model).cumulativeHazard(part.model, t);
    return own === Infinity ? -Infinity : Math.log(part.share) + (hazards[k] as number) - own;
  });
  return logSumOf(densities) + reached;
}

/** Between the ages of the quickest and of the slowest part. */
function ageAt(rulesOf: RulesOf, model: MixtureModel, hazard: number): number {
  const ages = living(model).map((part) => rulesOf(part.model).ageAtHazard(part.model, hazard));
  const [low, high] = [Math.min(...ages), Math.max(...ages)];
  if (hazard === 0 || hazard === Infinity) return hazard === 0 ? low : high;
  return ageBetween((t) => hazardAt(rulesOf, model, t), hazard, low, high);
}

function meanUpTo(rulesOf: RulesOf, model: MixtureModel, t: number): number {
  const mean = (part: MixtureModel['parts'][number]): number =>
    part.share * rulesOf(part.model).meanUpTo(part.model, t);
  return living(model).reduce((total, part) => total + mean(part), 0);
}

function remaining(rulesOf: RulesOf, model: MixtureModel, t: number): number {
  const reached = hazardAt(rulesOf, model, t);
  if (reached === Infinity) throw new UsageError('remainingLife', 'no life reaches that age.', t);
  return living(model).reduce((total, part) => {
    const law = rulesOf(part.model);
    const left = part.share * Math.exp(reached - law.cumulativeHazard(part.model, t));
    return left === 0 ? total : total + left * law.remaining(part.model, t);
  }, 0);
}

/** Variance within the parts and between their means. */
function variance(rulesOf: RulesOf, model: MixtureModel): number {
  if (tailPower(model) <= 2) return Infinity;
  const mean = meanUpTo(rulesOf, model, Infinity);
  return living(model).reduce((total, part) => {
    const law = rulesOf(part.model);
    const between = law.meanUpTo(part.model, Infinity) - mean;
    return total + part.share * (law.variance(part.model) + between * between);
  }, 0);
}

/** Parts that have a share. */
function living({ parts }: MixtureModel): MixtureModel['parts'] {
  return parts.filter(({ share }) => share > 0);
}
