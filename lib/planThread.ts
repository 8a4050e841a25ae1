/**
 * A second thread for the work of a plan that hangs on nothing else: the pools of some materials, and what the plant would
 * do as today. The results are the same as in one thread: every pool has random numbers of its own.
 */
import { MessageChannel, type MessagePort, receiveMessageOnPort, Worker } from 'node:worker_threads';
import { type Pooler, type PoolJob, poolInTurn } from './group/pools.js';
import type { PooledPosterior } from './life/estimate/pooling.js';
import { type SurfaceTable, surfaceOf } from './life/estimate/wearSurface.js';
import { itemAt } from './numeric/columns.js';
import type { Modelled, Practised } from './plan.js';

export interface PlanThread {
  /** Pools as `poolInTurn` does, the larger half of the work in the other thread. */
  pooler: Pooler;
  practise(modelled: Modelled): Promise<Practised>;
  /** Ends the thread. */
  close(): Promise<void>;
}

/** A pool's work as plain data: `tables` in the order of its groups. */
interface PackedJob extends PoolJob {
  tables: (SurfaceTable | null)[];
}

export type PlanRequest = { port: MessagePort } & (
  | { kind: 'pool'; jobs: PackedJob[]; done: Int32Array }
  | { kind: 'practise'; modelled: Modelled }
);

/** Every request has a port of its own, so that an answer need not say what it answers. */
export type PlanAnswer<Value> = { value: Value } | { error: string };

/** A thread that has not answered by then, in milliseconds, is taken for dead, and its work is done here. */
const PATIENCE = 60_000;

/** Starts a thread that runs the worker file. */
export function startPlanThread(file: URL): PlanThread {
  const worker = new Worker(file);
  let broken: Error | null = null;
  worker.on('error', (cause) => {
    broken = cause;
  });
  return {
    pooler: (jobs) => poolInTwo(worker, jobs),
    practise: ({ fleet, seed, grouped, costs }) =>
      new Promise((resolve, reject) => {
        if (broken !== null) throw broken;
        worker.once('error', reject);
        const { port1, port2 } = new MessageChannel();
        port1.once('message', (answer: PlanAnswer<Practised>) => {
          port1.close();
          if ('error' in answer) reject(new Error(answer.error));
          else resolve(answer.value);
        });
        const request: PlanRequest = {
          kind: 'practise',
          port: port2,
          modelled: { fleet, seed, grouped, costs },
        };
        worker.postMessage(request, [port2]);
      }),
    close: async () => {
      await worker.terminate();
    },
  };
}

/** Waits asleep: whoever asks for pools has nothing to do without them. Work is shared by the number of groups; what cannot be sent is done here. */
function poolInTwo(worker: Worker, jobs: readonly PoolJob[]): PooledPosterior[] {
  const away = new Set(shareOut(jobs));
  const sent = jobs.filter((job) => away.has(job));
  if (sent.length === 0) return poolInTurn(jobs);
  const { port1, port2 } = new MessageChannel();
  const done = new Int32Array(new SharedArrayBuffer(4));
  const request: PlanRequest = { kind: 'pool', port: port2, jobs: sent.map(packJob), done };
  worker.postMessage(request, [port2]);
  const here = poolInTurn(jobs.filter((job) => !away.has(job)));
  Atomics.wait(done, 0, 0, PATIENCE);
  const answer: PlanAnswer<PooledPosterior[]> | undefined = receiveMessageOnPort(port1)?.message;
  port1.close();
  if (answer !== undefined && 'error' in answer) throw new Error(answer.error);
  const there = answer?.value ?? poolInTurn(sent);
  let [nextSent, nextHere] = [0, 0];
  return jobs.map((job) => (away.has(job) ? itemAt(there, nextSent++) : itemAt(here, nextHere++)));
}

/** The jobs for the other thread: from the largest down, each to whom has less to do. */
function shareOut(jobs: readonly PoolJob[]): PoolJob[] {
  const bySize = [...jobs].sort((a, b) => b.layout.groups.length - a.layout.groups.length);
  const there: PoolJob[] = [];
  let [loadHere, loadThere] = [0, 0];
  for (const job of bySize) {
    const load = job.layout.groups.length;
    if (loadHere <= loadThere || !job.layout.groups.every(isSendable)) loadHere += load;
    else {
      loadThere += load;
      there.push(job);
    }
  }
  return there;
}

function isSendable({ surface }: PoolJob['layout']['groups'][number]): boolean {
  return surface === null || surface.table !== undefined;
}

function packJob({ layout, options }: PoolJob): PackedJob {
  return {
    layout: { ...layout, groups: layout.groups.map((group) => ({ ...group, surface: null })) },
    options,
    tables: layout.groups.map(({ surface }) => surface?.table ?? null),
  };
}

export function unpackJob({ layout, options, tables }: PackedJob): PoolJob {
  const groups = layout.groups.map((group, g) => {
    const table = itemAt(tables, g);
    return { ...group, surface: table === null ? null : surfaceOf(table) };
  });
  return { layout: { ...layout, groups }, options };
}
