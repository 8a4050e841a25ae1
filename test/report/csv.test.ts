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

  it('has a row per item and month in demand.csv, the proposal with what is practised today beside it', () => {
    const plan = ordinaryPlan();
    const rows = read(csvFiles(plan)['demand.csv']);
    expect(rows).toHaveLength(plan.demand.length);
    expect(new Set(rows.map(({ item, month }) => `${item} ${month}`)).size).toBe(rows.length);
    for (const [i, row] of rows.entries()) {
      expect(Number(row.mean)).toBeCloseTo(plan.demand[i]?.mean ?? Number.NaN, 1);
      expect(Number(row.mean_today)).toBeCloseTo(plan.demandToday[i]?.mean ?? Number.NaN, 1);
      for (const value of Object.values(row).slice(2)) expect(value).toMatch(/^\d+(\.\d{1,2})?$/);
    }
  });

  it('says in every row of order-list.csv what that order is, why, and what it costs', () => {
    const rows = read(csvFiles(ordinaryPlan())['order-list.csv']);
    for (const row of rows) {
      expect(row.action).toContain(`order ${row.quantity} by ${row.order_by}`);
      expect(row.because).not.toBe('');
      expect(Number(row.value)).toBe(Number(row.quantity) * Number(row.unit_price));
      expect(row).toMatchObject({ currency: 'EUR', pack: '10', lead_time_days: '40' });
      expect(row.emergency_days).toBe(row.expedite === 'yes' ? '10' : '');
      expect(row.status).toBe((row.order_by ?? '') < '2026-08-30' ? 'firm' : 'outlook');
    }
  });

  it('writes a row per shutdown and item into kits.csv, and what is overdue into stock.csv', () => {
    const files = csvFiles(ordinaryPlan());
    const kits = read(files['kits.csv']);
    expect(kits[0]).toMatchObject({
      shutdown: 'Spring shutdown 2026',
      item: 'DIA-1000',
      if_nothing_leaks: '24',
      expected: '22.4',
      lay_out: '25',
      on_shelf_then: '10.4',
      last_day_to_order: '2026-02-20',
    });
    expect(kits[1]).toMatchObject({ overdue_counted_on: '10' });
    expect(read(files['stock.csv'])[1]).toMatchObject({
      overdue_quantity: '10',
      overdue_since: '2026-02-20',
      short_without_overdue: '3',
    });
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
