/** The thread that draws: answers find their question, and a fault reaches the one who asked. */
import { afterAll, describe, expect, it } from 'vitest';
import type { Chart } from '../../lib/chart/types.js';
import { startDrawer } from '../../lib/render/drawer.js';

/** Stands for the drawing library: names the chart, slow ones last; breaks where it is told to. */
const WORKER = new URL(
  `data:text/javascript,${encodeURIComponent(`
import { parentPort } from 'node:worker_threads';
parentPort.on('message', ({ id, chart, options }) => {
  if (chart.name === 'dies') throw new Error('the thread died');
  const answer = chart.name === 'broken' ? { id, error: 'no such mark' }
    : { id, svg: chart.name + '/' + options.idPrefix };
  setTimeout(() => parentPort.postMessage(answer), chart.name === 'slow' ? 60 : 1);
});`)}`,
);
const named = (name: string) => ({ name }) as Chart;

describe('the drawing thread', () => {
  const drawer = startDrawer(WORKER);
  afterAll(() => drawer.close());

  it('answers each question with its own picture', async () => {
    const names = ['slow', 'a', 'b', 'c', 'd'];
    const drawn = await Promise.all(names.map((name, i) => drawer.draw(named(name), { idPrefix: `c${i}` })));
    expect(drawn).toEqual(names.map((name, i) => `${name}/c${i}`));
  });

  it('says what went wrong with a chart, and goes on', async () => {
    await expect(drawer.draw(named('broken'), {})).rejects.toThrow('no such mark');
    expect(await drawer.draw(named('a'), { idPrefix: 'x' })).toBe('a/x');
  });

  it('answers as ever, faults included, where charts were drawn ahead', async () => {
    drawer.drawAhead(['a', 'broken'].map(named), {});
    expect(await drawer.draw(named('a'), { idPrefix: 'x' })).toBe('a/x');
    await expect(drawer.draw(named('broken'), {})).rejects.toThrow('no such mark');
  });

  it('leaves nobody waiting when it dies', async () => {
    const dying = startDrawer(WORKER);
    const asked = [dying.draw(named('slow'), {}), dying.draw(named('dies'), {})];
    const ends = await Promise.allSettled(asked);
    expect(ends.map(({ status }) => status)).toEqual(['rejected', 'rejected']);
    await expect(dying.draw(named('a'), {})).rejects.toThrow('the thread died');
    await dying.close();
  });
});
