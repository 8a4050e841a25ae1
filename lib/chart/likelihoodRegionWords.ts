/** Words and numbers of the chart of likelihood regions. */

import type { PlannedLife } from '../group/types.js';
import type { LikelihoodContour, LikelihoodRegion } from '../life/estimate/likelihoodRegion.js';
import { COLUMN } from './texts.js';
import type { Chart } from './types.js';
import { amount, count, listed, percent, range } from './words.js';

/** Medians are shown where the group is planned on more than its own leaks. */
export type PlannedPair = Pick<PlannedLife, 'shape' | 'scale'>;

export const shapeText = (value: number): string => amount(value, 2);
export const daysText = (value: number): string => amount(value, 3);

export function regionFinding({ shape, scale, contours }: LikelihoodRegion): string {
  const best = `Best shape (beta) ${shapeText(shape)}, scale (eta) ${daysText(scale)} days`;
  const outer = outermost(contours);
  if (outer === null) return best;
  const { shapeRange, level } = outer;
  const chance = shapeRange[0] < 1 && shapeRange[1] > 1 ? 'not told from leaks by chance (shape 1)' : null;
  const wear = shapeRange[0] >= 1 ? 'wearing out (shape above 1)' : 'the new leak most (shape under 1)';
  return `${best}; ${percent(level)}: ${rangesOf(outer)}; ${chance ?? wear}`;
}

function outermost(contours: readonly LikelihoodContour[]): LikelihoodContour | null {
  return contours.reduce<LikelihoodContour | null>(
    (widest, each) => (widest === null || each.level > widest.level ? each : widest),
    null,
  );
}

function rangesOf({ shapeRange, scaleRange }: LikelihoodContour): string {
  return `shape ${range(...shapeRange, shapeText)}, scale ${range(...scaleRange, daysText)} days`;
}

export function regionDescription(
  region: LikelihoodRegion,
  planned: PlannedPair | null,
  finding: string,
): string {
  const { failures, lives, share, contours, inflation, warnings } = region;
  const from = `From ${count(Math.round(failures), 'leak')} in ${count(Math.round(lives), 'life', 'lives')}.`;
  const each = contours.map((contour) => `${percent(contour.level)}: ${rangesOf(contour)}`);
  const fault =
    share === null
      ? ''
      : ` The share of faulty fittings, ${percent(share)} at the best pair, is found anew for every pair.`;
  const alike =
    inflation > 1.005
      ? ` Wider by lives of one position being alike (log likelihood divided by ${amount(inflation, 3)}).`
      : '';
  const plan = planned
    ? ` Planned on: shape ${shapeText(planned.shape.median)}, scale ${daysText(planned.scale.median)} days.`
    : '';
  const few = warnings.some(({ code }) => code === 'region-few-failures')
    ? ' With so few leaks the regions hold the true pair less often than they say.'
    : '';
  return `${finding}. ${from} Pairs that the lives allow together, ${listed(each)}.${fault}${alike}${plan}${few}`;
}

export function regionTable(contours: readonly LikelihoodContour[]): Chart['table'] {
  return {
    columns: [
      COLUMN.region,
      COLUMN.shapeFrom,
      COLUMN.shapeTo,
      COLUMN.scaleFromDays,
      COLUMN.scaleToDays,
      COLUMN.sameEndsAlone,
    ],
    rows: contours.map(({ level, shapeRange, scaleRange, oneParameterLevel }) => [
      percent(level),
      amount(shapeRange[0], 3),
      amount(shapeRange[1], 3),
      daysText(scaleRange[0]),
      daysText(scaleRange[1]),
      percent(oneParameterLevel),
    ]),
  };
}
