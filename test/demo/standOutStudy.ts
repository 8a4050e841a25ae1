/**
 * What is found of what was planted. Three sorts of plants: as the demo (one position in 25 wears 2.5 times as fast, one lot twice as
 * fast), with marked effects in all four kinds, and with none. Everything that makes records hard is on in all.
 */
import type { PlantTruth } from '../../data-demo/plant/truth.js';
import type { PlantOptions } from '../../data-demo/plant/types.js';
import { groupFleet } from '../../lib/group/groupFleet.js';
import { standOuts } from '../../lib/group/standOut/standOuts.js';
import { STAND_OUT_KINDS, type StandOutKind, type StandOuts } from '../../lib/group/standOut/types.js';
import { readPlant } from './plant.js';

/** Seeds fixed before any of these plants was drawn. */
export const PLANTED_SEEDS = Array.from({ length: 20 }, (_, i) => 9101 + i);
export const EMPTY_SEEDS = Array.from({ length: 20 }, (_, i) => 9201 + i);

export const DESIGNS = {
  'as the demo': {},
  marked: { poorLotFactor: 0.3, poorFitter: true, poorWeek: true },
  'no effect': { worsePositions: false, poorLot: false },
} as const satisfies Record<string, Omit<PlantOptions, 'seed'>>;
export type Design = keyof typeof DESIGNS;

/** Of one kind in one plant. */
export interface Hits {
  kind: StandOutKind;
  planted: number;
  /** Found of those planted, and found beside them. */
  hits: number;
  false: number;
  /** Tested, leaks and expected leaks of what was tested. */
  tested: number;
  leaks: number;
  expected: number;
}

export function studyPlant(seed: number, design: Design): Hits[] {
  const { fleet, truth } = readPlant({ seed, ...DESIGNS[design] });
  return hitsOf(standOuts(fleet, groupFleet(fleet, { seed: 1 })), truth);
}

export function hitsOf({ found, searches }: StandOuts, truth: PlantTruth): Hits[] {
  return STAND_OUT_KINDS.map((kind): Hits => {
    const planted = plantedOf(truth, kind);
    const names = found.filter((one) => one.kind === kind).map(({ name }) => name);
    const hits = names.filter((name) => planted.has(name)).length;
    const search = searches.find((one) => one.kind === kind);
    return {
      kind,
      planted: planted.size,
      hits,
      false: names.length - hits,
      tested: search?.tested ?? 0,
      leaks: search?.leaks ?? 0,
      expected: search?.expected ?? 0,
    };
  });
}

export function plantedOf(truth: PlantTruth, kind: StandOutKind): Set<string> {
  if (kind === 'position') return new Set(truth.worse.positions);
  const name = { lot: truth.poorLot?.lot, fitter: truth.poorFitter, week: truth.poorWeek }[kind];
  return new Set(name === undefined ? [] : [name]);
}

/** Hits of one kind over several plants. */
export interface KindResult {
  kind: StandOutKind;
  plants: number;
  planted: number;
  hits: number;
  false: number;
  /** Plants with anything found of this kind. */
  plantsWithAny: number;
  /** Share of those found that were not planted, averaged over the plants (0 where nothing is found). */
  falseShare: number;
  leaks: number;
  expected: number;
}

export function byKind(plants: readonly (readonly Hits[])[]): KindResult[] {
  return STAND_OUT_KINDS.map((kind): KindResult => {
    const of = plants.flatMap((hits) => hits.filter((one) => one.kind === kind));
    const sum = (value: (one: Hits) => number): number => of.reduce((total, one) => total + value(one), 0);
    return {
      kind,
      plants: of.length,
      planted: sum((one) => one.planted),
      hits: sum((one) => one.hits),
      false: sum((one) => one.false),
      plantsWithAny: of.filter((one) => one.hits + one.false > 0).length,
      falseShare: sum((one) => one.false / Math.max(1, one.hits + one.false)) / of.length,
      leaks: sum((one) => one.leaks),
      expected: sum((one) => one.expected),
    };
  });
}

/** The hits of a design as a table. */
export function standOutTable(design: Design, results: readonly KindResult[]): string {
  const share = (part: number, whole: number): string =>
    whole === 0 ? 'none' : `${Math.round((100 * part) / whole)} %`;
  return [
    `| ${design} | planted | found of them | found beside them | plants with any | false among those found | leaks / expected |`,
    '| --- | --- | --- | --- | --- | --- | --- |',
    ...results.map((one) =>
      [
        '',
        one.kind,
        one.planted,
        `${one.hits} (${share(one.hits, one.planted)})`,
        one.false,
        `${one.plantsWithAny} of ${one.plants}`,
        `${(100 * one.falseShare).toFixed(1)} %`,
        (one.leaks / one.expected).toFixed(3),
        '',
      ]
        .join(' | ')
        .trim(),
    ),
  ].join('\n');
}
