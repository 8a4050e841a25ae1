/** Whole plants whose lives are lognormal or Weibull: which law the plan prefers, and what it says of it. */
import { rmSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import { readFleet } from '../../lib/fleet/read.js';
import { planFleet } from '../../lib/plan.js';
import type { CheckedGroup, Plan } from '../../lib/planTypes.js';
import { type FolderOptions, folderFiles, type TruthGroup, writeFolder } from './folders.js';

const folders: string[] = [];

afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

async function planOf(group: Partial<TruthGroup>): Promise<Plan> {
  const groups = [
    { material: 'EPDM', size: 25, positions: 60, shape: 3, scale: 700, replacedAt: 800, ...group },
  ];
  const options: FolderOptions = { seed: 5, watchedDays: 2900, groups };
  const folder = writeFolder(folderFiles(options));
  folders.push(folder);
  return planFleet(await readFleet(folder));
}

const only = (plan: Plan): CheckedGroup => plan.groups[0] as CheckedGroup;
const codes = (plan: Plan): string[] => only(plan).warnings.map(({ code }) => code);

describe('a plant whose lives are lognormal', () => {
  it('is told that a lognormal suits better, what the interval costs under it, and what to do', async () => {
    const plan = await planOf({ lognormal: { mu: Math.log(600), sigma: 0.25 } });
    const { check, wearLeaks, warnings } = only(plan);
    expect(wearLeaks).toBeGreaterThanOrEqual(60);
    const opinion = check.secondOpinion;
    expect(opinion?.preferred).toBe(true);
    expect(opinion?.aicDifference).toBeGreaterThan(6);
    // Replaced at 800 days few lives are cut, so that the standard errors are near those of complete lives.
    expect(Math.abs((opinion?.mu ?? 0) - Math.log(600))).toBeLessThan(4 * (0.25 / Math.sqrt(wearLeaks)));
    expect(Math.abs((opinion?.sigma ?? 0) - 0.25)).toBeLessThan(4 * (0.25 / Math.sqrt(2 * wearLeaks)));
    const warning = warnings.find(({ code }) => code === 'lognormal-fits-better');
    expect(warning?.text).toMatch(/months would cost \d+\.\d % above the least, which is at [\d.]+ months/);
    expect(warning?.todo).toMatch(/interval/);
    const [interval] = plan.intervals;
    expect(opinion?.lognormal?.costPerYear).toBeGreaterThanOrEqual(
      opinion?.lognormal?.leastPerYear ?? Infinity,
    );
    // The Weibull takes the earliest leaks for earlier than they come, and so asks for a shorter interval.
    expect(opinion?.lognormal?.bestDays).toBeGreaterThan(opinion?.weibull?.bestDays ?? Infinity);
    expect(interval?.days).not.toBeNull();
  });
});

describe('a plant whose lives are Weibull', () => {
  it('is told nothing of another law', async () => {
    const plan = await planOf({});
    const { check, wearLeaks } = only(plan);
    expect(wearLeaks).toBeGreaterThanOrEqual(60);
    expect(check.verdict).toBe('fits');
    expect(check.secondOpinion?.preferred).toBe(false);
    expect(check.secondOpinion?.aicDifference).toBeLessThan(0);
    expect(codes(plan)).not.toContain('lognormal-fits-better');
    expect(codes(plan)).not.toContain('model-does-not-fit');
  });
});
