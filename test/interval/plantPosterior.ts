/** Simulated plants with a posterior of their own, by weights on a grid: slow, plain, and independent of the library's fit. */
import { randomStream } from '../../lib/numeric/random.js';
import type { TestGroup } from './fixtures.js';

export interface Truth {
  lives: number;
  shape: number;
  scale: number;
  replacedAt: number;
}

const DRAWS = 200;

/** One plant: its lives, and draws of (shape, scale) given them. Prior: log shape N(log 2, 0.5²), log scale flat. */
export function plantPosterior(
  seed: number,
  { lives, shape, scale, replacedAt }: Truth,
): { group: TestGroup; drawn: { shape: Float64Array; scale: Float64Array; share: Float64Array } } {
  const random = randomStream(seed, 'a plant whose schedule works');
  const ages = Array.from({ length: lives }, () => scale * (-Math.log(random.uniform())) ** (1 / shape));
  const leaked = ages.filter((age) => age <= replacedAt);
  const cells: { shape: number; scale: number; weight: number }[] = [];
  for (let i = 0; i < 40; i++) {
    const b = 0.4 * 20 ** (i / 39);
    for (let j = 0; j < 50; j++) {
      const c = 150 * 100 ** (j / 49);
      let log = -(((Math.log(b) - Math.log(2)) / 0.5) ** 2) / 2;
      log -= (lives - leaked.length) * (replacedAt / c) ** b;
      for (const age of leaked) log += Math.log(b / c) + (b - 1) * Math.log(age / c) - (age / c) ** b;
      cells.push({ shape: b, scale: c, weight: log });
    }
  }
  const most = Math.max(...cells.map((cell) => cell.weight));
  let total = 0;
  const sums = cells.map((cell) => {
    total += Math.exp(cell.weight - most);
    return total;
  });
  const picks = Array.from({ length: DRAWS }, () => {
    const mark = random.uniform() * total;
    let [low, high] = [-1, sums.length - 1];
    while (high - low > 1) {
      const half = (low + high) >> 1;
      if ((sums[half] as number) >= mark) high = half;
      else low = half;
    }
    return cells[high] as (typeof cells)[number];
  });
  const middle = [...picks].sort((a, b) => a.shape - b.shape)[DRAWS / 2] as (typeof cells)[number];
  return {
    group: {
      shape: middle.shape,
      scale: middle.scale,
      failures: leaked.length,
      lives,
      todayDays: replacedAt,
      supportedAge: leaked.length >= 2 ? replacedAt : null,
      longestLife: replacedAt,
      ages: [100],
    },
    drawn: {
      shape: Float64Array.from(picks, (pick) => pick.shape),
      scale: Float64Array.from(picks, (pick) => pick.scale),
      share: new Float64Array(DRAWS),
    },
  };
}
