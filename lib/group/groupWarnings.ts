/** What a group's model cannot promise, as data. */

import type { Warning } from '../findings.js';
import { FINDINGS_AT_REMOVAL, type Fleet, REASONS } from '../fleet/types.js';
import { earlyScheduled } from '../life/modes/fitConditionBothWays.js';
import { at, floatAt } from '../numeric/columns.js';
import { significant } from '../numeric/round.js';
import { count, daysWords, fixed } from '../numeric/words.js';
import { type CellFit, modelUnder } from './fitCell.js';
import { ageInDays, type History, isRemoval } from './history.js';
import { LEAKS_TO_JUDGE, LEAST_WEAR_LEAKS, OWN_LEAKS } from './ownFit.js';
import type { PlannedLife, UnknownSensitivity } from './types.js';

const CONDITION_SPAN = 0.05;
const OLD_FACTOR = 3;

export interface GroupFacts {
  fleet: Fleet;
  history: History;
  fit: CellFit;
  supportedAge: number | null;
  practisedDays: number | null;
  /** Wear-out leaks of all groups of the material. */
  materialWearLeaks: number;
  planned: PlannedLife;
  sensitivity: UnknownSensitivity | null;
}

export function groupWarnings(facts: GroupFacts): Warning[] {
  return [
    fewLeaks(facts),
    priorOnly(facts),
    shapeAtLimit(facts),
    unknownReasons(facts),
    condition(facts),
    looksLikeCondition(facts),
    oldRunning(facts),
  ].filter((warning): warning is Warning => warning !== null);
}

function fewLeaks({ fit, materialWearLeaks }: GroupFacts): Warning | null {
  const lives = count(fit.cell.rows.length, 'life', 'lives');
  if (fit.cell.rows.length === 0) {
    return {
      code: 'no-lives',
      text: 'No life of this group is on record: the model is predicted from the other groups.',
      todo: 'Record the first replacements; until then treat every figure as a guess with wide bounds.',
    };
  }
  if (fit.wearLeaks < OWN_LEAKS) {
    const support =
      materialWearLeaks < LEAST_WEAR_LEAKS
        ? 'no group of the material has any to lend, so the model leans on what was assumed'
        : 'the model leans on the other groups of the material';
    return {
      code: 'few-leaks',
      text: `${count(significant(fit.wearLeaks, 2), 'wear-out leak')} in ${lives}: too few to stand alone, and ${support}. The fit cannot be judged.`,
      todo: 'Keep recording reasons and findings; the bounds narrow with every leak.',
    };
  }
  if (fit.failures < LEAKS_TO_JUDGE) {
    return {
      code: 'fit-not-judged',
      text: `${count(significant(fit.failures, 2), 'leak')}: whether a Weibull curve suits them cannot be judged (that takes ${LEAKS_TO_JUDGE}).`,
      todo: 'Read the bounds, not the curve.',
    };
  }
  return null;
}

/** Without a wear-out leak in the material, shape and upper bound are the prior's. */
function priorOnly({ materialWearLeaks, fit, planned }: GroupFacts): Warning | null {
  if (materialWearLeaks >= LEAST_WEAR_LEAKS) return null;
  const { low, high } = planned.shape;
  return {
    code: 'no-leak-in-material',
    text: `No wear-out leak of ${fit.cell.material} is on record. Its shape (${fixed(low, 1)} to ${fixed(high, 1)}) is what was assumed before any life was counted, and does not show that it wears out. The lower bound of its life comes from the lives, the upper one from the assumption that it is within twenty times the likely one.`,
    todo: 'Read neither the shape nor the upper bound as a finding; record the first leaks with age and finding.',
  };
}

function shapeAtLimit({ fit }: GroupFacts): Warning | null {
  if (fit.wearLeaks < OWN_LEAKS || fit.own !== null) return null;
  return {
    code: 'shape-at-limit',
    text: 'The leaks of this group alone point to no sensible curve (all at one age, or at ages that fit no wear-out), so the pooled model is used.',
    todo: 'Check the dates of these leaks: were several found on one day?',
  };
}

function unknownReasons({ sensitivity }: GroupFacts): Warning | null {
  if (sensitivity === null) return null;
  const { removals, leaks, parts, b10 } = sensitivity;
  const apart = parts
    ? ` By this group’s own leaks, 10 % have leaked ${byAge(b10[0])} if none of them was a leak, ${byAge(b10[b10.length - 1])} if all were.`
    : ' If none of them or all of them were leaks, the age by which 10 % have leaked would hardly move.';
  return {
    code: 'unknown-reasons',
    text: `${count(removals, 'removal has', 'removals have')} no known reason and ${removals === 1 ? 'counts' : 'count'} as ${count(significant(leaks, 2), 'leak')}, by the removals of the same material near the same age. This takes reasons to be missing by chance.${apart}`,
    todo: parts
      ? 'Ask the fitters for the missing reasons, those listed in the report first.'
      : 'Nothing to do but to record reasons from now on.',
  };
}

function byAge(days: number | null | undefined): string {
  return days === null || days === undefined ? 'by no age that can be named' : `by ${daysWords(days)}`;
}

function condition({ fit }: GroupFacts): Warning | null {
  if (fit.condition === null) return null;
  const { removals, asLeaks, asCensored } = fit.condition;
  if (asCensored !== null && Math.abs(asLeaks / asCensored - 1) <= CONDITION_SPAN) return null;
  const other =
    asCensored === null ? 'as not leaked there is no leak at all' : `as not leaked ${daysWords(asCensored)}`;
  return {
    code: 'condition-removals',
    text: `${count(removals, 'was', 'were')} taken out because of ${removals === 1 ? 'its' : 'their'} condition. Counted as leaks, 10 % fail by ${daysWords(asLeaks)}; ${other}. The plan takes the more careful reading.`,
    todo: 'Record what was found, and whether it still held tight.',
  };
}

/** Scheduled removals well before the usual age with damage found look like removals for condition (METHODS 1.4). */
function looksLikeCondition({ fleet, history, fit, practisedDays }: GroupFacts): Warning | null {
  if (practisedDays === null) return null;
  const scheduled = fit.cell.rows.filter((row) => {
    const life = at(history.life, row);
    return isRemoval(fleet, life) && REASONS[at(fleet.lives.reason, life)] === 'scheduled';
  });
  const damaged = scheduled.map((row) => {
    const finding = FINDINGS_AT_REMOVAL[at(fleet.lives.finding, at(history.life, row))];
    return finding !== 'sound' && finding !== 'unknown';
  });
  const ages = scheduled.map((row) => ageInDays(history, row));
  const { early, looks } = earlyScheduled(ages, damaged, practisedDays);
  if (!looks) return null;
  return {
    code: 'scheduled-for-condition',
    text: `${early} of ${scheduled.length} scheduled removals came well before the usual age and were found damaged: they look like removals for condition.`,
    todo: 'If they were taken out because of their state, give the reason "condition".',
  };
}

/** Running lives far older than any completed one are asked about (METHODS 1.5). */
function oldRunning({ fleet, history, fit }: GroupFacts): Warning | null {
  const ended = fit.cell.rows.filter((row) => isRemoval(fleet, at(history.life, row)));
  const oldest = ended.reduce((most, row) => Math.max(most, floatAt(history.age, row)), 0);
  if (oldest === 0) return null;
  const isOld = (row: number): boolean =>
    !isRemoval(fleet, at(history.life, row)) && floatAt(history.age, row) > OLD_FACTOR * oldest;
  const old = fit.cell.rows.filter(isOld);
  if (old.length === 0) return null;
  const scaleOf = (rows: readonly number[]): number | undefined =>
    modelUnder(history, { ...fit.cell, rows: [...rows] }, fit.reading, fit.hiddenFault)?.scale;
  const [all, without] = [scaleOf(fit.cell.rows), scaleOf(fit.cell.rows.filter((row) => !isOld(row)))];
  const effect =
    all === undefined || without === undefined
      ? ''
      : ` By this group’s own leaks the scale is ${daysWords(all)} with them and ${daysWords(without)} without.`;
  return {
    code: 'old-running-life',
    text: `${count(old.length, 'running life is', 'running lives are')} more than ${OLD_FACTOR} times as old as any that ended (${daysWords(oldest)}).${effect}`,
    todo: 'Is the valve still in service, and was every replacement recorded?',
  };
}
