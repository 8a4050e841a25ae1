/** What comes of reading damaged files in a process that is stopped where it takes too long. */
import { spawnSync } from 'node:child_process';

export interface Outcome {
  tables: number;
  refused: number;
  /** All that is neither a table nor a refusal by the name of the file. */
  faults: string[];
  /** Milliseconds of the file that took longest. */
  slowest: number;
  /** Most memory that the process had, in MB. */
  memory: number;
}

/** @throws Error where the process died, or did not end within so many seconds; names the file that it read */
export function outcomeOf(from: number, to: number, seconds: number): Outcome {
  const run = spawnSync(
    process.execPath,
    ['--import', 'tsx', 'test/fleet/columnar/readDamaged.ts', String(from), String(to)],
    { encoding: 'utf8', timeout: seconds * 1000, killSignal: 'SIGKILL', maxBuffer: 1e9 },
  );
  if (run.status !== 0) throw new Error(`stopped at the file ${run.stderr.trim().split('\n').at(-1)}`);
  return JSON.parse(run.stdout) as Outcome;
}
