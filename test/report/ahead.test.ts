/** What is drawn while the plan is being made is what the report asks for in the end. */
import { rmSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Chart } from '../../lib/chart/types.js';
import { readFleet } from '../../lib/fleet/read.js';
import { finishPlan, modelFleet, planFleet, practiseFleet, supplyFleet, weighFleet } from '../../lib/plan.js';
import { chartsOfPractised, chartsOfSupplied, chartsOfWeighed } from '../../lib/report/ahead.js';
import { reportHtml } from '../../lib/report/html.js';
import { type FolderOptions, folderFiles, writeFolder } from '../plan/folders.js';

const EPDM = { material: 'EPDM', size: 25, positions: 60, shape: 3, scale: 900, replacedAt: 730 };
const options: FolderOptions = { seed: 5, watchedDays: 2000, groups: [EPDM, { ...EPDM, size: 40 }] };

describe('charts known before the whole plan', () => {
  it('are those of the page, spec by spec', async () => {
    const folder = writeFolder(folderFiles(options));
    const fleet = await readFleet(folder);
    rmSync(folder, { recursive: true, force: true });
    const modelled = modelFleet(fleet);
    const weighed = weighFleet(modelled);
    const supplied = supplyFleet(weighed);
    const practised = practiseFleet(modelled);
    const ahead = [
      ...chartsOfWeighed(weighed),
      ...chartsOfSupplied(supplied),
      ...chartsOfPractised(practised),
    ];
    const plan = finishPlan(supplied, practised);
    expect(plan).toEqual(planFleet(fleet));
    const asked: Chart[] = [];
    await reportHtml(plan, async (chart) => {
      asked.push(chart);
      return '<svg></svg>';
    });
    const specs = new Map(asked.map(({ name, spec }) => [name, JSON.stringify(spec)]));
    expect(ahead.length).toBeGreaterThanOrEqual(6);
    for (const { name, spec } of ahead) expect(JSON.stringify(spec), name).toBe(specs.get(name));
  });
});
