/**
 * The study of bounds: how often they miss the truth, by number of lives, shape and share still sound, under two ways of
 * watching. Takes about an hour; writes bounds.md beside this file.
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type CellResult, runCell } from './count.js';
import type { Cell } from './schemes.js';
import { boundsPage } from './table.js';

const CELLS: Cell[] = (['one replacement age', 'staggered entry'] as const).flatMap((scheme) =>
  [5, 10, 20, 50, 200].flatMap((lives) =>
    [0.8, 1.5, 3].flatMap((shape) => [0.2, 0.5, 0.9].map((sound) => ({ scheme, lives, shape, sound }))),
  ),
);

const WIDTH = 40;

function showProgress(done: number): void {
  const filled = Math.round((WIDTH * done) / CELLS.length);
  const bar = `${'#'.repeat(filled)}${'.'.repeat(WIDTH - filled)}`;
  process.stderr.write(`\r${bar} ${done} of ${CELLS.length} cells${done === CELLS.length ? '\n' : ''}`);
}

const results: CellResult[] = [];
showProgress(0);
for (const cell of CELLS) {
  results.push(runCell(cell));
  showProgress(results.length);
}
writeFileSync(fileURLToPath(new URL('./bounds.md', import.meta.url)), boundsPage(results));
