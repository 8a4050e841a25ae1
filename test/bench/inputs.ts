/** Inputs of the benchmarks, made from fixed seeds. */
import { randomStream } from '../../lib/numeric/random.js';
import { folderFiles, type TruthGroup, writeFolder } from '../plan/folders.js';

const MATERIALS = ['EPDM', 'PTFE-faced EPDM', 'FKM', 'VMQ'];
const SIZES = [8, 15, 25, 40, 50, 80];
const POSITIONS_PER_GROUP = 680;

/** A plant of 16 320 positions in 24 groups with some 130 000 lives in eight years; returns the path of the folder. */
export function largeFolder(): string {
  const groups: TruthGroup[] = MATERIALS.flatMap((material, m) =>
    SIZES.map((size, s) => ({
      material,
      size,
      positions: POSITIONS_PER_GROUP,
      shape: 2 + 0.4 * m,
      scale: 700 + 90 * s + 60 * m,
      replacedAt: 425,
    })),
  );
  return writeFolder(folderFiles({ seed: 11, groups, watchedDays: 2922, daysBeforeRecords: 400 }));
}

/** Ages in whole days of a million diaphragms of one kind, each replaced at a year or before that leaked. */
export function millionLives(): { lower: Float64Array; upper: Float64Array } {
  const count = 1_000_000;
  const random = randomStream(12, 'a million lives');
  const lower = new Float64Array(count);
  const upper = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const life = 900 * (-Math.log(random.uniform())) ** (1 / 3);
    const days = Math.max(1, Math.round(Math.min(life, 365)));
    const leaked = life <= 365;
    lower[i] = leaked ? days - 0.5 : days;
    upper[i] = leaked ? days + 0.5 : Infinity;
  }
  return { lower, upper };
}
