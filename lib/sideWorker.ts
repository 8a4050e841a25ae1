/** What runs in the second thread of the command (sideThread.ts). It loads the drawing library while the plan begins. */
import { parentPort } from 'node:worker_threads';
import type { Wear } from './group/wear/types.js';
import { flowWear, type Modelled, type Practised, practiseFleet, wearFleet } from './plan.js';
import { chartSvg, drawOnce, loadDrawing } from './render/svg.js';
import type { SideAnswer, SideRequest, SideTask } from './sideThread.js';

const known = drawOnce();

/** The plant whose wear was asked for, and what was found. */
let plant: { modelled: Modelled; wear: Wear } | null = null;

async function done(task: SideTask): Promise<Wear | Practised | string> {
  if (task.kind === 'draw') return chartSvg(task.chart, task.options, known);
  if (task.kind === 'wear') {
    plant = { modelled: task.modelled, wear: wearFleet(task.modelled) };
    return plant.wear;
  }
  if (plant === null) throw new Error('no plant was given');
  return practiseFleet(flowWear(plant.modelled, plant.wear));
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
