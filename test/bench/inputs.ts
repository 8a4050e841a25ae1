/** Inputs of the benchmarks, made from fixed seeds. */
import type { ExposedFleet } from '../../lib/exposure/exposeLives.js';
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

/** 20 000 positions with five lives and 250 readings each over eight years: 100 000 lives, 5 000 000 readings in no order. */
export function countedFleet(): ExposedFleet {
  const [positions, livesEach, readingsEach, until] = [20_000, 5, 250, 2922];
  const random = randomStream(13, 'counted fleet');
  const step = until / readingsEach;
  const rows = positions * readingsEach;
  const real = (length = rows): Float64Array => new Float64Array(length);
  const readings = {
    length: rows,
    position: new Int32Array(rows),
    date: real(),
    strokes: real(),
    steamCycles: real(),
    hotCleans: real(),
  };
  const perDay = Float64Array.from({ length: positions }, () => 5 + 60 * random.uniform());
  const strokes = real(positions);
  // One round of readings after the other, as a nightly extract has them: by day, not by position.
  for (let k = 0, i = 0; k < readingsEach; k++) {
    for (let p = 0; p < positions; p++, i++) {
      readings.position[i] = p;
      readings.date[i] = Math.floor(k * step + 5 * random.uniform());
      // One counter in 50 000 readings begins again.
      const begins = random.below(50_000) === 0 ? 0 : (strokes[p] as number);
      strokes[p] = begins + Math.round((perDay[p] as number) * step * (0.7 + 0.6 * random.uniform()));
      readings.strokes[i] = strokes[p] as number;
      readings.steamCycles[i] = Math.floor((strokes[p] as number) / 12);
      readings.hotCleans[i] = Math.floor((strokes[p] as number) / 15);
    }
  }
  const lives = positions * livesEach;
  const day = (i: number): number => Math.floor(((i % livesEach) * until) / livesEach) - 10;
  const table = {
    length: lives,
    position: Int32Array.from({ length: lives }, (_, i) => Math.floor(i / livesEach)),
    fitted: Float64Array.from({ length: lives }, (_, i) => day(i)),
    removed: Float64Array.from({ length: lives }, (_, i) =>
      i % livesEach === livesEach - 1 ? Number.NaN : day(i + 1),
    ),
    lastTight: real(lives).fill(Number.NaN),
  };
  const position = { idle: [], outOfServiceSince: null, inServiceSince: null, strokesPerDay: null };
  const weekly = { steamCyclesPerWeek: null, hotCleansPerWeek: null };
  return {
    positions: Array.from({ length: positions }, (_, p) => ({ position: `V${p}`, ...position, ...weekly })),
    readings,
    lives: table,
    site: { dataUntil: until, recordsFrom: null },
  };
}
