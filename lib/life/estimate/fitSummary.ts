/** What every fit says about its sample, and what it warns of. */
import type { Warning } from '../../findings.js';
import { sum } from '../../numeric/columns.js';
import { localNumber } from '../../numeric/localWords.js';
import { condensed } from '../mergeSample.js';
import { failureCount } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import type { LifeFit, ShapePrior } from './fitTypes.js';

/** What every fit says about its sample. */
export function summaryOf(
  sample: LifeSample,
  shapeFixed: boolean,
  prior: ShapePrior | null,
): Pick<LifeFit, 'failures' | 'lives' | 'warnings' | 'method' | 'prior' | 'shapeFixed' | 'sample'> {
  const rows = condensed(sample);
  const failures = failureCount(rows);
  return {
    failures,
    lives: sum(rows.count),
    warnings: [...failureWarnings(failures), ...priorWarnings(prior)],
    method: prior === null ? 'likelihood' : 'posterior',
    prior,
    shapeFixed,
    sample,
  };
}

function failureWarnings(failures: number): Warning[] {
  if (failures >= 5) return [];
  if (failures === 0) {
    return [
      {
        code: 'no-failures',
        text: 'There are no failures: only a lower bound of the scale can be given.',
        todo: 'Plan on the lower bound, and say which shape was assumed.',
      },
    ];
  }
  const text =
    failures <= 1
      ? 'The fit rests on one failure only.'
      : `The fit rests on ${localNumber(Math.round(failures * 10) / 10)} failures.`;
  return [
    {
      code: failures <= 1 ? 'one-failure' : 'few-failures',
      text,
      todo: 'Read the bounds, not the estimate; borrow strength from like groups, or wait for more failures.',
    },
  ];
}

function priorWarnings(prior: ShapePrior | null): Warning[] {
  if (prior === null) return [];
  return [
    {
      code: 'shape-prior',
      text: `The shape was given a prior: median ${prior.median}, standard deviation of log shape ${prior.sdLog}.`,
      todo: 'Try another prior where the shape decides.',
    },
  ];
}
