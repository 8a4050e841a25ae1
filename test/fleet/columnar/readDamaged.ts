/**
 * Reads damaged files, from the first number given to before the second, and writes down one line of JSON: how many became tables, how
 * many were refused, and what else happened. A process of its own, so that one that never ends can be stopped.
 */

import { InputError } from '../../../lib/errors.js';
import { columnarTables } from '../../../lib/fleet/columnar/columnarTables.js';
import { damagedFile } from './damaged.js';
import type { Outcome } from './damagedOutcome.js';

const [from = 0, to = 0] = process.argv.slice(2).map(Number);
const outcome: Outcome = { tables: 0, refused: 0, faults: [], slowest: 0, memory: 0 };
let number = from;

process.on('unhandledRejection', (cause) => outcome.faults.push(`${number} late: ${cause}`));
for (; number < to; number++) {
  const { file, bytes } = damagedFile(number);
  const began = performance.now();
  process.stderr.write(`${number} ${file}\n`);
  try {
    await columnarTables(new Map([[file, bytes]]), 1e8);
    outcome.tables++;
  } catch (cause) {
    if (cause instanceof InputError && cause.place.file === file) outcome.refused++;
    else outcome.faults.push(`${number} ${file}: ${cause}`);
  }
  outcome.slowest = Math.max(outcome.slowest, performance.now() - began);
}
outcome.memory = Math.round(process.resourceUsage().maxRSS / 1024);
process.stdout.write(JSON.stringify(outcome));
