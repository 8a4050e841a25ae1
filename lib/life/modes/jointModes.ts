/**
 * The likelihood of all modes together where a life ended by a known mode somewhere in an interval (a, b]:
 *
 *     integral from a to b of h(t) S(t) dt / S(entry),   h the hazard of its mode, S the survival of all modes
 *
 * which does not fall apart into a factor for each mode. The integral runs over the share w that the mode alone would have ended
 * since a, by Gauss-Legendre nodes.
 */
import { at, floatAt, itemAt, sum } from '../../numeric/columns.js';
import { gaussLegendre } from '../../numeric/quadrature.js';
import { lawOf } from '../distribution/functions.js';
import { mergeSample } from '../mergeSample.js';
import type { LifeSample } from '../sampleTypes.js';
import { type ModeLaw, totalHazard } from './modeLaws.js';
import { type ModeNames, middleOf, rowsOf } from './modeRows.js';

/** From this chance on that a life ends within an interval, by any mode, the place of the others in it matters. */
export const WIDE_INTERVAL = 0.005;

const RULE = gaussLegendre(24);

/** Whether any interval is so wide that the modes must be fitted together. */
export function hasWideIntervals(sample: LifeSample, laws: readonly ModeLaw[]): boolean {
  return Array.from(sample.lower.keys()).some((i) => isWide(sample, i, laws));
}

/** Log-likelihood of a sample by the laws of its modes, made ready for many laws: rows that are alike are merged once. */
export function jointLikelihood(
  sample: LifeSample,
  modes: ModeNames,
  names: readonly string[],
): (laws: readonly ModeLaw[]) => number {
  const all = Array.from(sample.lower.keys());
  const sound = mergedRows(
    sample,
    all.filter((i) => modes[i] === null),
  );
  const ended = names.map((name) =>
    mergedRows(
      sample,
      all.filter((i) => modes[i] === name),
    ),
  );
  return (laws) => {
    let total = sound === null ? 0 : sum(sound.lower.map((_, i) => soundTerm(sound, i, laws)));
    ended.forEach((rows, m) => {
      for (let i = 0; i < (rows?.lower.length ?? 0); i++) total += endedTerm(rows as LifeSample, i, laws, m);
    });
    return total;
  };
}

function mergedRows(sample: LifeSample, rows: readonly number[]): LifeSample | null {
  return rows.length === 0 ? null : mergeSample(rowsOf(sample, rows));
}

function soundTerm(rows: LifeSample, i: number, laws: readonly ModeLaw[]): number {
  return -floatAt(rows.count, i) * (totalHazard(laws, startOf(rows, i)) - entryHazard(rows, i, laws));
}

function endedTerm(rows: LifeSample, i: number, laws: readonly ModeLaw[], m: number): number {
  const [a, b] = [startOf(rows, i), floatAt(rows.upper, i)];
  const { model } = itemAt(laws, m);
  const law = lawOf(model);
  const watched = totalHazard(laws, a) - entryHazard(rows, i, laws);
  const end = a === b ? law.logHazard(model, b) : logEndsWithin(rows, i, laws, m);
  return floatAt(rows.count, i) * (end - watched);
}

/** log of the chance that mode m ends a life that has reached a by b, the other modes in force. */
function logEndsWithin(rows: LifeSample, i: number, laws: readonly ModeLaw[], m: number): number {
  const [a, b] = [startOf(rows, i), floatAt(rows.upper, i)];
  const { model } = itemAt(laws, m);
  const law = lawOf(model);
  const others = laws.filter((_, j) => j !== m);
  const [from, before] = [law.cumulativeHazard(model, a), totalHazard(others, a)];
  const share = -Math.expm1(from - law.cumulativeHazard(model, b));
  if (!isWide(rows, i, laws)) return Math.log(share) - (totalHazard(others, middleOf(rows, i)) - before);
  // From age 0 on the nodes crowd towards it, where the other modes may have steep hazards.
  const power = a === 0 ? 3 : 1;
  let total = 0;
  for (let k = 0; k < RULE.nodes.length; k++) {
    const z = 0.5 * (1 + at(RULE.nodes, k));
    const t = law.ageAtHazard(model, from - Math.log1p(-share * z ** power));
    total += 0.5 * at(RULE.weights, k) * power * z ** (power - 1) * Math.exp(before - totalHazard(others, t));
  }
  return Math.log(share * total);
}

function isWide(rows: LifeSample, i: number, laws: readonly ModeLaw[]): boolean {
  const [a, b] = [startOf(rows, i), floatAt(rows.upper, i)];
  return b !== Infinity && b > a && totalHazard(laws, b) - totalHazard(laws, a) > WIDE_INTERVAL;
}

function startOf(rows: LifeSample, i: number): number {
  return Math.max(floatAt(rows.lower, i), floatAt(rows.entry, i));
}

function entryHazard(rows: LifeSample, i: number, laws: readonly ModeLaw[]): number {
  return totalHazard(laws, floatAt(rows.entry, i));
}
