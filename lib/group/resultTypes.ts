/** A group as the plan reports it: JSON-safe, with what is needed to draw fit against data. */
import type { Warning } from '../findings.js';
import type { WeibullModel } from '../life/model.js';

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
  /** Points of the product-limit estimate against which the fit is drawn; ages of lives that ended without a leak. */
  empirical: { age: number[]; failed: number[]; running: number[] };
  /** Fitted share failed by age with bounds at `level`, for drawing. */
  fitted: { age: number[]; failed: number[]; low: number[]; high: number[] };
  warnings: Warning[];
}
