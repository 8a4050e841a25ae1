/** What a fit of fitting faults cannot promise. */
import type { Warning } from '../../findings.js';
import { localNumber, localPrecision } from '../../numeric/localWords.js';
import { EARLY_DAYS, EARLY_LEAKS_NEEDED } from '../estimate/fitTypes.js';
import type { Law } from './faultSplit.js';

interface FaultFindings {
  share: number;
  early: Law;
  identified: boolean;
  /** Early leaks come before wear-out. */
  apart: boolean;
  /** The likelihood has a top there. */
  bent: boolean;
  /** The law of early leaks shrank onto one age when it was estimated, and was held for that. */
  shrank: boolean;
}

export function faultWarnings({ share, early, identified, apart, bent, shrank }: FaultFindings): Warning[] {
  const percent = `${localPrecision(100 * share, 2)} %`;
  const warnings: Warning[] = [
    identified
      ? {
          code: 'fault-share-estimated',
          text: `The share of faulty fittings, ${percent}, was estimated from leaks before ${EARLY_DAYS} days.`,
          todo: 'Look at those early leaks: who fitted them, and when.',
        }
      : {
          code: 'fault-share-from-prior',
          text: `Fewer than ${EARLY_LEAKS_NEEDED} leaks before ${EARLY_DAYS} days: the share of faulty fittings, ${percent}, rests on a prior with median 1 % and 95 % between ${localNumber(0.1)} and 5 %, and early leaks were taken to follow a Weibull law of shape ${localNumber(early.shape)} and scale ${localNumber(early.scale)} days.`,
          todo: 'Record leaks in the first weeks with their day, so that the share can be estimated.',
        },
  ];
  if (shrank) {
    warnings.push({
      code: 'fault-law-held',
      text: `The early leaks do not tell their law: it shrinks onto one age. It was taken as a Weibull law of shape ${early.shape} and scale ${early.scale} days.`,
      todo: 'Look whether leaks of the same age are one event; give the law of early leaks from other plants.',
    });
  }
  if (!apart) {
    warnings.push({
      code: 'fault-not-apart',
      text: 'What was found as early leaks comes later than wear-out: the two cannot be told apart in these lives.',
      todo: 'Give the law of early leaks from other plants, or fit one law to all.',
    });
  }
  if (!bent) {
    warnings.push({
      code: 'fault-law-loose',
      text: 'The likelihood has no clear top: several laws of early leaks fit about as well, and no standard errors are given.',
      todo: 'Give the law of early leaks from other plants, or wait for more leaks.',
    });
  }
  return warnings;
}
