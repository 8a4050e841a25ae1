/** One kind of units looked through: which leak more often than chance explains. */
import { falseDiscovery } from '../../life/check/falseDiscovery.js';
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import { averagedTail, FEWEST_LEAKS, poissonTail, smallestEffect } from './chance.js';
import { spreadOfRatios } from './spreadOfRatios.js';
import { leakedEarly, meanExpected, tally, type Yardstick } from './tally.js';
import type { StandOutKind, StandOutSearch } from './types.js';
import { membersOf, type Units } from './units.js';

/** With a chance above it by the mean law, averaging over the draws can make nothing of a unit. */
const NOT_WORTH_AVERAGING = 0.25;

/** A kind with what its units had, of what is tested. */
export interface Searched {
  units: Units;
  members: number[][];
  /** Units with something expected of them: those are tested. */
  tested: number[];
  /** p of each of `tested`, and the same with the number tested allowed for. */
  p: number[];
  adjusted: number[];
  /** Places in `tested` of those found, strongest first. */
  found: number[];
  /** Chance up to which so many are found: rate times found over tested (Benjamini & Hochberg 1995). */
  threshold: number;
  summary: StandOutSearch;
}

/** Fitters and weeks of fitting show in faulty fittings, which leak early; positions and lots may show in any leak. */
export function testsEarly(kind: StandOutKind): boolean {
  return kind === 'fitter' || kind === 'week';
}

/** Expected leaks of each life by the mean law, and those on record, early and later. */
export interface Counted {
  expected: ReturnType<typeof meanExpected>;
  leaks: { early: Uint8Array; later: Uint8Array };
}

export function counted(stick: Yardstick): Counted {
  const { followed } = stick;
  const leaks = { early: new Uint8Array(followed.length), later: new Uint8Array(followed.length) };
  for (let i = 0; i < followed.length; i++) {
    if (at(followed.leak, i) === 1) leaks[leakedEarly(stick, i) ? 'early' : 'later'][i] = 1;
  }
  return { expected: meanExpected(stick), leaks };
}

/** Tests every unit of a kind; BH at `rate` (METHODS 3.5). */
export function searchKind(stick: Yardstick, sums: Counted, units: Units, rate: number): Searched {
  const early = testsEarly(units.kind);
  const members = membersOf(units);
  const { leaks, expected } = sumsOf(sums, units, early);
  const tested = [...units.names.keys()].filter((u) => floatAt(expected, u) > 0);
  const p = tested.map((u) => {
    const [had, mean] = [floatAt(leaks, u), floatAt(expected, u)];
    if (had < FEWEST_LEAKS) return 1;
    const rough = poissonTail(had, mean);
    return rough > NOT_WORTH_AVERAGING ? rough : chanceOf(stick, itemAt(members, u), early);
  });
  const { adjusted, found } = falseDiscovery(p, rate);
  const places = [...tested.keys()].filter((t) => found[t]).sort((a, b) => itemAt(p, a) - itemAt(p, b));
  const sorted = tested.map((u) => floatAt(expected, u)).sort((a, b) => a - b);
  const effect = (share: number): ReturnType<typeof smallestEffect> =>
    smallestEffect(itemAt(sorted, Math.floor(share * (sorted.length - 1))), tested.length, rate);
  return {
    units,
    members,
    tested,
    p,
    adjusted: adjusted.map((value) => value ?? 1),
    found: places,
    threshold: (rate * places.length) / Math.max(tested.length, 1),
    summary: {
      kind: units.kind,
      tested: tested.length,
      found: places.length,
      leaks: tested.reduce((total, u) => total + floatAt(leaks, u), 0),
      expected: tested.reduce((total, u) => total + floatAt(expected, u), 0),
      k: spreadOfRatios(leaks, expected),
      smallest: tested.length === 0 ? null : { typical: effect(0.5), bestWatched: effect(0.9) },
    },
  };
}

function sumsOf(
  { expected, leaks }: Counted,
  { names, of }: Units,
  early: boolean,
): { leaks: Float64Array; expected: Float64Array } {
  const sums = { leaks: new Float64Array(names.length), expected: new Float64Array(names.length) };
  for (let i = 0; i < of.length; i++) {
    const unit = at(of, i);
    if (unit < 0) continue;
    sums.expected[unit] = floatAt(sums.expected, unit) + floatAt(expected.early, i);
    sums.leaks[unit] = floatAt(sums.leaks, unit) + at(leaks.early, i);
    if (early) continue;
    sums.expected[unit] = floatAt(sums.expected, unit) + floatAt(expected.later, i);
    sums.leaks[unit] = floatAt(sums.leaks, unit) + at(leaks.later, i);
  }
  return sums;
}

function chanceOf(stick: Yardstick, lives: readonly number[], early: boolean): number {
  const { early: soon, later } = tally(stick, lives, (_life, part) => !early || part === 'early');
  if (early) return averagedTail(soon.leaks, soon.expected);
  return averagedTail(
    soon.leaks + later.leaks,
    soon.expected.map((value, d) => value + floatAt(later.expected, d)),
  );
}
