/** Pick lists: what is on them, in which order, and the page that is printed. */
import { describe, expect, it } from 'vitest';
import { readFleet } from '../../lib/fleet/read.js';
import { planFleet } from '../../lib/plan.js';
import type { Plan } from '../../lib/planTypes.js';
import { csvFiles } from '../../lib/report/csv.js';
import { pickListsHtml } from '../../lib/report/pickListPage.js';
import { kitOf, pickLists } from '../../lib/report/pickLists.js';
import { emptyPlan, hostilePlan, ordinaryPlan } from '../fixtures/plan.js';
import { folderFiles, writeFolder } from '../plan/folders.js';

/** A plant of 30 positions on two lines in two halls, with lots on the shelf and, if wanted, a calendar. */
async function smallPlan(calendar: boolean): Promise<Plan> {
  const groups = [{ material: 'EPDM', size: 25, positions: 30, shape: 3, scale: 900, replacedAt: 400 }];
  const files = folderFiles({ seed: 4, groups, watchedDays: 1500, money: {} });
  const [head = '', ...rows] = (files.get('positions.csv') ?? '').trim().split('\n');
  const placed = rows.map(
    (row, i) => `${row.replace(',A,', `,${i % 3 === 0 ? 'L10' : 'L2'},`)},Hall ${1 + (i % 2)}`,
  );
  files.set('positions.csv', [`${head},location`, ...placed].join('\n'));
  files.set(
    'items.csv',
    'item,material,size,price,lead_time_days,on_hand,approved_substitute\nP-1,EPDM,25,40,30,7,P-2\nP-2,FKM,25,90,30,5,\n',
  );
  files.set(
    'lots.csv',
    'item,lot,quantity,use_by\nP-1,OLD,3,2026-06-30\nP-1,NEW,4,2030-06-30\nP-2,F1,5,2030-06-30\n',
  );
  if (calendar)
    files.set(
      'shutdowns.csv',
      'name,start,end\nSpring stop,2026-03-02,2026-03-06\nAutumn stop,2026-10-05,2026-10-09\nLate stop,2027-04-05,2027-04-09\n',
    );
  return planFleet(await readFleet(writeFolder(files)), { seed: 1 });
}

const lists = await smallPlan(true).then((plan) => ({ plan, all: pickLists(plan) }));

describe('pick lists', () => {
  const [first] = lists.all;
  if (first === undefined) throw new Error('the plant has a shutdown with work');

  it('go line by line, then hall by hall, then tag by tag, with numbers as numbers', () => {
    const keys = first.rows.map(({ task }) => [task.line, task.location, task.position]);
    expect(keys.length).toBeGreaterThan(8);
    const wanted = [...keys].sort(
      ([a = '', b = '', c = ''], [x = '', y = '', z = '']) =>
        Number(a.slice(1)) - Number(x.slice(1)) || b.localeCompare(y, 'en') || c.localeCompare(z, 'en'),
    );
    expect(keys).toEqual(wanted);
    expect(new Set(keys.map(([line]) => line))).toEqual(new Set(['L2', 'L10']));
  });

  it('hold each position that is done at the shutdown once, and no other', () => {
    for (const { load, rows } of lists.all) {
      const planned = lists.plan.shutdownPlan.filter(({ start, fits }) => start === load.start && fits);
      expect(rows.map(({ task }) => task.position).sort()).toEqual(
        planned.map(({ position }) => position).sort(),
      );
    }
  });

  it('take the lot that expires first until it is used up, then the next, then what is still to come', () => {
    const from = first.rows.map(({ source }) =>
      source === null || source === 'short' ? source : (source.lot ?? source.from),
    );
    const order = ['OLD', 'NEW', 'planned', 'short'];
    expect(from.map((each) => order.indexOf(each ?? ''))).toEqual(
      from.map((each) => order.indexOf(each ?? '')).sort(),
    );
    expect(from.filter((each) => each === 'OLD')).toHaveLength(3);
    expect(new Set(from).has('planned')).toBe(true);
  });

  it('add up with the kits: so many positions as fall due if nothing leaks', () => {
    const due = first.items.reduce((sum, { ifNothingLeaks }) => sum + ifNothingLeaks, 0);
    expect(first.rows).toHaveLength(Math.round(due));
    const [kit] = first.items;
    if (kit === undefined) throw new Error('the shutdown has a kit');
    expect(kit.expected).toBeLessThanOrEqual(kit.ifNothingLeaks);
    expect(kit.layOut).toBeGreaterThanOrEqual(kit.with95);
    expect(kit.substitute).toEqual({ item: 'P-2', spare: 5 });
  });

  it('of lines without shutdowns go by month, with the kit of the month', async () => {
    const plan = await smallPlan(false);
    const months = pickLists(plan);
    expect(months.length).toBeGreaterThan(3);
    for (const { load, items } of months) {
      expect(load.shutdown).toMatch(/^due \d{4}-\d\d$/);
      expect(kitOf(plan.kits, load)).toEqual(items);
    }
    expect(months.filter(({ items }) => items.length === 1).length).toBeGreaterThanOrEqual(months.length - 1);
  });
});

describe('pick-lists.csv', () => {
  it('has a row for each position and shutdown, with room for who fitted it and when', () => {
    const rows = csvFiles(lists.plan)['pick-lists.csv'].trim().split('\r\n');
    expect(rows[0]).toBe(
      'shutdown,start,line,location,position,criticality,item,material,size,take_from,lot,use_by,approved_substitute,because,done,fitted_by,fitted_on',
    );
    expect(rows).toHaveLength(1 + lists.all.reduce((sum, list) => sum + list.rows.length, 0));
    expect(rows[1]).toMatch(
      /^Spring stop,2026-03-02,L2,Hall 1,V-\d{4},normal,P-1,EPDM,25,shelf,OLD,2026-06-30,,.*,,,$/,
    );
    const short = rows.filter((row) => row.includes(',to order,,'));
    expect(short.length).toBeGreaterThan(0);
    for (const row of short) expect(row).toContain(',P-2,');
  });
});

describe('the page of pick lists', () => {
  const page = pickListsHtml(lists.plan);
  it('has a part a shutdown within a year, its lines each with heads of their own, and says what is left out', () => {
    expect(page.match(/<section class="list">/g)).toHaveLength(2);
    expect(page).toContain('1 later shutdown, from 5 Apr 2027 on');
    expect(page.match(/<table class="pick">/g)).toHaveLength(4);
    expect(page.match(/>Fitted by</g)).toHaveLength(4);
    const ticks = lists.all.slice(0, 2).reduce((sum, { rows }) => sum + rows.length, 0);
    expect(page.match(/class="tick"/g)).toHaveLength(ticks);
    for (const words of [
      'Due if nothing leaks',
      'Expected',
      'With 95 % safety',
      'Last day to order',
      'Hall 2',
      'still to order',
    ])
      expect(page).toContain(words);
    expect(page).toContain('may be replaced by <bdi>P-2</bdi>, 5 to spare');
  });
  it('keeps the bytes, loads nothing and runs nothing', () => {
    expect(pickListsHtml(lists.plan)).toBe(page);
    expect(page).toContain("default-src 'none'");
    expect(page).not.toMatch(/<script|https?:\/\//);
  });
  it('says so where nothing is to be done, and shows hostile names as text', () => {
    expect(pickListsHtml(emptyPlan())).toContain('Nothing is to be replaced in the shutdowns known.');
    const hostile = pickListsHtml(hostilePlan());
    for (const mark of ['<script>', '<img', '<svg']) expect(hostile).not.toContain(mark);
  });
  it('shows whole shutdowns up to 6 000 positions, cuts only the first, and says so', () => {
    const plan = ordinaryPlan();
    const [load] = plan.shutdowns;
    const [task] = plan.shutdownPlan;
    if (load === undefined || task === undefined) throw new Error('the fixture has work');
    const many = (shutdown: string, start: string, number: number) => ({
      load: { ...load, shutdown, start, end: start },
      tasks: Array.from({ length: number }, (_, i) => ({
        ...task,
        shutdown,
        start,
        fits: true,
        position: `V-${i}`,
      })),
    });
    const page = (...parts: ReturnType<typeof many>[]): string =>
      pickListsHtml({
        ...plan,
        shutdowns: parts.map((part) => part.load),
        shutdownPlan: parts.flatMap((part) => part.tasks),
      });
    const large = page(many('A', '2026-04-06', 6500), many('B', '2026-04-07', 10));
    expect(large).toContain('500 positions of the first shutdown; 1 later shutdown, from 7 Apr 2026 on');
    expect(large.match(/class="tick"/g)).toHaveLength(6000);
    expect(large.length).toBeLessThan(3e6);
    expect(page(many('A', '2026-04-06', 6), many('B', '2026-04-07', 10))).not.toContain('Not in this page');
  });
});
