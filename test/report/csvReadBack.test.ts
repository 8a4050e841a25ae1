/** The written tables, read back by a general-purpose library (arquero): every cell arrives as it was meant. */
import { fromCSV } from 'arquero';
import { describe, expect, it } from 'vitest';
import { csvFiles } from '../../lib/report/csv.js';
import { hostilePlan, ordinaryPlan } from '../fixtures/plan.js';

describe('the tables read back', () => {
  const plan = ordinaryPlan();
  const files = csvFiles(plan);

  it('intervals.csv has a row per group with its days, and the reason as one cell', () => {
    const table = fromCSV(files['intervals.csv'], { autoType: false });
    expect(table.numRows()).toBe(plan.intervals.length);
    expect(table.array('days')).toEqual(
      plan.intervals.map(({ days }) => (days === null ? null : String(days))),
    );
    expect(table.array('because')).toEqual(plan.intervals.map(({ because }) => because));
  });

  it('demand.csv adds up to the demand of the plan', () => {
    const table = fromCSV(files['demand.csv']);
    const proposed = table.array('mean') as number[];
    const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0);
    const wanted = sum(plan.demand.map(({ mean }) => mean));
    expect(proposed).toHaveLength(plan.demand.length);
    // Each cell has two decimals.
    expect(Math.abs(sum(proposed) - wanted)).toBeLessThan(0.005 * proposed.length);
  });

  it('shutdown-plan.csv has a row per task, also where tags are hostile', () => {
    const hostile = hostilePlan();
    const table = fromCSV(csvFiles(hostile)['shutdown-plan.csv'], { autoType: false });
    expect(table.numRows()).toBe(hostile.shutdownPlan.length);
  });
});
