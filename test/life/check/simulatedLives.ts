/** Lives as a plant records them: some watched only from an age on, planned replacements, a closing day, whole days. */
import { drawLives } from '../../../lib/life/distribution/functions.js';
import type { LifeModel } from '../../../lib/life/model.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { type RandomStream, randomStream } from '../../../lib/numeric/random.js';

export interface Plant {
  lives: number;
  law: LifeModel;
  /** A share of lives of another law. */
  other?: { share: number; law: LifeModel };
  days: boolean;
}

const WEAR = { kind: 'weibull', shape: 2, scale: 900 } as const;

export const SIMULATED = {
  right: { lives: 80, law: WEAR, days: true },
  mixture: {
    lives: 200,
    law: WEAR,
    other: { share: 0.15, law: { kind: 'weibull', shape: 1, scale: 60 } },
    days: true,
  },
  lognormal: { lives: 250, law: { kind: 'lognormal', mu: 6.3, sigma: 0.7 }, days: false },
} as const satisfies Record<string, Plant>;

export function simulatedLives(plant: Plant, seed: number): { sample: LifeSample; closing: number[] } {
  const random = randomStream(seed, 'test/simulated lives');
  const lives = Array.from({ length: plant.lives }, () => oneLife(plant, random));
  return {
    sample: lifeSample({
      lower: lives.map(({ lower }) => lower),
      upper: lives.map(({ upper }) => upper),
      entry: lives.map(({ entry }) => entry),
    }),
    closing: lives.map(({ closing }) => closing),
  };
}

interface OneLife {
  lower: number;
  upper: number;
  entry: number;
  closing: number;
}

function oneLife({ law, other, days }: Plant, random: RandomStream): OneLife {
  const entry = random.uniform() < 0.3 ? random.below(400) : 0;
  const closing = entry + 1 + random.below(1500);
  const planned = random.uniform() < 0.5 ? 900 : Infinity;
  const own = other !== undefined && random.uniform() < other.share ? other.law : law;
  const age = drawLives(own, 1, random, { survivedTo: entry })[0] as number;
  const stop = Math.min(closing, planned);
  if (age > stop) return { lower: stop, upper: Infinity, entry, closing };
  if (!days) return { lower: age, upper: age, entry, closing };
  const day = Math.max(Math.round(age), entry);
  return { lower: day === 0 ? 0 : day - 0.5, upper: day === 0 ? 1 : day + 0.5, entry, closing };
}
