/**
 * Reasons that invented plants lost, against the truth: the chances that these removals were leaks add up to the leaks that
 * they were, before, in and after the ages at which most are replaced. (Shares among the nearest removals of any reason
 * took leaks beside a spike of scheduled ages for scheduled ones: a fifth of the EPDM leaks was missing.)
 */
import { expect, it } from 'vitest';
import { practisedMonths } from '../../data-demo/plant/design.js';
import { isLeak } from '../../data-demo/plant/simulate.js';
import { readHistory, UNKNOWN } from '../../lib/group/history.js';
import { weighUnknownReasons } from '../../lib/group/unknownReasons.js';
import { at, floatAt, itemAt } from '../../lib/numeric/columns.js';
import { readPlant } from './plant.js';

/** Fixed before any of them was drawn; others served while the method was made. */
const SEEDS = Array.from({ length: 12 }, (_, i) => 301 + i);
const DAYS_PER_MONTH = 30.4375;
/** Ages over the practised age at which one part of life ends and the next begins. */
const PARTS = [0.1, 0.75, 0.9, 1.1, Infinity];

interface Part {
  weighed: number;
  leaks: number;
  /** Variance of the leaks where the chances are right. */
  variance: number;
}

function partsOfLife(material: string): Part[] {
  const parts = PARTS.map((): Part => ({ weighed: 0, leaks: 0, variance: 0 }));
  for (const seed of SEEDS) {
    const { fleet, lives } = readPlant({ seed, worsePositions: false, poorLot: false, dataFaults: false });
    const history = readHistory(fleet);
    weighUnknownReasons(fleet, history);
    for (let i = 0; i < history.length; i++) {
      const life = itemAt(lives, at(fleet.lives.row, at(history.life, i)) - 1);
      if (at(history.kind, i) !== UNKNOWN || life.position.material !== material) continue;
      const practised = practisedMonths(life.position.duty, material) * DAYS_PER_MONTH;
      const part = itemAt(
        parts,
        PARTS.findIndex((end) => floatAt(history.age, i) / practised < end),
      );
      const chance = floatAt(history.leakWeight, i);
      part.weighed += chance;
      part.leaks += isLeak(life.reason) ? 1 : 0;
      part.variance += chance * (1 - chance);
    }
  }
  return parts;
}

it.each(['EPDM', 'PTFE-faced EPDM'])('lost reasons of %s are as many leaks as they were', (material) => {
  for (const { weighed, leaks, variance } of partsOfLife(material)) {
    // The chances themselves are estimated from removals eight times as many: a ninth more variance, and room for it.
    expect(Math.abs(weighed - leaks)).toBeLessThan(4 * Math.sqrt(variance * (1 + 1 / 8)));
    expect(leaks).toBeGreaterThan(10);
  }
});
