/**
 * Charts drawn by threads of their own. Loading the drawing library and drawing two dozen charts takes as long as a third
 * of the whole plan; threads started before the plan load it meanwhile and then share the charts. The pictures are the
 * same as in one thread.
 */
import { Worker } from 'node:worker_threads';
import type { Chart } from '../chart/types.js';
import { at, itemAt } from '../numeric/columns.js';
import type { SvgOptions } from './svg.js';

export interface DrawRequest {
  id: number;
  chart: Chart;
  options: SvgOptions;
}

export type DrawAnswer = { id: number; svg: string } | { id: number; error: string };

export interface Drawers {
  /** Draws charts that will be asked for, as soon as they are known: who asks later finds them drawn. */
  drawAhead(charts: readonly Chart[], options: SvgOptions): void;
  draw(chart: Chart, options: SvgOptions): Promise<string>;
  /** Ends the threads. */
  close(): Promise<void>;
}

interface Waiting {
  resolve(svg: string): void;
  reject(cause: Error): void;
}

/**
 * Starts threads that run the worker file. A chart goes to the thread that drew it ahead, and otherwise to the thread
 * with the fewest charts waiting.
 */
export function startDrawers(file: URL, threads: number): Drawers {
  const waiting = new Map<number, Waiting>();
  const load = new Array<number>(threads).fill(0);
  const drawnBy = new Map<string, number>();
  // One thread gone is the end of all: whoever waits is told, and so is whoever asks later.
  let broken: Error | null = null;
  const failAll = (cause: Error): void => {
    broken = cause;
    for (const { reject } of waiting.values()) reject(cause);
    waiting.clear();
  };
  const workers = load.map((_, w) => {
    const worker = new Worker(file);
    worker.on('message', (answer: DrawAnswer) => {
      load[w] = at(load, w) - 1;
      const asked = waiting.get(answer.id);
      waiting.delete(answer.id);
      if ('svg' in answer) asked?.resolve(answer.svg);
      else asked?.reject(new Error(answer.error));
    });
    worker.on('error', failAll);
    return worker;
  });
  let next = 0;
  const send = (chart: Chart, options: SvgOptions): number => {
    const id = next++;
    const w = drawnBy.get(chart.name) ?? load.indexOf(Math.min(...load));
    drawnBy.set(chart.name, w);
    load[w] = at(load, w) + 1;
    itemAt(workers, w).postMessage({ id, chart, options } satisfies DrawRequest);
    return id;
  };
  return {
    drawAhead: (charts, options) => {
      for (const chart of charts) send(chart, options);
    },
    draw: (chart, options) =>
      new Promise((resolve, reject) => {
        if (broken !== null) throw broken;
        waiting.set(send(chart, options), { resolve, reject });
      }),
    close: async () => {
      await Promise.all(workers.map((worker) => worker.terminate()));
    },
  };
}
