/** The one plant that is kept in this folder. */
import { makePlant, type Plant } from './makePlant.js';

/** Fixed before the first plant was drawn. */
export const DEMO_SEED = 2026;

export function demoPlant(): Plant {
  return makePlant({ seed: DEMO_SEED });
}

/** Every file of the folder that the program writes, by name. */
export function demoFiles(): Record<string, string> {
  const { files, truth } = demoPlant();
  return { ...files, 'truth.json': `${JSON.stringify(truth, null, 1)}\n` };
}
