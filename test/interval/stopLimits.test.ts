/** Lines down at a time, pieces that can be there, and what goes by the due rule brought forward. */
import { describe, expect, it } from 'vitest';
import { groupCosts } from '../../lib/cost/groupCost.js';
import type { Fleet, Item, Shutdown } from '../../lib/fleet/types.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { planShutdowns } from '../../lib/interval/shutdowns.js';
import type { IntervalAdvice, ShutdownPlan, ShutdownTask } from '../../lib/interval/types.js';
import { exact, RATIO_TEN, TODAY, testPlant } from './fixtures.js';

const MONEY = { ...RATIO_TEN, resteriliseCost: exact(300), plannedStopHours: exact(2) };
const DAYS = 365;

interface Case {
  ages: number[];
  windows: Partial<Shutdown>[];
  action?: IntervalAdvice['action'];
  item?: Partial<Item>;
  /** Positions go round these lines in turn. */
  lines?: string[];
  change?: (fleet: Fleet) => Fleet;
}

/** Positions V-1, V-2 ... with an interval of a year, one hour of a fitter each. */
function planned({
  ages,
  windows,
  action = 'replace',
  item = {},
  lines,
  change = (each) => each,
}: Case): ShutdownPlan {
  const made = testPlant([{ shape: 3, scale: 900, ages }], { money: MONEY, shutdowns: windows });
  const positions = made.fleet.positions.map((position, p) => ({
    ...position,
    line: lines === undefined ? position.line : (lines[p % lines.length] as string),
  }));
  const items = made.fleet.items.map((each) => ({ ...each, ...item }));
  const fleet = change({ ...made.fleet, positions, items });
  const costs = groupCosts(fleet, made.grouped);
  const advice = adviseIntervals(fleet, made.grouped, costs).map(
    (each): IntervalAdvice => ({ ...each, action, days: DAYS, workDays: DAYS }),
  );
  return planShutdowns(fleet, made.grouped, advice, costs);
}

const stop = (name: string, inDays: number, change: Partial<Shutdown> = {}): Partial<Shutdown> => ({
  name,
  start: TODAY + inDays,
  end: TODAY + inDays + 1,
  ...change,
});
const at = ({ tasks }: ShutdownPlan, name: string, fits = true): ShutdownTask[] =>
  tasks.filter((task) => task.shutdown === name && task.fits === fits);
const linesAt = (plan: ShutdownPlan, name: string): string[] =>
  [...new Set(at(plan, name).map(({ line }) => line))].sort();
const codes = ({ warnings }: ShutdownPlan): string[] => warnings.map(({ code }) => code);

describe.each(['keep', 'replace'] as const)('lines down at a time, with the answer %s', (action) => {
  const lines = ['L1', 'L2', 'L3'];
  const ages = [340, 345, 350, 355, 342, 348];
  const windows = (mostLines: number | null): Partial<Shutdown>[] => [
    stop('first', 20, { mostLines }),
    stop('second', 200),
    stop('third', 390),
  ];

  it('are no more than allowed, all of a line that is down fits, and the others wait or go elsewhere', () => {
    const plan = planned({ ages, windows: windows(2), action, lines });
    expect(linesAt(plan, 'first')).toHaveLength(2);
    expect(at(plan, 'first')).toHaveLength(4);
    expect(at(plan, 'first', false).map(({ shortOf }) => shortOf)).toEqual(['lines', 'lines']);
    expect(at(plan, 'first', false)[0]?.because).toContain('beyond the 2 that may be down (most_lines)');
    expect(at(plan, 'second').map(({ line }) => line)).toContain(at(plan, 'first', false)[0]?.line);
    expect(codes(plan)).toContain('lines-bind');
    expect(plan.loads[0]?.mostLines).toBe(2);
  });

  it('may be none, and as many as there are or more, which is no limit', () => {
    const none = planned({ ages, windows: windows(0), action, lines });
    expect(at(none, 'first')).toEqual([]);
    expect(at(none, 'first', false)).toHaveLength(6);
    const free = planned({ ages, windows: windows(null), action, lines });
    for (const most of [3, 50]) {
      expect(planned({ ages, windows: windows(most), action, lines }).tasks).toEqual(free.tasks);
    }
  });
});

describe('lines down at a time, placed by the fleet plan', () => {
  it('are levelled over the windows before a line gets past its interval', () => {
    // All four lines are due at the second window; two may be down in each of the first two.
    const plan = planned({
      ages: [200, 205, 210, 215],
      lines: ['L1', 'L2', 'L3', 'L4'],
      windows: [stop('a', 30, { mostLines: 2 }), stop('b', 120, { mostLines: 2 }), stop('c', 300)],
    });
    expect(linesAt(plan, 'a')).toHaveLength(2);
    expect(linesAt(plan, 'b')).toHaveLength(2);
    expect(plan.tasks.every(({ fits }) => fits)).toBe(true);
    const limit = plan.optimum?.limits.find(
      ({ limit: kind, shutdown }) => kind === 'lines' && shutdown === 'b',
    );
    expect(limit?.savingPerHour).toBeGreaterThan(0);
    expect(at(plan, 'a')[0]?.because).toContain('b has no line to spare');
  });
});

describe.each(['keep', 'replace'] as const)('pieces that can be there, with the answer %s', (action) => {
  const ages = [340, 345, 350, 355];
  const windows = [stop('first', 20), stop('second', 200), stop('third', 390)];
  const first = (item: Partial<Item>, change?: Case['change']): ShutdownPlan =>
    planned({ ages, windows, action, item, ...(change === undefined ? {} : { change }) });

  it('limit what is listed until a new order can be there', () => {
    const plan = first({ onHand: 3, onHandKnown: true, leadTimeDays: 30 });
    expect(at(plan, 'first')).toHaveLength(3);
    const [short] = at(plan, 'first', false);
    expect(short?.shortOf).toBe('stock');
    expect(short?.because).toContain('no piece of P-1 is left for it by then and a new order comes too late');
    expect(at(plan, 'second').map(({ position }) => position)).toContain(short?.position);
    const warning = plan.warnings.find(({ code }) => code === 'pieces-bind');
    expect(warning?.text).toContain('1 of P-1 at first');
    // A lead time that ends on the day of the stop is no limit, nor is a shelf that nobody counts.
    for (const item of [{ onHand: 0, onHandKnown: true, leadTimeDays: 20 }, { onHand: 0 }, { onHand: 4 }]) {
      expect(at(first(item), 'first')).toHaveLength(4);
      expect(codes(first(item))).not.toContain('pieces-bind');
    }
  });

  it('take a lead time of 60 days where none is given, and an empty shelf lets nothing be done', () => {
    const plan = first({ onHand: 0, onHandKnown: true, leadTimeDays: null });
    expect(at(plan, 'first')).toEqual([]);
    expect(at(plan, 'first', false)).toHaveLength(4);
    expect(at(plan, 'second')).toHaveLength(4);
  });

  it('count orders that are due by then, and leave out lots past their use-by', () => {
    const order = (inDays: number) => (fleet: Fleet) => ({
      ...fleet,
      orders: [{ item: 'P-1', quantity: 2, placed: null, due: TODAY + inDays }],
    });
    const item = { onHand: 1, leadTimeDays: 30 };
    expect(at(first(item, order(20)), 'first')).toHaveLength(3);
    expect(at(first(item, order(21)), 'first')).toHaveLength(1);
    // Overdue: taken to come within the review period.
    expect(at(first(item, order(-5)), 'first')).toHaveLength(3);
    const lot = (inDays: number) => (fleet: Fleet) => ({
      ...fleet,
      lots: [{ item: 'P-1', lot: 'a', quantity: 3, cured: null, useBy: TODAY + inDays }],
    });
    expect(at(first({ onHand: 4 }, lot(19)), 'first')).toHaveLength(1);
    expect(at(first({ onHand: 4 }, lot(20)), 'first')).toHaveLength(4);
  });

  it('take those of an approved substitute, and of no other', () => {
    const other = (approved: boolean) => (fleet: Fleet) => {
      const [own] = fleet.items as [Item];
      const items = [
        { ...own, onHand: 1, approvedSubstitute: approved ? 'S-1' : null },
        { ...own, item: 'S-1', onHand: 2, size: 80 },
      ];
      return { ...fleet, items };
    };
    expect(at(first({}, other(true)), 'first')).toHaveLength(3);
    expect(at(first({}, other(false)), 'first')).toHaveLength(1);
  });

  it('do not hold back what must be done, nor what would pass a limit of the maker', () => {
    const item = { onHand: 0, onHandKnown: true, leadTimeDays: 30 };
    const must = planned({
      ages,
      action,
      item,
      windows: [stop('first', 20, { must: ['V-2'] }), ...windows.slice(1)],
    });
    expect(at(must, 'first').map(({ position }) => position)).toEqual(['V-2']);
    const limited = first(item, (fleet) => {
      const limit = { maxDays: 540, maxStrokes: null, maxSteamCycles: null };
      const [group] = fleet.items as [Item];
      return {
        ...fleet,
        site: { ...fleet.site, limits: [{ material: group.material, size: null, ...limit }] },
      };
    });
    // At the second window, in 200 days, those of 345 days and more are past 540; the first is exactly on it.
    expect(
      at(limited, 'first')
        .map(({ position }) => position)
        .sort(),
    ).toEqual(['V-2', 'V-3', 'V-4']);
  });

  it('are no limit where items.csv does not hold the item', () => {
    expect(
      at(
        first({}, (fleet) => ({ ...fleet, items: [] })),
        'first',
      ),
    ).toHaveLength(4);
  });
});

describe('what goes by the due rule', () => {
  it('is brought forward where the stop of its interval is short, and says so', () => {
    const windows = [
      stop('a', 10, { crewHours: 3 }),
      stop('b', 100, { crewHours: 2 }),
      stop('c', 300, { crewHours: 9 }),
    ];
    const plan = planned({ ages: [200, 210, 220, 230], action: 'keep', windows });
    expect(plan.optimum).toBeNull();
    expect(plan.tasks.every(({ fits }) => fits)).toBe(true);
    expect(at(plan, 'a')).toHaveLength(2);
    expect(at(plan, 'b')).toHaveLength(2);
    expect(at(plan, 'a')[0]?.because).toContain('done here because b has no room to spare');
    // Nothing is moved where nothing is short.
    const free = planned({
      ages: [200, 210, 220, 230],
      action: 'keep',
      windows: windows.map((each) => ({ ...each, crewHours: 9 })),
    });
    expect(at(free, 'a')).toEqual([]);
  });

  it('stays where no earlier stop has room, or where the line would be stopped for it', () => {
    const due = (a: Partial<Shutdown>): ShutdownPlan =>
      planned({
        ages: [200, 210, 220, 230],
        action: 'keep',
        windows: [stop('a', 10, a), stop('b', 100, { crewHours: 2 }), stop('c', 300, { crewHours: 9 })],
      });
    expect(at(due({ crewHours: 0 }), 'b', false)).toHaveLength(2);
    expect(at(due({ stopFor: 'replacements' }), 'b', false)).toHaveLength(2);
    expect(at(due({ notOn: ['V-1', 'V-2', 'V-3', 'V-4'] }), 'b', false)).toHaveLength(2);
  });
});
