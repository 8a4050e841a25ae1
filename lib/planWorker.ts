/** A thread beside the one that plans: it pools materials and works out today's practice for it (planThread.ts). */
import { parentPort } from 'node:worker_threads';
import { poolInTurn } from './group/pools.js';
import type { PooledPosterior } from './life/estimate/pooling.js';
import { type Practised, practiseFleet } from './plan.js';
import { type PlanAnswer, type PlanRequest, unpackJob } from './planThread.js';

function answerOf(request: PlanRequest): PlanAnswer<PooledPosterior[] | Practised> {
  try {
    const pools = request.kind === 'pool';
    return { value: pools ? poolInTurn(request.jobs.map(unpackJob)) : practiseFleet(request.modelled) };
  } catch (cause) {
    return { error: cause instanceof Error ? cause.message : String(cause) };
  }
}

parentPort?.on('message', (request: PlanRequest) => {
  request.port.postMessage(answerOf(request));
  if (request.kind !== 'pool') return;
  // Whoever waits for a pool sleeps until told.
  Atomics.store(request.done, 0, 1);
  Atomics.notify(request.done, 0);
});
