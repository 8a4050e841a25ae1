/** Lives whose leaks are found by looking from time to time, each life at ages of its own. */
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { type RandomStream, randomStream } from '../../../lib/numeric/random.js';

interface Seen {
  lower: number;
  upper: number;
  /** Age on the day the records close. */
  closing: number;
}

export interface Inspected {
  /** Of the Weibull lives of scale 900. */
  shape: number;
  lives: number;
  see(age: number, random: RandomStream): Seen;
  /** Whether the closing ages are told. */
  told: boolean;
}

/** Every d days from a random day on, d even from 60 to 200, until a removal at `stop`, when it is looked at too. */
function every(stop: number): Inspected['see'] {
  return (age, random) => {
    const gap = 60 + 140 * random.uniform();
    let [sound, look] = [0, gap * random.uniform()];
    while (look < age && look < stop) [sound, look] = [look, look + gap];
    if (age > stop) return { lower: stop, upper: Infinity, closing: stop };
    return { lower: sound, upper: Math.min(look, stop), closing: stop };
  };
}

/** Every month with a tenth of the looks missed, until the records close; then only looked at where `atClose` says so. */
function monthly(atClose: boolean): Inspected['see'] {
  return (age, random) => {
    const closing = 200 + 1800 * random.uniform();
    let sound = 0;
    for (let look = 30 * random.uniform(); look <= closing; look += 30) {
      if (random.uniform() < 0.1) continue;
      if (look >= age) return { lower: sound, upper: look, closing };
      sound = look;
    }
    if (!atClose) return { lower: sound, upper: Infinity, closing };
    return age <= closing
      ? { lower: sound, upper: closing, closing }
      : { lower: closing, upper: Infinity, closing };
  };
}

/** A share of the lives in intervals up to so wide, all others exact; nothing ends before it fails. */
function some(share: number, widest: number): Inspected['see'] {
  return (age, random) => {
    if (random.uniform() > share) return { lower: age, upper: age, closing: Infinity };
    const wide = widest * (0.3 + 0.7 * random.uniform());
    const since = wide * random.uniform();
    return { lower: Math.max(0, age - since), upper: age - since + wide, closing: Infinity };
  };
}

export const INSPECTED = {
  'own days': { shape: 2, lives: 60, see: every(Infinity), told: false },
  'own days, removed at 1200': { shape: 0.9, lives: 60, see: every(1200), told: false },
  'own days, a sharp law': { shape: 4, lives: 60, see: every(1200), told: false },
  'monthly, looked at on closing': { shape: 2, lives: 60, see: monthly(true), told: true },
  'monthly, not looked at on closing': { shape: 2, lives: 60, see: monthly(false), told: true },
  'a tenth in intervals': { shape: 2, lives: 60, see: some(0.1, 200), told: false },
  'a tenth in narrow intervals': { shape: 2, lives: 60, see: some(0.1, 2), told: false },
} as const satisfies Record<string, Inspected>;

export function inspectedLives(
  { shape, lives, see, told }: Inspected,
  seed: number,
): { sample: LifeSample; closing: number[] | null } {
  const random = randomStream(seed, 'test/inspected lives');
  const rows = Array.from({ length: lives }, () => {
    const age = 900 * (-Math.log(random.uniform())) ** (1 / shape);
    return see(age, random);
  });
  const sample = lifeSample({ lower: rows.map((row) => row.lower), upper: rows.map((row) => row.upper) });
  return { sample, closing: told ? rows.map((row) => row.closing) : null };
}
