/** A thread that draws charts for the command line, and loads the drawing library while the plan is being made. */
import { parentPort } from 'node:worker_threads';
import type { DrawAnswer, DrawRequest } from './render/drawer.js';
import { chartSvg, drawOnce, loadDrawing } from './render/svg.js';

const known = drawOnce();

async function answer({ id, chart, options }: DrawRequest): Promise<void> {
  let sent: DrawAnswer;
  try {
    sent = { id, svg: await chartSvg(chart, options, known) };
  } catch (cause) {
    sent = { id, error: cause instanceof Error ? cause.message : String(cause) };
  }
  parentPort?.postMessage(sent);
}

void loadDrawing();
parentPort?.on('message', (request: DrawRequest) => void answer(request));
