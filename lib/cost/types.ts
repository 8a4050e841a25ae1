/** What a replacement and a leak cost, from tasks and settings. Amounts are in the site's currency. */
import type { Amount } from './amount.js';

export interface GroupCost {
  /** Per replacement: the diaphragm. */
  part: Amount;
  /** Per replacement: fitting and both re-tightenings. */
  labour: Amount;
  /** Per replacement: recalibrating accessories. */
  recalibration: Amount;
  /** Per replacement: its share of stop and re-sterilising, 0 where the stops happen anyway. */
  stopShare: Amount;
  /** The whole stop that `stopShare` is a share of: what one replacement would pay that had a stop to itself. */
  stopWhole: Amount;
  /** The four of part, labour, recalibration and stop share together. */
  replacement: Amount;
  /** Per leak: downtime of the line. */
  leakDowntime: Amount;
  /** Per leak: chance of a lost batch times its value. */
  lostBatch: Amount;
  /** Per leak: clean-up, investigation, and parts beyond the diaphragm. */
  cleanup: Amount;
  /** The whole cost of a leak: the three above plus part, labour and recalibration (not the extra over a replacement). */
  leak: Amount;
  /** Per opening for other work: part, labour, recalibration. */
  opening: Amount;
  /** Settings that were missing, so that the sums leave them out: 'batch_value' ... */
  missing: string[];
}
