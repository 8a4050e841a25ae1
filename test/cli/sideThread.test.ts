/** The second thread of the command: answers find their question, and a fault reaches the one who asked. */
import { existsSync, rmSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import type { Chart } from '../../lib/chart/types.js';
import { readFleet } from '../../lib/fleet/read.js';
import {
  finishPlan,
  flowWear,
  type Modelled,
  modelFleet,
  planFleet,
  practiseFleet,
  supplyFleet,
  wearFleet,
  weighFleet,
} from '../../lib/plan.js';
import { startSideThread } from '../../lib/sideThread.js';
import { wearPlant } from '../group/wear/wearFolder.js';
import { folderFiles, writeFolder } from '../plan/folders.js';

/** Stands for the worker: names the chart, or says that it was asked for today's practice; breaks where it is told to. */
const WORKER = new URL(
  `data:text/javascript,${encodeURIComponent(`
import { parentPort } from 'node:worker_threads';
parentPort.on('message', ({ id, kind, chart, options }) => {
  if (kind === 'practise') return parentPort.postMessage({ id, value: 'as today' });
  if (kind === 'wear') return parentPort.postMessage({ id, value: 'steam' });
  if (chart.name === 'dies') throw new Error('the thread died');
  const answer = chart.name === 'broken' ? { id, error: 'no such mark' }
    : { id, value: chart.name + '/' + options.idPrefix };
  setTimeout(() => parentPort.postMessage(answer), chart.name === 'slow' ? 60 : 1);
});`)}`,
);
const named = (name: string) => ({ name }) as Chart;

describe('the second thread', () => {
  const aside = startSideThread(WORKER);
  afterAll(() => aside.close());

  it('answers each question with its own answer', async () => {
    const names = ['slow', 'a', 'b', 'c', 'd'];
    const drawn = names.map((name, i) => aside.draw(named(name), { idPrefix: `c${i}` }));
    const { wear, practised } = aside.practise({} as Modelled);
    expect(await Promise.all(drawn)).toEqual(names.map((name, i) => `${name}/c${i}`));
    expect([await wear, await practised]).toEqual(['steam', 'as today']);
  });

  it('says what went wrong with a chart, and goes on', async () => {
    await expect(aside.draw(named('broken'), {})).rejects.toThrow('no such mark');
    expect(await aside.draw(named('a'), { idPrefix: 'x' })).toBe('a/x');
  });

  it('answers as ever, faults included, where charts were drawn ahead', async () => {
    aside.drawAhead(['a', 'broken'].map(named), {});
    expect(await aside.draw(named('a'), { idPrefix: 'x' })).toBe('a/x');
    await expect(aside.draw(named('broken'), {})).rejects.toThrow('no such mark');
  });

  it('leaves nobody waiting when it dies', async () => {
    const dying = startSideThread(WORKER);
    const asked = [dying.draw(named('slow'), {}), dying.draw(named('dies'), {})];
    const ends = await Promise.allSettled(asked);
    expect(ends.map(({ status }) => status)).toEqual(['rejected', 'rejected']);
    await expect(dying.draw(named('a'), {})).rejects.toThrow('the thread died');
    await dying.close();
  });
});

const COMPILED = new URL('../../dist/sideWorker.js', import.meta.url);

describe.skipIf(!existsSync(COMPILED))('its compiled worker', () => {
  it('works out today’s practice as the plan does', async () => {
    const epdm = { material: 'EPDM', size: 25, positions: 40, shape: 3, scale: 900, replacedAt: 730 };
    const folder = writeFolder(folderFiles({ seed: 5, watchedDays: 2000, groups: [epdm] }));
    const modelled = modelFleet(await readFleet(folder));
    rmSync(folder, { recursive: true, force: true });
    const aside = startSideThread(COMPILED);
    const { wear, practised } = aside.practise(modelled);
    expect(await wear).toEqual(wearFleet(modelled));
    expect(await practised).toEqual(practiseFleet(modelled));
    await aside.close();
  });

  it('goes by use where a counter is told, as the plan in one thread', async () => {
    const fleet = wearPlant({ seed: 5, clock: 'steam cycles' });
    const aside = startSideThread(COMPILED);
    const modelled = modelFleet(fleet);
    const { wear, practised } = aside.practise(modelled);
    const flowing = flowWear(modelled, await wear);
    expect(flowing.grouped.groups.length).toBeGreaterThan(1);
    expect(finishPlan(supplyFleet(weighFleet(flowing)), await practised)).toEqual(planFleet(fleet));
    await aside.close();
  });
});
