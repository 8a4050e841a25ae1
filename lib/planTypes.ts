/** The plan: everything the job hands over, JSON-safe. Written to plan.json as it is. */

import type { DemandMonth } from './demand/types.js';
import type { Findings, Warning } from './findings.js';
import type { Recurrence } from './group/recurrence/types.js';
import type { GroupResult } from './group/resultTypes.js';
import type { ChangeSheet } from './interval/changeSheet.js';
import type { DueDate } from './interval/dueDates.js';
import type { GroupCheck, IntervalAdvice, ShutdownPlan, ShutdownTask } from './interval/types.js';
import type { WearReport } from './interval/wear/types.js';
import type { KitRow } from './stock/kits.js';
import type { StockMoney } from './stock/money/types.js';
import type { StockAdvice } from './stock/types.js';
import type { StandOutReport } from './yearly/standOuts/types.js';
import type { CostComparison } from './yearly/types.js';

export type { GroupResult };

/** A group with its fit, and whether its law suits the leaks. */
export interface CheckedGroup extends GroupResult {
  check: GroupCheck;
}

export interface Plan {
  version: string;
  seed: number;
  inputsHash: string;
  site: {
    name: string;
    currency: string;
    /** How numbers and dates are written for readers, where the plant says so. */
    locale?: string;
    dataUntil: string;
    recordsFrom: string | null;
    event: string;
    /** Chance with which a whole kit is to be complete. */
    kitComplete: number;
  };
  caution: string;
  /** What was assumed where the folder is silent. */
  assumed: string[];
  /** What a missing file switched off. */
  switchedOff: string[];
  findings: Findings;
  groups: CheckedGroup[];
  intervals: IntervalAdvice[];
  /** What change control asks of each interval that changes. */
  changes: ChangeSheet[];
  shutdownPlan: ShutdownTask[];
  shutdowns: ShutdownPlan['loads'];
  /** Every position in service, soonest due first. */
  dueDates: DueDate[];
  backlog: { overdueNow: number; goneAfter: string | null };
  /** How good the list is for the positions placed by cost, and what limits them; null where none is. */
  optimum: ShutdownPlan['optimum'];
  demand: DemandMonth[];
  demandToday: DemandMonth[];
  /** Empty where items.csv is missing. */
  stock: StockAdvice[];
  /** Money in stock against leaks that find the shelf empty; null where items.csv is missing. */
  stockMoney: StockMoney | null;
  /** What to lay out for each shutdown. */
  kits: KitRow[];
  cost: CostComparison;
  /** Positions, lots, fitters and weeks of fitting that leak more often than their groups. */
  standOuts: StandOutReport;
  /** What wears diaphragms besides days. */
  wear: WearReport;
  /** Leaks by line through the calendar, and whether new diaphragms last as long as old ones did. */
  recurrence: Recurrence;
  notes: string[];
  warnings: Warning[];
}
