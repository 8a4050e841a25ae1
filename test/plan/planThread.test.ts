/** The second thread of the command: the same pools and the same practice as in one, and its faults are told. */

import { rmSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { readFleet } from '../../lib/fleet/read.js';
import { type PoolJob, poolInTurn } from '../../lib/group/pools.js';
import { drawLives } from '../../lib/life/distribution/functions.js';
import { wearSurface } from '../../lib/life/estimate/wearSurface.js';
import { prepareRows } from '../../lib/life/estimate/weibullLikelihood.js';
import { lifeSample } from '../../lib/life/sample.js';
import { randomStream } from '../../lib/numeric/random.js';
import { modelFleet, practiseFleet } from '../../lib/plan.js';
import { startPlanThread } from '../../lib/planThread.js';
import { folderFiles, writeFolder } from './folders.js';

/** The worker from its source. */
const LOADER = import.meta.resolve('tsx/esm/api');
const SOURCE = pathToFileURL(new URL('../../lib/planWorker.ts', import.meta.url).pathname).href;
const FROM_SOURCE = inline(`
import { register } from '${LOADER}';
register();
await import('${SOURCE}');`);

function inline(code: string): URL {
  return new URL(`data:text/javascript,${encodeURIComponent(code)}`);
}

/** One job per number: a material of so many groups, 40 lives each, of which those past 900 days are still running. */
function jobsOf(sizes: readonly number[]): PoolJob[] {
  return sizes.map((groups, material) => ({
    layout: {
      groups: Array.from({ length: groups }, (_, g) => {
        const ages = drawLives(
          { kind: 'weibull', shape: 2.5, scale: 800 + 100 * g },
          40,
          randomStream(7, `lives ${material}/${g}`),
        );
        const lower = Array.from(ages, (age) => Math.min(age, 900));
        const upper = Array.from(ages, (age) => (age > 900 ? Infinity : age));
        return { location: 0, logSize: 0, surface: wearSurface(prepareRows(lifeSample({ lower, upper }))) };
      }),
      locations: [{ parent: null, centre: Math.log(900) }],
    },
    options: { seed: 3, draws: 50, sweeps: 300, label: `material ${material}` },
  }));
}

describe('second thread', () => {
  const thread = startPlanThread(FROM_SOURCE);
  afterAll(() => thread.close());

  it.each([[[3, 2, 1]], [[1, 1]], [[2]], [[]]])('pools %j materials as one thread does', (sizes) => {
    const jobs = jobsOf(sizes);
    expect(thread.pooler(jobs)).toEqual(poolInTurn(jobs));
  });

  it('pools at home what cannot be sent', () => {
    const bare = jobsOf([2, 1]).map(({ layout, options }) => ({
      options,
      layout: {
        ...layout,
        groups: layout.groups.map(({ surface, ...group }) => ({
          ...group,
          surface: surface && { logLikelihood: surface.logLikelihood, bestLogRate: surface.bestLogRate },
        })),
      },
    }));
    expect(thread.pooler(bare)).toEqual(poolInTurn(bare));
  });

  it('works out what the plant would do as today', async () => {
    const EPDM = { material: 'EPDM', size: 25, positions: 40, shape: 3, scale: 900, replacedAt: 730 };
    const folder = writeFolder(folderFiles({ seed: 5, watchedDays: 2000, groups: [EPDM] }));
    const fleet = await readFleet(folder);
    rmSync(folder, { recursive: true, force: true });
    const modelled = modelFleet(fleet);
    const practised = await thread.practise(modelled);
    expect(practised.demand.length).toBeGreaterThan(0);
    expect(practised).toEqual(practiseFleet(modelled));
  });
});

describe('a second thread that fails', () => {
  const answering = (answer: string): URL =>
    inline(`
import { parentPort } from 'node:worker_threads';
parentPort.on('message', ({ port, done }) => {
  port.postMessage(${answer});
  if (done) { Atomics.store(done, 0, 1); Atomics.notify(done, 0); }
});`);

  it('says why', async () => {
    const thread = startPlanThread(answering("{ error: 'out of paper' }"));
    expect(() => thread.pooler(jobsOf([1, 1]))).toThrow('out of paper');
    await expect(thread.practise({} as never)).rejects.toThrow('out of paper');
    await thread.close();
  });

  it('is told apart from one that is gone', async () => {
    const thread = startPlanThread(inline("throw new Error('no start')"));
    await expect(thread.practise({} as never)).rejects.toThrow('no start');
    await thread.close();
  });
});
