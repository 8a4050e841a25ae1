/** Runs the command line as a user does, in a process of its own. */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));

export interface Run {
  code: number | null;
  out: string;
  err: string;
}

export function runCli(...words: string[]): Run {
  const run = spawnSync(process.execPath, ['--import', 'tsx', 'lib/cli.ts', ...words], {
    cwd: root,
    encoding: 'utf8',
    timeout: 60_000,
  });
  return { code: run.status, out: run.stdout, err: run.stderr };
}
