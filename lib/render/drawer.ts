/**
 * Charts drawn by a thread of its own. Loading the drawing library and drawing two dozen charts takes as long as a third
 * of the whole plan; a thread started before the plan loads it meanwhile and draws each chart as soon as it is known. The
 * pictures are the same as in one thread.
 */
import { Worker } from 'node:worker_threads';
import type { Chart } from '../chart/types.js';
import type { SvgOptions } from './svg.js';

export interface DrawRequest {
  id: number;
  chart: Chart;
  options: SvgOptions;
}

export type DrawAnswer = { id: number; svg: string } | { id: number; error: string };

export interface Drawer {
  /** Draws charts that will be asked for, as soon as they are known: who asks later finds them drawn. */
  drawAhead(charts: readonly Chart[], options: SvgOptions): void;
  draw(chart: Chart, options: SvgOptions): Promise<string>;
  /** Ends the thread. */
  close(): Promise<void>;
}

interface Waiting {
  resolve(svg: string): void;
  reject(cause: Error): void;
}

/** Starts a thread that runs the worker file. */
export function startDrawer(file: URL): Drawer {
  const worker = new Worker(file);
  const waiting = new Map<number, Waiting>();
  let broken: Error | null = null;
  worker.on('message', (answer: DrawAnswer) => {
    const asked = waiting.get(answer.id);
    waiting.delete(answer.id);
    if ('svg' in answer) asked?.resolve(answer.svg);
    else asked?.reject(new Error(answer.error));
  });
  // A thread that dies is the end of all: whoever waits is told, and so is whoever asks later.
  worker.on('error', (cause) => {
    broken = cause;
    for (const { reject } of waiting.values()) reject(cause);
    waiting.clear();
  });
  let next = 0;
  const send = (chart: Chart, options: SvgOptions): number => {
    const id = next++;
    worker.postMessage({ id, chart, options } satisfies DrawRequest);
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
      await worker.terminate();
    },
  };
}
