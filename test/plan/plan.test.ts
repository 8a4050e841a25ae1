import { readFileSync, rmSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import { readFleet } from '../../lib/fleet/read.js';
import { integrate } from '../../lib/numeric/quadrature.js';
import { planFleet } from '../../lib/plan.js';
import type { Plan } from '../../lib/planTypes.js';
import { planJson } from '../../lib/report/files.js';
import { summaryText } from '../../lib/report/summary.js';
import { VERSION } from '../../lib/version.js';
import { type FolderOptions, folderFiles, type TruthGroup, writeFolder } from './folders.js';

const folders: string[] = [];

afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

async function planOf(files: ReadonlyMap<string, string>): Promise<Plan> {
  const folder = writeFolder(files);
  folders.push(folder);
  return planFleet(await readFleet(folder));
}

const EPDM: TruthGroup = {
  material: 'EPDM',
  size: 25,
  positions: 120,
  shape: 3,
  scale: 900,
  replacedAt: 730,
};
const base: FolderOptions = { seed: 11, watchedDays: 2900, groups: [EPDM] };

/** Nothing that is not a number may reach a reader. */
function expectClean(plan: Plan): void {
  const texts = `${planJson(plan)}${summaryText(plan, 'out')}`;
  expect(texts).not.toMatch(/NaN|Infinity|undefined|\[object/);
  const walk = (value: unknown, path: string): void => {
    if (typeof value === 'number') expect(Number.isFinite(value), path).toBe(true);
    else if (value !== null && typeof value === 'object') {
      for (const [key, inner] of Object.entries(value)) walk(inner, `${path}.${key}`);
    }
  };
  walk(plan, 'plan');
  expect(plan.findings.rowsIn).toBe(plan.findings.rowsUsed + plan.findings.rowsSetAside);
}

/** Cost per day of replacing at an age under Weibull 3 / 900: a replacement 130, a leak 4 500 more. */
function trueCostRate(age: number): number {
  const survival = (t: number): number => Math.exp(-((t / 900) ** 3));
  const uptime = integrate(survival, 0, age).value;
  return (130 + 4500 * (1 - survival(age))) / uptime;
}

describe('an event of damage', () => {
  /** Every third diaphragm replaced on schedule was torn. */
  const damagedFiles = (event: string): Map<string, string> => {
    const files = folderFiles({ ...base, groups: [{ ...EPDM, positions: 40, replacedAt: 500 }] });
    let scheduled = 0;
    const torn = (row: string): string =>
      row.endsWith('scheduled,sound') && scheduled++ % 3 === 0 ? row.replace(/sound$/, 'torn') : row;
    const lives = (files.get('lives.csv') ?? '').split('\n').map(torn).join('\n');
    const site = (files.get('site.json') ?? '').replace('"event":"leak"', `"event":"${event}"`);
    return new Map([...files, ['lives.csv', lives], ['site.json', site]]);
  };

  it('moves no interval, demand or cost: those are of leaks', async () => {
    const [ofLeaks, ofDamage] = [await planOf(damagedFiles('leak')), await planOf(damagedFiles('damage'))];
    expect(ofLeaks.site.event).toBe('leak');
    expect(ofDamage.site.event).toBe('damage');
    expect(ofDamage.cost).toEqual(ofLeaks.cost);
    expect(ofDamage.intervals).toEqual(ofLeaks.intervals);
    expect(ofDamage.demand).toEqual(ofLeaks.demand);
    expect(ofDamage.stock).toEqual(ofLeaks.stock);
    expect(ofDamage.shutdownPlan).toEqual(ofLeaks.shutdownPlan);
    expect(ofLeaks.groups[0]?.damage).toBeNull();
    const { damage, ...rest } = ofDamage.groups[0] ?? {};
    expect({ ...rest, damage: null }).toEqual(ofLeaks.groups[0]);
    expectClean(ofDamage);
    // A third of those looked at on schedule at 500 days, not of all lives: some had leaked before.
    expect(damage?.life?.share[2]?.median).toBeGreaterThan(damage?.life?.share[1]?.median ?? 1);
    expect(damage?.life?.share[1]?.low).toBeGreaterThan(0.02);
    expect(damage?.life?.share[1]?.high).toBeLessThan(0.33);
  });
});

describe('planFleet on folders with a known truth', () => {
  it('finds shape and scale within its bounds and proposes an age near the best one', async () => {
    const plan = await planOf(folderFiles(base));
    expectClean(plan);
    const [group] = plan.groups;
    expect(group?.bounds.shape[0]).toBeLessThan(3);
    expect(group?.bounds.shape[1]).toBeGreaterThan(3);
    expect(group?.bounds.scale[0]).toBeLessThan(900);
    expect(group?.bounds.scale[1]).toBeGreaterThan(900);
    const [interval] = plan.intervals;
    expect(interval?.action).toBe('replace');
    // Replacement about 130 (a 40 part, 1.5 h at 60), leak 4 500 more (4 h at 500, 0.05 x 40 000, 500 clean-up): for
    // Weibull 3 / 900 the cost rate is least at 219 days (210 at a replacement of 115, 227 at 145; scipy quad).
    expect(interval?.direction).toBe('shorten');
    // Whatever the age, it must cost little more than the best one under the true law: 2 % of choice, as much of chance.
    expect(trueCostRate(interval?.days ?? 0) / trueCostRate(219)).toBeLessThan(1.04);
    expect(trueCostRate(329) / trueCostRate(219)).toBeGreaterThan(1.04);
    expect(trueCostRate(140) / trueCostRate(219)).toBeGreaterThan(1.04);
  });

  it('is not fooled by delayed entry', async () => {
    const plan = await planOf(folderFiles({ ...base, daysBeforeRecords: 700, watchedDays: 1500 }));
    expectClean(plan);
    const [group] = plan.groups;
    expect(group?.bounds.shape[0]).toBeLessThan(3);
    expect(group?.bounds.shape[1]).toBeGreaterThan(3);
    expect(group?.bounds.scale[0]).toBeLessThan(900);
    expect(group?.bounds.scale[1]).toBeGreaterThan(900);
  });

  it('keeps today’s interval where nothing has failed, and says what would settle it', async () => {
    const plan = await planOf(
      folderFiles({ ...base, groups: [{ ...EPDM, positions: 30, scale: 20_000, replacedAt: 365 }] }),
    );
    expectClean(plan);
    expect(plan.groups[0]?.failures).toBe(0);
    expect(plan.intervals[0]?.action).toBe('keep');
    expect(plan.intervals[0]?.because).toMatch(/no leak|0 leaks/i);
  });

  it('gives the same bytes for the same input and seed, and a plan that survives JSON', async () => {
    const first = planJson(await planOf(folderFiles(base)));
    const second = planJson(await planOf(folderFiles(base)));
    expect(second).toBe(first);
    expect(JSON.parse(first).version).toBe(VERSION);
  });
});

describe('planFleet on awkward folders', () => {
  it('plans a plant with one position and one running life', async () => {
    const plan = await planOf(
      new Map([
        ['positions.csv', 'position,size\nV1,25\n'],
        ['lives.csv', 'position,material,fitted\nV1,EPDM,2024-05-01\n'],
      ]),
    );
    expectClean(plan);
    expect(plan.groups).toHaveLength(1);
    expect(plan.stock).toHaveLength(0);
    expect(plan.switchedOff.join(' ')).toMatch(/items\.csv/);
  });

  it('plans where every life has failed', async () => {
    const plan = await planOf(
      folderFiles({ ...base, groups: [{ ...EPDM, positions: 20, replacedAt: Infinity }] }),
    );
    expectClean(plan);
    expect(plan.intervals[0]?.today).toBeNull();
  });

  it('treats hostile tags, lines and materials as plain text', async () => {
    const tags = [
      '__proto__',
      'constructor',
      '<img src=x onerror=alert(1)>',
      '</script>',
      '\u202egnirts',
      'x'.repeat(500),
    ];
    const plan = await planOf(
      folderFiles({
        ...base,
        line: '=1+1',
        tag: (i) => `${tags[i % tags.length]}${i}`,
        groups: [
          { ...EPDM, material: '__proto__', positions: 12 },
          { ...EPDM, material: '<b>EPDM</b>', positions: 12 },
        ],
      }),
    );
    expectClean(plan);
    expect(plan.groups.map((group) => group.material).sort()).toEqual(['<b>EPDM</b>', '__proto__']);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  it('says the version of package.json', () => {
    const pack: unknown = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));
    expect(pack).toMatchObject({ version: VERSION });
  });
});
