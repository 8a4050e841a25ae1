/** Reads folders that came to harm: each is refused with a reason, or gives a fleet whose rows add up. */
import { InputError } from '../../../lib/errors.js';
import { fleetOf } from '../../../lib/fleet/read.js';
import type { Fleet } from '../../../lib/fleet/types.js';
import { itemAt } from '../../../lib/numeric/columns.js';
import { randomStream } from '../../../lib/numeric/random.js';
import { fuzzFolders } from './folders.js';
import { mutated } from './mutate.js';

export interface FuzzResult {
  read: number;
  refused: number;
  /** Runs that broke a rule, by number, with what happened. */
  broken: string[];
  /** Seconds that the slowest took. */
  slowest: number;
}

const EVERYTHING = [Object.prototype, Array.prototype, String.prototype, Function.prototype, Map.prototype];

/**
 * @param onFleet looks at every fleet that was read; what it throws counts as broken
 */
export function runFuzz(
  seed: number,
  runs: number,
  onFleet: (fleet: Fleet, run: number) => void = () => undefined,
): FuzzResult {
  const folders = fuzzFolders();
  const before = prototypes();
  const result: FuzzResult = { read: 0, refused: 0, broken: [], slowest: 0 };
  const random = randomStream(seed, 'harm');
  for (let run = 0; run < runs; run++) {
    const whole = random.uniform() < 0.6 ? random.below(3) : random.below(folders.length);
    const files = mutated(itemAt(folders, whole), random);
    const began = performance.now();
    try {
      const fleet = fleetOf({ files, hash: '', unread: [] });
      checkFleet(fleet);
      onFleet(fleet, run);
      result.read += 1;
    } catch (cause) {
      if (cause instanceof InputError && cause.todo.length > 5 && !/undefined|\[object/.test(cause.message))
        result.refused += 1;
      else
        result.broken.push(
          `${run}: ${cause instanceof Error ? (cause.stack ?? cause.message) : String(cause)}`,
        );
    }
    result.slowest = Math.max(result.slowest, (performance.now() - began) / 1000);
    if (prototypes() !== before) {
      result.broken.push(`${run}: a prototype was altered`);
      break;
    }
  }
  return result;
}

function prototypes(): string {
  return EVERYTHING.map((one) => Object.getOwnPropertyNames(one).join()).join(';') + ('polluted' in {});
}

function checkFleet({ findings, lives, positions }: Fleet): void {
  const { files, rowsIn, rowsUsed, rowsSetAside, rules } = findings;
  const total = (of: 'rowsIn' | 'rowsUsed' | 'rowsSetAside'): number =>
    files.reduce((sum, file) => sum + file[of], 0);
  if (rowsIn !== rowsUsed + rowsSetAside) throw new Error('rows do not add up');
  if (rowsIn !== total('rowsIn') || rowsUsed !== total('rowsUsed')) throw new Error('files do not add up');
  if (files.some((file) => file.rowsUsed < 0 || file.rowsSetAside < 0))
    throw new Error('more rows set aside than read');
  if (rules.some((rule) => rule.found !== rule.mended + rule.setAside + rule.asked))
    throw new Error('rules do not add up');
  if (positions.some(({ size }) => !(size >= 1))) throw new Error('a position without a size');
  for (let i = 0; i < lives.length; i++) {
    if ((lives.removed[i] ?? 0) < (lives.fitted[i] ?? 0)) throw new Error('a life ends before it begins');
    if (!((lives.material[i] ?? -1) >= 0)) throw new Error('a life without a material');
  }
}
