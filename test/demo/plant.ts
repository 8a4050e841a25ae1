/** Invented plants read as fleets, for the tests of this folder and the study of how well the truth is recovered. */
import { makePlant, type Plant } from '../../data-demo/plant/makePlant.js';
import type { PlantOptions } from '../../data-demo/plant/types.js';
import { fleetOf } from '../../lib/fleet/read.js';
import type { Fleet } from '../../lib/fleet/types.js';

export interface ReadPlant extends Plant {
  fleet: Fleet;
}

/** A plant made and read, without touching a disk. */
export function readPlant(options: PlantOptions): ReadPlant {
  const plant = makePlant(options);
  const encoder = new TextEncoder();
  const files = new Map(Object.entries(plant.files).map(([name, text]) => [name, encoder.encode(text)]));
  return { ...plant, fleet: fleetOf({ files, hash: '', unread: [] }) };
}
