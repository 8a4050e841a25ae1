/** Hours by craft, a number of replacements, what must be done and what must not be touched: by the due rule and by the fleet plan. */
import { describe, expect, it } from 'vitest';
import { groupCosts } from '../../lib/cost/groupCost.js';
import type { Fleet, Shutdown } from '../../lib/fleet/types.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { planShutdowns } from '../../lib/interval/shutdowns.js';
import type { IntervalAdvice, ShutdownPlan, ShutdownTask } from '../../lib/interval/types.js';
import { exact, RATIO_TEN, TODAY, testPlant } from './fixtures.js';

const DAYS = 365;
const AGES = [340, 345, 350, 355];
/** An hour of a fitter and half an hour of an instrument fitter for each. */
const MONEY = { ...RATIO_TEN, recalibrationHoursPerAccessory: exact(0.5) };

function planned(
  action: IntervalAdvice['action'],
  limits: (tags: string[]) => Partial<Shutdown>,
  criticality: 'normal' | 'safety' = 'normal',
): { plan: ShutdownPlan; tags: string[] } {
  // Tags are given in the order of AGES.
  const tags = testPlant([{ shape: 3, scale: 900, ages: AGES }]).fleet.positions.map((each) => each.position);
  const window = (name: string, inDays: number, change: Partial<Shutdown> = {}): Partial<Shutdown> => ({
    name,
    start: TODAY + inDays,
    end: TODAY + inDays + 1,
    ...change,
  });
  const made = testPlant([{ shape: 3, scale: 900, ages: AGES }], {
    money: MONEY,
    shutdowns: [window('first', 20, limits(tags)), window('second', 200), window('third', 390)],
  });
  const positions = made.fleet.positions.map((position) => ({ ...position, accessories: 1, criticality }));
  const fleet: Fleet = { ...made.fleet, positions };
  const costs = groupCosts(fleet, made.grouped);
  const advice = adviseIntervals(fleet, made.grouped, costs).map(
    (each): IntervalAdvice => ({ ...each, action, days: DAYS, workDays: DAYS }),
  );
  return { plan: planShutdowns(fleet, made.grouped, advice, costs), tags };
}

const at = ({ tasks }: ShutdownPlan, name: string): ShutdownTask[] =>
  tasks.filter(({ shutdown }) => shutdown === name);
const fitting = (tasks: readonly ShutdownTask[]): string[] =>
  tasks.filter(({ fits }) => fits).map(({ position }) => position);
const short = (tasks: readonly ShutdownTask[]): unknown[] =>
  tasks.filter(({ fits }) => !fits).map(({ shortOf }) => shortOf);

describe.each(['keep', 'replace'] as const)('limits of a shutdown, with the answer %s', (action) => {
  it('are none where none are given', () => {
    const first = at(planned(action, () => ({})).plan, 'first');
    expect(fitting(first)).toHaveLength(4);
    expect(short(first)).toEqual([]);
  });

  it('hold the hours of each craft and the number of replacements', () => {
    const cases: [Partial<Shutdown>, string, number, RegExp][] = [
      [{ crewHours: 3.1 }, 'crew hours', 2, /does not fit into the 3.1 crew hours/],
      [{ fitterHours: 3 }, 'fitter hours', 3, /does not fit into the 3 hours of fitters/],
      [{ instrumentHours: 1 }, 'instrument hours', 2, /does not fit into the 1 hours? of instrument fitters/],
      [{ mostReplacements: 1 }, 'replacements', 1, /is beyond the 1 replacements? allowed/],
    ];
    for (const [limit, kind, number, words] of cases) {
      const first = at(planned(action, () => limit).plan, 'first');
      expect(fitting(first), kind).toHaveLength(number);
      expect(short(first), kind).toEqual(Array.from({ length: 4 - number }, () => kind));
      for (const task of first.filter(({ fits }) => !fits)) expect(task.because).toMatch(words);
    }
  });

  it('leave alone what must not be touched, which is done at the next window', () => {
    const { plan, tags } = planned(action, ([, second]) => ({ notOn: [second as string] }));
    const [, closed] = tags;
    expect(fitting(at(plan, 'first')).sort()).toEqual(tags.filter((tag) => tag !== closed).sort());
    expect(fitting(at(plan, 'second'))).toContain(closed);
  });

  it('do what must be done first, though it is not the dearest to leave', () => {
    // The youngest, for which there would be no place.
    const { plan, tags } = planned(action, ([youngest]) => ({ crewHours: 1.5, must: [youngest as string] }));
    expect(fitting(at(plan, 'first'))).toEqual([tags[0]]);
    expect(at(plan, 'first').find(({ fits }) => fits)?.because).toContain(
      'asked for at this shutdown (must)',
    );
    const other = planned(action, () => ({ crewHours: 1.5 }));
    expect(fitting(at(other.plan, 'first'))).not.toEqual([tags[0]]);
  });

  it('say where a task is larger than any window', () => {
    const { plan } = planned(action, () => ({ crewHours: 0.5 }));
    // The later windows have no limit, so that each is done there.
    expect(plan.warnings.map(({ code }) => code)).not.toContain('task-larger-than-windows');
    expect(short(at(plan, 'first'))).toHaveLength(4);
  });
});

describe('what must be done', () => {
  it('is done though a fresh one is more likely to leak, and though nothing is due', () => {
    const { plan, tags } = planned('keep', ([, second]) => ({ must: [second as string] }), 'safety');
    const task = at(plan, 'first').find(({ position }) => position === tags[1]);
    expect(task?.fits).toBe(true);
    expect(plan.loads[0]?.leftInPlace.map(({ position }) => position)).not.toContain(tags[1]);
  });
});

describe('a task larger than every window', () => {
  it('is named, with what to do', () => {
    const made = testPlant([{ shape: 3, scale: 900, ages: AGES }], {
      money: MONEY,
      shutdowns: [
        { start: TODAY + 20, end: TODAY + 21, crewHours: 0.5 },
        { start: TODAY + 200, end: TODAY + 201, crewHours: 0 },
      ],
    });
    const costs = groupCosts(made.fleet, made.grouped);
    const advice = adviseIntervals(made.fleet, made.grouped, costs).map(
      (each): IntervalAdvice => ({ ...each, action: 'keep', days: DAYS, workDays: DAYS }),
    );
    const plan = planShutdowns(made.fleet, made.grouped, advice, costs);
    const warning = plan.warnings.find(({ code }) => code === 'task-larger-than-windows');
    expect(warning?.text).toMatch(
      /^4 positions .* take more hours than any window of their lines has \(up to 1 h/,
    );
    expect(plan.tasks.every(({ fits }) => !fits)).toBe(true);
  });
});
