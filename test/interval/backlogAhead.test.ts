/** Positions past their interval along the plan, counted by hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { backlogAhead } from '../../lib/interval/backlogAhead.js';
import { dayFromText, textFromDay } from '../../lib/numeric/day.js';

const FROM = '2026-01-01';
const day = (after: number): string => textFromDay((dayFromText(FROM) ?? 0) + after);

const place = (position: string, due: number | null, intervalDays: number | null = 365) => ({
  position,
  due: due === null ? null : day(due),
  intervalDays,
});

const task = (position: string, start: number, overdueDays: number | null, fits = true) => ({
  position,
  shutdown: `stop on day ${start}`,
  start: day(start),
  overdueDays,
  fits,
});

describe('positions past their interval', () => {
  it('from the day after they are due until they are replaced', () => {
    // A is past since 5 days and replaced on day 30; B falls due on day 10 and is replaced on day 30; C fits only on day 60.
    const backlog = backlogAhead(
      [place('A', -5), place('B', 10), place('C', 20), place('D', null, null)],
      [task('A', 30, 35), task('B', 30, 20), task('C', 30, 10, false), task('C', 60, 40)],
      FROM,
    );
    expect(backlog.span).toBe(60);
    expect(backlog.day).toEqual([0, 11, 21, 30, 60]);
    expect(backlog.past).toEqual([1, 2, 3, 1, 0]);
    expect(backlog.stops).toEqual([
      { name: 'stop on day 30', day: 30, replaced: 2, after: 1 },
      { name: 'stop on day 60', day: 60, replaced: 1, after: 0 },
    ]);
  });

  it('stays past where nothing replaces it, and is not past where it is replaced early or on its day', () => {
    const backlog = backlogAhead(
      [place('A', -1), place('B', 50), place('C', 40)],
      [task('B', 40, -10), task('C', 40, 0)],
      FROM,
    );
    expect(backlog.past).toEqual([1]);
    expect(backlog.stops[0]?.after).toBe(1);
  });

  it('counts a position again where its next replacement comes late, by the plan’s own days', () => {
    const backlog = backlogAhead([place('A', -1, 100)], [task('A', 10, 11), task('A', 130, 20)], FROM);
    expect(backlog.day).toEqual([0, 10, 111, 130]);
    expect(backlog.past).toEqual([1, 0, 1, 0]);
  });

  it('is nothing for an empty plan, and asks for a day', () => {
    expect(backlogAhead([], [], FROM)).toEqual({ from: FROM, span: 0, day: [0], past: [0], stops: [] });
    expect(() => backlogAhead([], [], 'soon')).toThrow(UsageError);
  });

  it('is never below 0, and is what a count of each day gives', () => {
    const dues = fc.array(fc.tuple(fc.integer({ min: -50, max: 300 }), fc.integer({ min: 1, max: 300 })), {
      maxLength: 12,
    });
    fc.assert(
      fc.property(dues, (rows) => {
        const places = rows.map(([due], i) => place(`P${i}`, due));
        const tasks = rows.map(([due, at], i) => task(`P${i}`, at, at - due));
        const backlog = backlogAhead(places, tasks, FROM);
        expect(Math.min(...backlog.past)).toBeGreaterThanOrEqual(0);
        backlog.day.forEach((each, i) => {
          const slow = rows.filter(([due, at]) => due < each && at > each).length;
          expect(backlog.past[i]).toBe(slow);
        });
      }),
      { seed: 5, numRuns: 100 },
    );
  });
});
