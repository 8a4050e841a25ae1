/**
 * A thread that draws charts for the command line. While the plan is being made it loads the drawing library and
 * practises: the engine compiles code that has run a few times, and charts then take half the time.
 */
import { parentPort } from 'node:worker_threads';
import type { DrawAnswer, DrawRequest } from './render/drawers.js';
import { sampleSpec } from './render/sample.js';
import { chartSvg, draw, drawOnce } from './render/svg.js';

const MOST_SAMPLES = 10;
const known = drawOnce();
let asked = false;

async function answer({ id, chart, options }: DrawRequest): Promise<void> {
  asked = true;
  let sent: DrawAnswer;
  try {
    sent = { id, svg: await chartSvg(chart, options, known) };
  } catch (cause) {
    sent = { id, error: cause instanceof Error ? cause.message : String(cause) };
  }
  parentPort?.postMessage(sent);
}

/** Draws the sample until a chart is asked for; a pause after each lets one be heard. */
async function practise(): Promise<void> {
  const spec = sampleSpec();
  for (let i = 0; i < MOST_SAMPLES && !asked; i++) {
    await draw(spec);
    await new Promise(setImmediate);
  }
}

parentPort?.on('message', (request: DrawRequest) => void answer(request));
void practise();
