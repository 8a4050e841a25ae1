/** Threads that draw: charts are shared out, answers find their question, and a fault reaches the one who asked. */
import { afterAll, describe, expect, it } from 'vitest';
import type { Chart } from '../../lib/chart/types.js';
import { startDrawers } from '../../lib/render/drawers.js';

/** Stands for the drawing library: names its thread and the chart, slow ones last; breaks where it is told to. */
const WORKER = new URL(
  `data:text/javascript,${encodeURIComponent(`
import { parentPort, threadId } from 'node:worker_threads';
parentPort.on('message', ({ id, chart, options }) => {
  if (chart.name === 'dies') throw new Error('the thread died');
  const answer = chart.name === 'broken' ? { id, error: 'no such mark' }
    : { id, svg: threadId + '/' + chart.name + '/' + options.idPrefix };
  setTimeout(() => parentPort.postMessage(answer), chart.name === 'slow' ? 60 : 1);
});`)}`,
);
const named = (name: string) => ({ name }) as Chart;

describe('drawing threads', () => {
  const drawers = startDrawers(WORKER, 2);
  afterAll(() => drawers.close());

  it('share the charts, and every answer finds its question', async () => {
    const names = ['slow', 'a', 'b', 'c', 'd'];
    const drawn = await Promise.all(names.map((name, i) => drawers.draw(named(name), { idPrefix: `c${i}` })));
    expect(drawn.map((svg) => svg.split('/').slice(1).join('/'))).toEqual(
      names.map((name, i) => `${name}/c${i}`),
    );
    expect(new Set(drawn.map((svg) => svg.split('/')[0])).size).toBe(2);
  });

  it('say what went wrong with a chart, and go on', async () => {
    await expect(drawers.draw(named('broken'), {})).rejects.toThrow('no such mark');
    expect(await drawers.draw(named('a'), { idPrefix: 'x' })).toMatch(/a\/x$/);
  });

  it('give a chart that was drawn ahead to the thread that drew it, and answer as ever', async () => {
    const ahead = startDrawers(WORKER, 2);
    const thread = async (name: string) => (await ahead.draw(named(name), { idPrefix: 'x' })).split('/')[0];
    ahead.drawAhead(['a', 'b'].map(named), {});
    const [a, b] = [await thread('a'), await thread('b')];
    expect(a).not.toBe(b);
    expect([await thread('b'), await thread('a'), await thread('a')]).toEqual([b, a, a]);
    await ahead.close();
  });

  it('tell of a chart that failed ahead when it is asked for', async () => {
    const ahead = startDrawers(WORKER, 1);
    ahead.drawAhead([named('broken')], {});
    await expect(ahead.draw(named('broken'), {})).rejects.toThrow('no such mark');
    await ahead.close();
  });

  it('leave nobody waiting when a thread dies', async () => {
    const dying = startDrawers(WORKER, 1);
    const asked = [dying.draw(named('slow'), {}), dying.draw(named('dies'), {})];
    const ends = await Promise.allSettled(asked);
    expect(ends.map(({ status }) => status)).toEqual(['rejected', 'rejected']);
    await expect(dying.draw(named('a'), {})).rejects.toThrow('the thread died');
    await dying.close();
  });
});
