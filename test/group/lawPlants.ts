/** Simulated plants of one group for the check of its law: one that obeys the law, and one that is two groups in truth. */
import { checkLaw, type LawCheck } from '../../lib/group/checkLaw.js';
import { groupFleet } from '../../lib/group/groupFleet.js';
import { itemAt } from '../../lib/numeric/columns.js';
import { type PlantTruth, simulatedPlant } from './plant.js';

const alike = { material: 'EPDM', size: 25, shape: 2.5 };
const everywhere = {
  fault: { shape: 0.8, scale: 15 },
  openingsPerYear: 0.1,
  faultShare: () => 0.03,
  before: 700,
};

/** Staggered fitting, fitting faults, replacements on schedule, openings, and one reason in eight not written down. */
export const OBEYS: PlantTruth = {
  ...everywhere,
  groups: [{ ...alike, positions: 60, scale: 800, scheduled: 730 }],
  years: 5,
  reasonLost: 0.125,
};

/** About 30 wear leaks of scale 300 days and as many of 1500, and nothing on record tells them apart. */
export const TWO_KINDS: PlantTruth = {
  ...everywhere,
  groups: [
    { ...alike, positions: 5, scale: 300, scheduled: Infinity },
    { ...alike, positions: 26, scale: 1500, scheduled: Infinity },
  ],
  years: 5,
  reasonLost: 0.125,
};

export function checkOf(truth: PlantTruth, seed: number): LawCheck {
  return checkLaw(itemAt(groupFleet(simulatedPlant(truth, seed), { seed }).groups, 0), seed);
}
