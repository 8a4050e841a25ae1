/** The plan: everything the job hands over, JSON-safe. Written to plan.json as it is. */

import type { DemandMonth } from './demand/types.js';
import type { Findings, Warning } from './findings.js';
import type { IntervalAdvice, ShutdownPlan, ShutdownTask } from './interval/types.js';
import type { WeibullModel } from './life/model.js';
import type { StockAdvice } from './stock/types.js';
import type { CostComparison } from './yearly/types.js';

/** A group as the plan reports it. */
export interface GroupResult {
  group: string;
  material: string;
  size: number;
  duty: string | null;
  lives: number;
  failures: number;
  earlyLeaks: number;
  positions: number;
  model: WeibullModel;
  bounds: { shape: [number, number]; scale: [number, number]; share: [number, number] };
  level: number;
  method: 'likelihood' | 'posterior';
  /** Age, days, by which 10 % have leaked, with bounds at `level`. */
  b10: [low: number, estimate: number, high: number];
  supportedAge: number | null;
  borrowed: number;
  /** Points of the product-limit estimate against which the fit is drawn. */
  empirical: { age: number[]; failed: number[]; running: number[] };
  /** Fitted share failed by age with bounds at `level`, for drawing. */
  fitted: { age: number[]; failed: number[]; low: number[]; high: number[] };
  warnings: Warning[];
}

export interface Plan {
  version: string;
  seed: number;
  inputsHash: string;
  site: { name: string; currency: string; dataUntil: string; recordsFrom: string | null; event: string };
  caution: string;
  /** What was assumed where the folder is silent. */
  assumed: string[];
  /** What a missing file switched off. */
  switchedOff: string[];
  findings: Findings;
  groups: GroupResult[];
  intervals: IntervalAdvice[];
  shutdownPlan: ShutdownTask[];
  shutdowns: ShutdownPlan['loads'];
  backlog: { overdueNow: number; goneAfter: string | null };
  demand: DemandMonth[];
  demandToday: DemandMonth[];
  /** Empty where items.csv is missing. */
  stock: StockAdvice[];
  cost: CostComparison;
  notes: string[];
  warnings: Warning[];
}
