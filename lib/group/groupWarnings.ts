/** What a group's model cannot promise, as data. */

import type { Warning } from '../findings.js';
import { FINDINGS_AT_REMOVAL, type Fleet, REASONS } from '../fleet/types.js';
import type { WeibullModel } from '../life/model.js';
import { at, floatAt } from '../numeric/columns.js';
import { significant } from '../numeric/round.js';
import { type CellFit, modelUnder } from './fitCell.js';
import { type History, isRemoval } from './history.js';
import { OWN_LEAKS } from './planningModel.js';

/** Under this many leaks a fit is not judged (METHODS 2.4). */
const LEAKS_TO_JUDGE = 10;
const CONDITION_SPAN = 0.05;
const OLD_FACTOR = 3;
const EARLY_SCHEDULED_SHARE = 0.1;
const EARLY_SCHEDULED_AGE = 0.8;

export interface GroupFacts {
  fleet: Fleet;
  history: History;
  fit: CellFit;
  model: WeibullModel;
  supportedAge: number | null;
  practisedDays: number | null;
  /** Whether any group of the material has a leak. */
  materialLeaked: boolean;
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

function fewLeaks({ fit }: GroupFacts): Warning | null {
  const leaks = significant(fit.failures, 2);
  if (fit.cell.rows.length === 0) {
    return {
      code: 'no-lives',
      text: 'No life of this group is on record: the model is predicted from the other groups.',
      todo: 'Record the first replacements; until then treat every figure as a guess with wide bounds.',
    };
  }
  if (fit.wearLeaks < OWN_LEAKS) {
    return {
      code: 'few-leaks',
      text: `${leaks} leaks in ${fit.cell.rows.length} lives: too few to stand alone, so the model leans on the other groups. The fit cannot be judged.`,
      todo: 'Keep recording reasons and findings; the bounds narrow with every leak.',
    };
  }
  if (fit.failures < LEAKS_TO_JUDGE) {
    return {
      code: 'fit-not-judged',
      text: `${leaks} leaks: whether a Weibull curve suits them cannot be judged (that takes ${LEAKS_TO_JUDGE}).`,
      todo: 'Read the bounds, not the curve.',
    };
  }
  return null;
}

function priorOnly({ materialLeaked, fit }: GroupFacts): Warning | null {
  if (materialLeaked) return null;
  return {
    code: 'no-leak-in-material',
    text: `No leak of ${fit.cell.material} is on record: the lower bound of its life comes from the lives, the upper one from the assumption that it is within twenty times the likely one.`,
    todo: 'Do not read the upper bound as a life that may be used up.',
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

function unknownReasons({ fit }: GroupFacts): Warning | null {
  if (fit.unknownRows === 0) return null;
  return {
    code: 'unknown-reasons',
    text: `${fit.unknownRows} removals have no known reason; by the removals of the same material near the same age, ${significant(fit.unknownLeaks, 2)} of them count as leaks. This takes reasons to be missing by chance.`,
    todo: 'Ask the fitters for the reasons that are missing, above all where leaks may have gone unnamed.',
  };
}

function condition({ fit }: GroupFacts): Warning | null {
  if (fit.condition === null) return null;
  const { removals, asLeaks, asCensored } = fit.condition;
  if (asCensored !== null && Math.abs(asLeaks / asCensored - 1) <= CONDITION_SPAN) return null;
  const other =
    asCensored === null
      ? 'as not leaked there is no leak at all'
      : `as not leaked ${Math.round(asCensored)} days`;
  return {
    code: 'condition-removals',
    text: `${removals} were taken out because of their condition. Counted as leaks, 10 % fail by ${Math.round(asLeaks)} days; ${other}. The plan takes the more careful reading.`,
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
  const early = scheduled.filter((row) => {
    const finding = FINDINGS_AT_REMOVAL[at(fleet.lives.finding, at(history.life, row))];
    const damaged = finding !== 'sound' && finding !== 'unknown';
    return damaged && floatAt(history.age, row) < EARLY_SCHEDULED_AGE * practisedDays;
  });
  if (early.length <= EARLY_SCHEDULED_SHARE * scheduled.length) return null;
  return {
    code: 'scheduled-for-condition',
    text: `${early.length} of ${scheduled.length} scheduled removals came well before the usual age and were found damaged: they look like removals for condition.`,
    todo: 'If they were taken out because of their state, give the reason "condition".',
  };
}

/** Running lives far older than any completed one are asked about (METHODS 1.5). */
function oldRunning({ fleet, history, fit, model }: GroupFacts): Warning | null {
  const ended = fit.cell.rows.filter((row) => isRemoval(fleet, at(history.life, row)));
  const oldest = ended.reduce((most, row) => Math.max(most, floatAt(history.age, row)), 0);
  if (oldest === 0) return null;
  const isOld = (row: number): boolean =>
    !isRemoval(fleet, at(history.life, row)) && floatAt(history.age, row) > OLD_FACTOR * oldest;
  const old = fit.cell.rows.filter(isOld);
  if (old.length === 0) return null;
  const without = modelUnder(
    history,
    { ...fit.cell, rows: fit.cell.rows.filter((row) => !isOld(row)) },
    fit.reading,
    fit.hiddenFault,
  );
  const effect =
    without === null
      ? ''
      : ` Without them the scale would be ${Math.round(without.scale)} instead of ${Math.round(model.scale)} days.`;
  return {
    code: 'old-running-life',
    text: `${old.length} running lives are more than ${OLD_FACTOR} times as old as any that ended (${Math.round(oldest)} days).${effect}`,
    todo: 'Is the valve still in service, and was every replacement recorded?',
  };
}
