/**
 * A second thread of the command, for what its main line does not wait for: what the plant would do as today, and the
 * pictures. Loading the drawing library and drawing two dozen charts takes as long as a third of the whole plan. Results
 * are the same as in one thread.
 */
import { Worker } from 'node:worker_threads';
import type { Chart } from './chart/types.js';
import type { Wear } from './group/wear/types.js';
import type { Modelled, Practised } from './plan.js';
import type { SvgOptions } from './render/svg.js';

export interface SideThread {
  /** As practiseFleet of plan.ts; what wears the plant is answered as soon as it is found, as wearFleet. */
  practise(modelled: Modelled): { wear: Promise<Wear>; practised: Promise<Practised> };
  /** Draws charts that will be asked for, as soon as they are known: who asks later finds them drawn. */
  drawAhead(charts: readonly Chart[], options: SvgOptions): void;
  draw(chart: Chart, options: SvgOptions): Promise<string>;
  /** Ends the thread. */
  close(): Promise<void>;
}

export type SideTask =
  | { kind: 'wear'; modelled: Modelled }
  /** Of the plant whose wear was asked for last. */
  | { kind: 'practise' }
  | { kind: 'draw'; chart: Chart; options: SvgOptions };

/** Tasks are done in the order of the requests; an answer has the number of its request. */
export type SideRequest = SideTask & { id: number };
export type SideAnswer = { id: number } & ({ value: Wear | Practised | string } | { error: string });

interface Waiting {
  resolve(value: unknown): void;
  reject(cause: Error): void;
}

/** Starts a thread that runs the worker file. */
export function startSideThread(file: URL): SideThread {
  const worker = new Worker(file);
  const waiting = new Map<number, Waiting>();
  let broken: Error | null = null;
  worker.on('message', (answer: SideAnswer) => {
    const asked = waiting.get(answer.id);
    waiting.delete(answer.id);
    if ('error' in answer) asked?.reject(new Error(answer.error));
    else asked?.resolve(answer.value);
  });
  // A thread that dies is the end of all: whoever waits is told, and so is whoever asks later.
  worker.on('error', (cause) => {
    broken = cause;
    for (const { reject } of waiting.values()) reject(cause);
    waiting.clear();
  });
  let next = 0;
  const ask = <Value>(task: SideTask): Promise<Value> => {
    const answer = new Promise<Value>((resolve, reject) => {
      if (broken !== null) throw broken;
      const id = next++;
      waiting.set(id, { resolve: resolve as Waiting['resolve'], reject });
      worker.postMessage({ ...task, id } satisfies SideRequest);
    });
    // Who waits for the answer is told of a fault; nobody may be waiting yet.
    answer.catch(() => {});
    return answer;
  };
  return {
    practise: ({ fleet, seed, inDays, grouped, costs, wear }) => ({
      wear: ask({ kind: 'wear', modelled: { fleet, seed, inDays, grouped, costs, wear } }),
      practised: ask({ kind: 'practise' }),
    }),
    drawAhead: (charts, options) => {
      for (const chart of charts) void ask({ kind: 'draw', chart, options });
    },
    draw: (chart, options) => ask({ kind: 'draw', chart, options }),
    close: async () => {
      await worker.terminate();
    },
  };
}
