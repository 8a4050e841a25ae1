/** Ordinary mistakes in positions.csv, each put in on purpose and listed. None of them loses a position. */
import type { RandomStream } from '../../lib/numeric/random.js';
import { shuffled } from './draws.js';
import type { PlantedFault, Row } from './types.js';

const FILE = 'positions.csv';

export function spoilPositions(
  random: RandomStream,
  rows: readonly Row[],
): { rows: Row[]; faults: PlantedFault[] } {
  const [word, negative, repeated, twice] = shuffled(
    random,
    rows.map((_, i) => i),
  ) as [number, number, number, number];
  const spoiled = rows.map((row, i) => {
    if (i === word) return { ...row, criticality: 'hihg' };
    return i === negative ? { ...row, strokes_per_day: '-4' } : row;
  });
  const again = spoiled[repeated] as Row;
  const other = { ...(spoiled[twice] as Row), accessories: '3', line: 'A9' };
  const fault = (code: string, row: number, column: string, what: string): PlantedFault => ({
    code,
    file: FILE,
    row,
    column,
    what,
  });
  return {
    rows: [...spoiled, again, other],
    faults: [
      fault('criticality-unknown', word + 1, 'criticality', 'criticality misspelt'),
      fault('number-negative', negative + 1, 'strokes_per_day', 'a negative rate'),
      fault('position-duplicate', rows.length + 1, 'position', 'row written twice'),
      fault('position-twice', rows.length + 2, 'position', 'tag given to a second valve'),
    ],
  };
}
