/** What a replacement and a leak cost, from tasks and settings. Amounts are in the site's currency. */
import type { Spread } from '../fleet/types.js';

export interface GroupCost {
  /** Per replacement: the diaphragm. */
  part: Spread;
  /** Per replacement: fitting and both re-tightenings. */
  labour: Spread;
  /** Per replacement: recalibrating accessories. */
  recalibration: Spread;
  /** Per replacement: its share of stop and re-sterilising, 0 where the stops happen anyway. */
  stopShare: Spread;
  /** The whole stop that `stopShare` is a share of: what one replacement would pay that had a stop to itself. */
  stopWhole: Spread;
  /** The four of part, labour, recalibration and stop share together. */
  replacement: Spread;
  /** Per leak: downtime of the line. */
  leakDowntime: Spread;
  /** Per leak: chance of a lost batch times its value. */
  lostBatch: Spread;
  /** Per leak: clean-up. */
  cleanup: Spread;
  /** The whole cost of a leak: the three above plus part, labour and recalibration (not the extra over a replacement). */
  leak: Spread;
  /** Per opening for other work: part, labour, recalibration. */
  opening: Spread;
  /** Settings that were missing, so that the sums leave them out: 'batch_value' ... */
  missing: string[];
}
