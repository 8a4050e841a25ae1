/** The table of laws in the engineer's part. */
import { describe, expect, it } from 'vitest';
import type { GroupCheck } from '../../lib/interval/types.js';
import type { Plan } from '../../lib/planTypes.js';
import { lawChecks } from '../../lib/report/lawChecks.js';
import { emptyPlan, HOSTILE, hostilePlan, manyGroupsPlan, ordinaryPlan } from '../fixtures/plan.js';

const plan = ordinaryPlan();
const text = (of: Plan): string => (lawChecks(of)?.markup ?? '').replaceAll('\u00a0', ' ');
const rowsOf = (markup: string): string[] => markup.split('<tr').slice(2);

/** The plan with the check of its first group changed. */
function withFirst(change: Partial<GroupCheck>): Plan {
  return {
    ...plan,
    groups: plan.groups.map((group, i) =>
      i === 0 ? { ...group, check: { ...group.check, ...change } } : group,
    ),
  };
}

const opinion = plan.groups[0]?.check.secondOpinion as NonNullable<GroupCheck['secondOpinion']>;
const under = opinion.lognormal as NonNullable<typeof opinion.lognormal>;

describe('the table of laws', () => {
  const markup = text(plan);

  it('has a row for each group with its verdict, leaks and p', () => {
    expect(rowsOf(markup)).toHaveLength(plan.groups.length);
    const judged = plan.groups.filter(({ check }) => check.verdict === 'fits').length;
    expect(judged).toBeGreaterThan(3);
    expect(judged).toBeLessThan(plan.groups.length);
    expect(markup).toContain(
      `${judged} groups fit, none does not, ${plan.groups.length - judged} cannot be judged (under 10 leaks).`,
    );
    expect(markup).toContain('31 leaks, p = 0.41');
    expect(markup.match(/no second opinion: too few leaks/g)).toHaveLength(2);
    expect(markup.match(/not known: no second opinion/g)).toHaveLength(2);
  });

  it('says what p, AIC and the costs are, and from how many leaks on', () => {
    for (const word of [
      'p is the share of draws',
      'AIC (a number without a unit)',
      'per position and year',
      '10 leaks',
      '20 leaks',
    ]) {
      expect(markup).toContain(word);
    }
  });

  it('gives the cost of a mistake as a share and in money, and the better age with its unit', () => {
    const dear = {
      ...opinion,
      lognormal: { bestDays: 304, leastPerYear: 400, costPerYear: 448, aboveLeast: 0.12 },
    };
    const [row] = rowsOf(text(withFirst({ secondOpinion: dear })));
    expect(row).toContain(
      '8 months: 12 % (48 EUR per position and year) more than the best age under a lognormal, 10 months',
    );
    const none = { ...opinion, lognormal: { ...under, costPerYear: 400, aboveLeast: 0 } };
    expect(rowsOf(text(withFirst({ secondOpinion: none })))[0]).toContain('least cost under a lognormal too');
    expect(rowsOf(text(withFirst({ secondOpinion: { ...opinion, lognormal: null } })))[0]).toContain(
      'no price or no position',
    );
  });

  it('names the law that suits better only where that is clear', () => {
    const words = (aicDifference: number, preferred = false): string =>
      rowsOf(text(withFirst({ secondOpinion: { ...opinion, aicDifference, preferred } }))).find((row) =>
        row.includes('EPDM DN 25, bioreactor'),
      ) ?? '';
    expect(words(7.25, true)).toContain('>lognormal (AIC lower by 7.3)');
    expect(words(7.25)).toContain('>cannot tell (lognormal AIC lower by 7.3)');
    expect(words(-6.5)).toContain('>Weibull (AIC lower by 6.5)');
    expect(words(-2)).toContain('>cannot tell (Weibull AIC lower by 2.0)');
    expect(words(-0.01)).toContain('>cannot tell (AIC the same)');
  });

  it('has misfits first, then groups that a lognormal suits better', () => {
    const groups = plan.groups.map((group, i) => {
      const { check } = group;
      if (i === 5) return { ...group, check: { ...check, verdict: 'does not fit' as const, p: 0.002 } };
      if (i === 2)
        return {
          ...group,
          check: { ...check, secondOpinion: { ...opinion, aicDifference: 9, preferred: true } },
        };
      return group;
    });
    const shown = text({ ...plan, groups });
    const rows = rowsOf(shown);
    expect(rows[0]).toContain('VMQ DN 15');
    expect(rows[0]).toContain('does not fit');
    expect(rows[1]).toContain('PTFE-faced EPDM DN 25');
    expect(shown).toContain('1 does not,');
    expect(shown).toContain('A lognormal suits 1 group clearly better.');
  });
});

it('shows the first hundred groups and says where the rest are', () => {
  const markup = text(manyGroupsPlan(130));
  expect(rowsOf(markup)).toHaveLength(100);
  expect(markup).toContain('first 100 of 130; all in plan.json');
});

it('takes hostile names for plain text', () => {
  const markup = text(hostilePlan());
  expect(markup).not.toMatch(/<(img|script|svg|b>EPDM)/i);
  expect(HOSTILE.some((name) => name.includes('<'))).toBe(true);
  expect(markup).toContain('&lt;');
});

it('is not there without groups', () => {
  expect(lawChecks(emptyPlan())).toBeNull();
});
