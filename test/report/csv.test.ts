import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { csvFiles } from '../../lib/report/csv.js';
import { emptyPlan, HOSTILE, hostilePlan, ordinaryPlan } from '../fixtures/plan.js';

type Row = Record<string, string>;

const read = (text: string): Row[] => parse(text, { columns: true });

describe('csvFiles', () => {
  it('has a header of plain words in every file, also without rows', () => {
    for (const text of Object.values(csvFiles(emptyPlan()))) {
      const [header = '', ...rest] = text.split('\r\n');
      expect(header).toMatch(/^[a-z0-9_]+(,[a-z0-9_]+)+$/);
      expect(rest).toEqual(['']);
    }
  });

  it('writes a row per order, the first to place first', () => {
    const orders = read(csvFiles(ordinaryPlan())['order-list.csv']);
    expect(orders).toHaveLength(9);
    expect(orders.map((row) => row.order_by)).toEqual([...orders.map((row) => row.order_by)].sort());
    expect(orders[0]).toMatchObject({
      item: 'DIA-1000',
      quantity: '30',
      due_by: '2026-04-06',
      expedite: 'yes',
    });
  });

  it('writes a row per position and shutdown with hours by craft and tasks', () => {
    const plan = ordinaryPlan();
    const rows = read(csvFiles(plan)['shutdown-plan.csv']);
    expect(rows).toHaveLength(plan.shutdownPlan.length);
    expect(rows[0]).toMatchObject({ fitter_hours: '1.25', instrument_hours: '0.5', fits: 'yes' });
    expect(rows[0]?.tasks).toBe(
      'replace | re-tighten before start-up | re-tighten after first steam cycle | recalibrate 2 accessories',
    );
  });

  it('keeps both policies apart in demand.csv', () => {
    const plan = ordinaryPlan();
    const rows = read(csvFiles(plan)['demand.csv']);
    expect(rows.filter((row) => row.policy === 'proposed')).toHaveLength(plan.demand.length);
    expect(rows.filter((row) => row.policy === 'today')).toHaveLength(plan.demandToday.length);
  });

  it('brings every hostile text back whole, and no cell begins like a formula', () => {
    const files = csvFiles(hostilePlan());
    const positions = new Set(read(files['shutdown-plan.csv']).map((row) => row.position));
    for (const text of HOSTILE) expect(positions).toContain(text.startsWith('=') ? `'${text}` : text);
    for (const text of Object.values(files)) {
      for (const row of read(text)) {
        for (const value of Object.values(row)) {
          if (/^[=+\-@\t\r]/.test(value)) expect(value).toMatch(/^-?\d+(\.\d+)?(e[+-]\d+)?$/);
        }
      }
    }
  });

  it.each([
    ['=1+1', "'=1+1"],
    ['+49 123', "'+49 123"],
    ['-V-101', "'-V-101"],
    ['@sum', "'@sum"],
    ['\tx', "'\tx"],
    ['-5', '-5'],
    ['+5.25', '+5.25'],
    ['a,b', 'a,b'],
    ['say "x"', 'say "x"'],
    ['two\r\nlines', 'two\r\nlines'],
  ])('material %j is written so that it reads back as %j', (given, expected) => {
    const plan = ordinaryPlan();
    const stock = plan.stock.map((item) => ({ ...item, material: given }));
    expect(read(csvFiles({ ...plan, stock })['stock.csv'])[0]?.material).toBe(expected);
  });

  it('says that an age is unknown where the fitting day is not on record', () => {
    const plan = ordinaryPlan();
    const shutdownPlan = plan.shutdownPlan.map((task, i) =>
      i === 0 ? { ...task, ageDays: null, overdueDays: null, costOfWaiting: null } : task,
    );
    const [first, second] = read(csvFiles({ ...plan, shutdownPlan })['shutdown-plan.csv']);
    expect(first).toMatchObject({ age_days: 'unknown', overdue_days: 'unknown', cost_of_waiting: '' });
    expect(second).toMatchObject({
      age_days: '309',
      overdue_days: '-21',
      fitter_hours_after_start_up: '0.2',
    });
  });

  it('leaves empty what is not known', () => {
    const rows = read(csvFiles(ordinaryPlan())['intervals.csv']);
    const run = rows.find((row) => row.action === 'run');
    expect(run).toMatchObject({ days: '', months: '', today_days: '', within_2_percent_from_days: '' });
  });
});
