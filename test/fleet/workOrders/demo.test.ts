/** The demo plant's history, written as work orders, gives the same lives and the same plan. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { csvQuoted } from '../../../lib/fleet/csvQuoted.js';
import { fleetOf } from '../../../lib/fleet/read.js';
import type { Fleet } from '../../../lib/fleet/types.js';
import { planFleet } from '../../../lib/plan.js';
import { ROOT } from '../../structure/source.js';
import { byPosition, canBeOrders, type Life, livesCsv, ordersCsv, ordersOf, plainLives } from './asOrders.js';

const DEMO = join(ROOT, 'data-demo');
const files = new Map<string, Uint8Array>(
  [...readdirSync(DEMO).filter((name) => name.endsWith('.csv')), 'site.json'].map((name) => [
    name,
    readFileSync(join(DEMO, name)),
  ]),
);
const read = (more: Record<string, string>, without: string[] = []): Fleet => {
  const all = new Map(files);
  for (const name of without) all.delete(name);
  for (const [name, text] of Object.entries(more)) all.set(name, new TextEncoder().encode(text));
  return fleetOf({ files: all, hash: '', unread: [] });
};

const demo = read({});
const all = [...byPosition(plainLives(demo))].filter(([, lives]) => canBeOrders(lives));
const lines = new TextDecoder().decode(files.get('positions.csv')).split('\n');

/** The positions with these lives, once as one row per diaphragm and once as one row per order. */
function bothWays(fit: typeof all): { lives: Life[]; asLives: Fleet; asOrders: Fleet } {
  const tags = fit.map(([tag]) => csvQuoted(tag));
  const kept = lines.slice(1, 626).filter((line) => tags.some((tag) => line.startsWith(`${tag},`)));
  const positions = `${[lines[0], ...kept].join('\n')}\n`;
  const lives = fit.flatMap(([, list]) => list);
  const orders = ordersCsv(fit.flatMap(([, list]) => ordersOf(list)));
  return {
    lives,
    asLives: read({ 'positions.csv': positions, 'lives.csv': livesCsv(lives) }),
    asOrders: read({ 'positions.csv': positions, 'work-orders.csv': orders }, ['lives.csv']),
  };
}

/** The day of recording of a diaphragm in place belongs to no order. */
const comparable = (fleet: Fleet): Life[] =>
  [...byPosition(plainLives(fleet))]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .flatMap(([, list]) =>
      list.map((life) => (Number.isNaN(life.removed) ? { ...life, recorded: Number.NaN } : life)),
    );

describe('the demo plant as work orders', () => {
  const { lives, asLives, asOrders } = bothWays(all);

  it('covers most positions', () => {
    expect(all.length).toBeGreaterThan(0.8 * demo.positions.length);
    expect(asOrders.positions.length).toBe(all.length);
    expect(asLives.lives.length).toBe(lives.length);
  });

  it('has the same lives', () => {
    expect(comparable(asOrders)).toEqual(comparable(asLives));
    expect(asOrders.findings.livesBuilt).toBe(0);
  });

  it('adds up, row by row', () => {
    const { rowsIn, rowsUsed, rowsSetAside } = asOrders.findings;
    expect(rowsIn).toBe(rowsUsed + rowsSetAside);
    const aside = asOrders.findings.problems.filter(({ done }) => done === 'set aside');
    expect(aside).toHaveLength(rowsSetAside);
  });

  it('gives the same plan, to the byte', () => {
    // One material, for the sake of time: no group borrows from another material.
    const some = bothWays(all.filter(([, list]) => list.every(({ material }) => material === 'FKM')));
    expect(some.lives.length).toBeGreaterThan(80);
    const plan = (fleet: Fleet): string => {
      const { findings, inputsHash, ...rest } = planFleet(fleet);
      expect([findings.rowsIn > 0, inputsHash]).toEqual([true, '']);
      return JSON.stringify(rest);
    };
    const [one, other] = [plan(some.asOrders), plan(some.asLives)];
    const first = [...one].findIndex((letter, i) => letter !== other[i]);
    expect(
      first < 0 ? '' : `${one.slice(first - 60, first + 60)} | ${other.slice(first - 60, first + 60)}`,
    ).toBe('');
    expect(one.length).toBe(other.length);
  });
});
