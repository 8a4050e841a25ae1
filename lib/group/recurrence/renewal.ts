/** Do new diaphragms last as long as old ones did? By group, and over the plant (METHODS 3.3). */
import { falseDiscovery } from '../../life/check/falseDiscovery.js';
import { itemAt } from '../../numeric/columns.js';
import { normalCdf, normalQuantile } from '../../numeric/special.js';
import { type LifeTrend, type RenewalVerdict, renewalVerdict } from '../../recurrence/renewalVerdict.js';
import type { Group } from '../types.js';
import { ALPHA, FEWEST, type RenewalWords, renewalWords } from './renewalWords.js';
import type { Recurrence, RenewalFinding } from './types.js';
import { joined, type WearOutLives } from './wearOutLives.js';

const BY = ['fitting date', 'life number'] as const;

/**
 * Groups that have ten leaks are judged one by one, and of those said to change one in twenty is false at most, on average
 * (Benjamini & Hochberg 1995). The plant: their trends and that of all other groups together, compared within each, weighed by how well each
 * is known.
 */
export function renewalOf(groups: readonly Group[], lives: readonly WearOutLives[]): Recurrence['renewal'] {
  const judged = lives.map((own) => (isEnough(own) ? renewalVerdict(own) : null));
  const { adjusted, found } = falseDiscovery(
    judged.map((verdict) => verdict?.pValue ?? null),
    ALPHA,
  );
  const findings = groups.map(({ name }, g): RenewalFinding => {
    const verdict = itemAt(judged, g);
    const trend = verdict?.verdict === 'trend' && !itemAt(found, g) ? 'renewal' : verdict?.verdict;
    return findingOf(name, itemAt(lives, g), verdict, trend, itemAt(adjusted, g));
  });
  return { plant: plantFinding(lives, judged), groups: findings };
}

function isEnough({ leaks, positions }: Pick<WearOutLives, 'leaks' | 'positions'>): boolean {
  return leaks >= FEWEST && positions >= FEWEST;
}

function findingOf(
  group: string | null,
  { leaks, positions }: Pick<WearOutLives, 'leaks' | 'positions'>,
  judged: RenewalVerdict | null,
  verdict: RenewalVerdict['verdict'] = 'cannot tell',
  adjusted: number | null = null,
): RenewalFinding {
  const trends = judged?.trends ?? [];
  const words: RenewalWords = { group, leaks, positions, verdict, trends, why: judged?.words ?? null };
  return {
    group,
    leaks,
    positions,
    verdict,
    trends,
    pValue: judged?.pValue ?? null,
    adjusted,
    ...renewalWords(words),
  };
}

function plantFinding(
  lives: readonly WearOutLives[],
  judged: readonly (RenewalVerdict | null)[],
): RenewalFinding {
  const others = joined(lives.filter((_, g) => (itemAt(judged, g)?.trends.length ?? 0) === 0));
  const rest = isEnough(others) ? renewalVerdict(others) : null;
  const all = {
    leaks: lives.reduce((total, { leaks }) => total + leaks, 0),
    positions: new Set(lives.flatMap(({ sample }) => [...sample.cluster])).size,
  };
  const trends = BY.flatMap((by) => {
    const own = [...judged, rest].flatMap((each) => each?.trends.filter((trend) => trend.by === by) ?? []);
    return own.length === 0 ? [] : [weighed(by, own)];
  });
  if (trends.length === 0) return findingOf(null, all, rest);
  const pValue = Math.min(1, trends.length * Math.min(...trends.map((trend) => trend.pValue)));
  const verdict = pValue < ALPHA ? 'trend' : 'renewal';
  return findingOf(null, all, { verdict, trends, pValue, words: '' }, verdict);
}

/** Trends of groups in one, each weighed by the inverse of its variance. */
function weighed(by: LifeTrend['by'], trends: readonly LifeTrend[]): LifeTrend {
  const z = normalQuantile(0.95);
  let [sum, weights] = [0, 0];
  for (const { low, high, ratio } of trends) {
    const weight = ((2 * z) / Math.log(high / low)) ** 2;
    sum += weight * Math.log(ratio);
    weights += weight;
  }
  const [slope, error] = [sum / weights, 1 / Math.sqrt(weights)];
  return {
    by,
    ratio: Math.exp(slope),
    low: Math.exp(slope - z * error),
    high: Math.exp(slope + z * error),
    pValue: 2 * normalCdf(-Math.abs(slope / error)),
  };
}
