/**
 * The specification of one chart of each kind, for the plan made by hand, against the one kept in specs/. Numbers are rounded to three digits,
 * so that they are the same on every machine, and long lists are cut. A change of a picture shows here as a change of text.
 */
import { describe, expect, it } from 'vitest';
import type { Chart } from '../../lib/chart/types.js';
import { ordinaryPlan } from '../fixtures/plan.js';
import { chartsOf } from './charts.js';

const DIGITS = 3;
/** Rows of data that are kept at either end of a longer list. */
const ROWS = 3;

/** The part of a name that says the kind: names of groups and items behind it are left out. */
const NAMED = /^(fit|cost|tight|leaks-by-age|region|demand|shelf|service)-(?!split|by-interval)/;

function kindOf({ name }: Chart): string {
  return NAMED.exec(name)?.[1] ?? name;
}

function rounded(value: unknown): unknown {
  if (typeof value === 'number') return Number(value.toPrecision(DIGITS));
  if (Array.isArray(value)) return cut(value).map(rounded);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, rounded(each)]));
}

function cut(list: unknown[]): unknown[] {
  const rows = list.length > 2 * ROWS + 1 && list.every((each) => typeof each === 'object' && !isLayer(each));
  return rows ? [...list.slice(0, ROWS), `${list.length - 2 * ROWS} more`, ...list.slice(-ROWS)] : list;
}

function isLayer(each: unknown): boolean {
  return each !== null && typeof each === 'object' && 'mark' in each;
}

/** One line for each short part. */
function text(value: unknown, indent = ''): string {
  const flat = JSON.stringify(value);
  if (flat.length < 110 || value === null || typeof value !== 'object') return flat;
  const deeper = `${indent}  `;
  const parts = Array.isArray(value)
    ? value.map((each) => `${deeper}${text(each, deeper)}`)
    : Object.entries(value).map(([key, each]) => `${deeper}${JSON.stringify(key)}: ${text(each, deeper)}`);
  const [open, close] = Array.isArray(value) ? ['[', ']'] : ['{', '}'];
  return `${open}\n${parts.join(',\n')}\n${indent}${close}`;
}

const charts = new Map<string, Chart>();
for (const chart of chartsOf(ordinaryPlan(), 1))
  if (!charts.has(kindOf(chart))) charts.set(kindOf(chart), chart);

describe('the specification of a chart', () => {
  it.each([...charts])('%s', async (kind, { title, finding, spec, table, leftOut }) => {
    const { config: _config, description: _description, $schema: _schema, title: _heading, ...own } = spec;
    const kept = rounded({ title, finding, leftOut, columns: table.columns, ...own });
    await expect(`${text(kept)}\n`).toMatchFileSnapshot(`specs/${kind}.txt`);
  });

  it('is kept for each kind there is', () => {
    expect(charts.size).toBe(29);
  });
});
