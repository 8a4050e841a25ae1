/** What stands out with what mending it would save, where poor lots are fitted, and what to do. */
import { type AmountDrawer, amountDrawer } from '../../cost/draw.js';
import type { GroupCost } from '../../cost/types.js';
import type { Fleet } from '../../fleet/types.js';
import type { StandOut, StandOuts } from '../../group/standOut/types.js';
import type { GroupedFleet } from '../../group/types.js';
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import { randomStream } from '../../numeric/random.js';
import {
  fittedPieces,
  type HazardsOf,
  hazardsOf,
  isEarlyOnly,
  ofPieces,
  perYear,
  totalOf,
} from './expectations.js';
import { DRAWS, rangedOf, ratioDraws } from './ratioDraws.js';
import { lotRecall } from './recall.js';
import type { StandOutReport, StandOutRow } from './types.js';
import { findingText, todoText } from './words.js';

interface Setting {
  fleet: Fleet;
  grouped: GroupedFleet;
  costs: readonly GroupCost[];
  standOuts: StandOuts;
  seed: number;
  hazards: HazardsOf;
  drawsOf: AmountDrawer;
  /** Group of each life in the fits. */
  groupOfLife: ReadonlyMap<number, number>;
}

/**
 * Leaks a year in excess, times the whole cost of a leak: excess is (ratio - 1) times what is expected in a year; ratio and cost are
 * drawn together, with 80 % ranges. Of a lot or a week only what is still fitted can be saved. Pure; the seed settles the draws.
 */
export function priceStandOuts(
  fleet: Fleet,
  grouped: GroupedFleet,
  costs: readonly GroupCost[],
  standOuts: StandOuts,
  seed: number,
): StandOutReport {
  const { followed } = grouped;
  const groupOfLife = new Map<number, number>();
  if (standOuts.found.length > 0) {
    for (let i = 0; i < followed.length; i++) groupOfLife.set(at(followed.life, i), at(followed.group, i));
  }
  const setting: Setting = {
    fleet,
    grouped,
    costs,
    standOuts,
    seed,
    hazards: hazardsOf(grouped),
    drawsOf: amountDrawer(DRAWS, randomStream(seed, 'stand-outs/prices')),
    groupOfLife,
  };
  const { searches, explained, recorded, rate, warnings } = standOuts;
  return {
    rows: standOuts.found.map((one) => rowOf(setting, one)),
    searches,
    explained,
    recorded,
    rate,
    warnings,
  };
}

function rowOf(setting: Setting, one: StandOut): StandOutRow {
  const { fleet, grouped, standOuts, hazards, seed } = setting;
  const { kind, name, leaks, expected } = one;
  const k = standOuts.searches.find((search) => search.kind === kind)?.k ?? 1;
  const ratios = ratioDraws(leaks, expected, k, randomStream(seed, `stand-outs/${kind}/${name}`));
  const batch = kind === 'lot' || kind === 'week';
  const pieces = batch ? fittedPieces(fleet, grouped, one) : [];
  const recall = batch ? lotRecall(fleet, grouped, one, pieces, ratios, hazards) : null;
  return {
    kind,
    name,
    lines: mostFirst(one.lives.map((i) => itemAt(fleet.positions, at(fleet.lives.position, i)).line)),
    groups: mostFirst(one.lives.flatMap((i) => groupName(setting, i))),
    lives: one.lives.length,
    tested: one.tested,
    leaks,
    expected,
    ratio: one.ratio,
    p: one.p,
    adjusted: one.adjusted,
    early: one.early,
    later: one.later,
    excess: one.excess,
    sameAs: one.sameAs,
    saves: savingOf(
      setting,
      batch ? ofPieces(pieces, hazards, isEarlyOnly(one)) : usualOf(setting, one),
      ratios,
    ),
    recall,
    text: findingText(one, standOuts.recorded),
    todo: todoText(one, recall),
  };
}

/** Nothing of a position that is out of service. */
function usualOf({ fleet, grouped, groupOfLife, standOuts }: Setting, one: StandOut): Map<number, number> {
  const gone = one.kind === 'position' && !grouped.running.some(({ position }) => position === one.unit);
  return gone ? new Map() : perYear(fleet, groupOfLife, one, standOuts.recorded);
}

function savingOf(
  { costs, drawsOf }: Setting,
  usual: ReadonlyMap<number, number>,
  ratios: Float64Array,
): StandOutRow['saves'] {
  const total = totalOf(usual);
  const prices = [...usual].map(([g, each]) => ({ each, cost: drawsOf(itemAt(costs, g).leak) }));
  const excess = ratios.map((ratio) => Math.max(ratio - 1, 0));
  const money = excess.map((times, d) =>
    prices.reduce((all, { each, cost }) => all + times * each * floatAt(cost, d), 0),
  );
  return { leaks: rangedOf(excess.map((times) => times * total)), money: rangedOf(money) };
}

function groupName({ grouped, groupOfLife }: Setting, life: number): string[] {
  const g = groupOfLife.get(life);
  return g === undefined ? [] : [itemAt(grouped.groups, g).name];
}

function mostFirst(names: readonly string[]): string[] {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1]).map(([name]) => name);
}
