/** What runs in the second thread of the command (sideThread.ts). It loads the drawing library while the plan begins. */
import { parentPort } from 'node:worker_threads';
import { type Practised, practiseFleet } from './plan.js';
import { chartSvg, drawOnce, loadDrawing } from './render/svg.js';
import type { SideAnswer, SideRequest, SideTask } from './sideThread.js';

const known = drawOnce();

async function done(task: SideTask): Promise<Practised | string> {
  return task.kind === 'practise' ? practiseFleet(task.modelled) : chartSvg(task.chart, task.options, known);
}

async function answer(request: SideRequest): Promise<void> {
  const { id } = request;
  let sent: SideAnswer;
  try {
    sent = { id, value: await done(request) };
  } catch (cause) {
    sent = { id, error: cause instanceof Error ? cause.message : String(cause) };
  }
  parentPort?.postMessage(sent);
}

void loadDrawing();
parentPort?.on('message', (request: SideRequest) => void answer(request));
