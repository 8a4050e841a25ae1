/**
 * Real data that nobody here made: valve-seat replacements of 41 diesel engines. valveSeat/make.R turns them into a fleet
 * folder and fits the same lives with R; its choices (one position per engine, invented dates) are written there.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { lifeRow, type UsableRow } from '../../lib/fleet/lifeRows.js';
import { readFleet } from '../../lib/fleet/read.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { lifeBounds } from '../../lib/life/estimate/bounds/bounds.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';

interface Expected {
  engines: number;
  replacements: number;
  running: number;
  shape: number;
  scale: number;
  logLikelihood: number;
  logLikelihoodConstantRate: number;
  shape90Normal: [number, number];
}

const folder = fileURLToPath(new URL('./valveSeat/', import.meta.url));
const expected: Expected = JSON.parse(readFileSync(`${folder}expected.json`, 'utf8'));
let fleet: Fleet;
let rows: UsableRow[];

beforeAll(async () => {
  fleet = await readFleet(folder);
  rows = Array.from(fleet.lives.row, (_, i) => lifeRow(fleet, i, 'leak')).filter(
    (row): row is UsableRow => row.kind !== 'set aside',
  );
});

function sampleOf(lives: UsableRow[]): LifeSample {
  return lifeSample({
    lower: lives.map(({ lower }) => lower),
    upper: lives.map(({ upper }) => upper),
    entry: lives.map(({ entry }) => entry),
    cluster: Array.from(fleet.lives.position),
  });
}

describe('valve seats of 41 engines', () => {
  it('reads with nothing set aside and one running life per engine', () => {
    const { rowsIn, rowsUsed, rowsSetAside, livesBuilt, problems } = fleet.findings;
    expect({ rowsIn, rowsUsed, rowsSetAside, livesBuilt, problems }).toEqual({
      rowsIn: expected.engines + expected.replacements + expected.running,
      rowsUsed: expected.engines + expected.replacements + expected.running,
      rowsSetAside: 0,
      livesBuilt: 0,
      problems: [],
    });
    expect(fleet.positions).toHaveLength(expected.engines);
    expect(rows.filter(({ kind }) => kind === 'failed')).toHaveLength(expected.replacements);
    expect(rows.filter(({ kind }) => kind === 'censored')).toHaveLength(expected.running);
  });

  it('keeps the two replacements of one engine on one day: the second life is (0, 1]', () => {
    expect(rows.filter(({ lower, upper }) => lower === 0 && upper === 1)).toHaveLength(2);
    expect(rows.every(({ entry }) => entry === 0)).toBe(true);
  });

  it('fits as R does', () => {
    const fit = fitLife(sampleOf(rows), { kind: 'weibull' });
    expect(fit.model.kind).toBe('weibull');
    if (fit.model.kind !== 'weibull') return;
    expect(fit.model.shape).toBeCloseTo(expected.shape, 6);
    expect(fit.model.scale / expected.scale).toBeCloseTo(1, 6);
    expect(fit.logLikelihood).toBeCloseTo(expected.logLikelihood, 6);
    const constant = fitLife(sampleOf(rows), { kind: 'exponential' });
    expect(constant.logLikelihood).toBeCloseTo(expected.logLikelihoodConstantRate, 6);
  });

  it('shows no wear-out: a constant rate fits as well, and the shape stays near 1', () => {
    const single = sampleOf(rows);
    const fit = fitLife(
      { ...single, cluster: Int32Array.from(single.lower, (_, i) => i) },
      { kind: 'weibull' },
    );
    const bounds = lifeBounds(fit, { of: 'shape', level: 0.9, method: 'normal' });
    expect(bounds.low).toBeCloseTo(expected.shape90Normal[0], 3);
    expect(bounds.high).toBeCloseTo(expected.shape90Normal[1], 3);
    expect(bounds.low).toBeLessThan(1);
    expect(bounds.high).toBeGreaterThan(1);
    // Twice the gain in log-likelihood against the 95 % point of chi-square with one degree of freedom.
    expect(2 * (expected.logLikelihood - expected.logLikelihoodConstantRate)).toBeLessThan(3.84);
  });
});
