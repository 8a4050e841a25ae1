/** The parts of a fleet that these tests leave empty. */
import type { Findings } from '../../lib/findings.js';
import type { LifeTable, Money } from '../../lib/fleet/types.js';
import { REASONS } from '../../lib/fleet/types.js';

export const NO_MONEY: Money = {
  labourPerHour: null,
  instrumentLabourPerHour: null,
  fittingHours: null,
  retightenHours: null,
  recalibrationHoursPerAccessory: null,
  resteriliseCost: null,
  plannedStopHours: null,
  downtimePerHour: null,
  leakDowntimeHours: null,
  lostBatchProbability: null,
  batchValue: null,
  cleanupCost: null,
  investigationCost: null,
  leakPartsCost: null,
  holdingRatePerYear: null,
  discountRatePerYear: null,
  orderCost: null,
};

export const NO_FINDINGS: Findings = {
  rowsIn: 0,
  rowsUsed: 0,
  rowsSetAside: 0,
  files: [],
  livesBuilt: 0,
  problems: [],
  rules: [],
};

interface OpenedLife {
  position: number;
  material: number;
  size: number;
  fitted: number;
  removed: number;
}

/** A table of lives that all ended because the valve was opened for other work. */
export function fillTable(lives: OpenedLife[]): LifeTable {
  const column = (pick: (life: OpenedLife) => number): Float64Array => Float64Array.from(lives, pick);
  const opened = REASONS.indexOf('opened');
  return {
    length: lives.length,
    position: Int32Array.from(lives, (life) => life.position),
    material: Int32Array.from(lives, (life) => life.material),
    size: column((life) => life.size),
    fitted: column((life) => life.fitted),
    removed: column((life) => life.removed),
    reason: Uint8Array.from(lives, () => opened),
    finding: new Uint8Array(lives.length),
    lastTight: column(() => Number.NaN),
    lot: new Int32Array(lives.length).fill(-1),
    fittedBy: new Int32Array(lives.length).fill(-1),
    recorded: column(() => Number.NaN),
    row: Int32Array.from(lives, (_, i) => i + 1),
  };
}
