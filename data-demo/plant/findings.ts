/** What a diaphragm looks like when it is taken out. */
import type { RandomStream } from '../../lib/numeric/random.js';
import { TEAR_FROM } from './design.js';
import { word } from './draws.js';

const WORN_OUT: Readonly<Record<string, readonly (readonly [string, number])[]>> = {
  EPDM: [
    ['torn', 0.4],
    ['cracked', 0.4],
    ['hardened', 0.1],
    ['worn', 0.1],
  ],
  'PTFE-faced EPDM': [
    ['torn', 0.5],
    ['cracked', 0.35],
    ['worn', 0.15],
  ],
  FKM: [
    ['swollen', 0.4],
    ['cracked', 0.4],
    ['torn', 0.2],
  ],
  VMQ: [
    ['swollen', 0.5],
    ['torn', 0.5],
  ],
};

const FAULTY = [
  ['creased', 0.55],
  ['torn', 0.25],
  ['sound', 0.2],
] as const;

/**
 * Finding at an age, given the age at which it leaks or would have. A leak shows its cause. Without a leak, a tear can be
 * seen late in life (hidden until the valve is opened); before that, more and more of them have taken a set.
 */
export function findingOf(
  random: RandomStream,
  material: string,
  mode: 'wear' | 'fault',
  age: number,
  leakAge: number,
  leaked: boolean,
): string {
  const tearAge = leakAge * (TEAR_FROM + (1 - TEAR_FROM) * random.uniform());
  const wornOut = word(random, WORN_OUT[material] ?? []);
  const faulty = word(random, FAULTY);
  const set = random.uniform();
  const kind = random.uniform();
  if (leaked) return mode === 'fault' ? faulty : wornOut;
  if (mode === 'wear' && age >= tearAge) return wornOut;
  if (set > 0.15 + 0.4 * Math.min(1, age / leakAge)) return 'sound';
  return kind < 0.7 ? 'worn' : kind < 0.9 ? 'hardened' : 'creased';
}
