/** Advice for a group that no position uses now: what its lives say stays on show, and there is nothing to act on. */
import type { IntervalAdvice } from './types.js';
import type { Weighed } from './weigh.js';

/** True where no position holds the group's diaphragm now or will be fitted with it. */
export function isUnused({ group }: Pick<Weighed, 'group'>): boolean {
  return group.positions.length === 0;
}

/** What the figures of an advice are where no position stands behind them: no amount, no chance, no span. */
export const UNUSED_FIGURES = {
  within2percent: null,
  within5percent: null,
  cappedBy: null,
  chanceBetter: 0.5,
  costPerYear: 0,
  costPerYearToday: 0,
  costRange: [0, 0],
  expectedRegret: 0,
  worstTenth: 0,
  opportunityDays: null,
  leaksPerYear: 0,
  replacementsPerYear: 0,
  leaksPerYearToday: 0,
  replacementsPerYearToday: 0,
  around: [],
  settle: null,
  policies: [],
  warnings: [],
} satisfies Partial<IntervalAdvice>;
