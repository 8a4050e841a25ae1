/** Sheets for change control: which intervals get one, what is asked of their evidence, and that lengthening asks for more. */
import { describe, expect, it } from 'vitest';
import { groupCost } from '../../lib/cost/groupCost.js';
import type { Limit } from '../../lib/fleet/types.js';
import { isChange } from '../../lib/interval/adviceKind.js';
import { weighIntervals } from '../../lib/interval/advise.js';
import type { ChangeSheet } from '../../lib/interval/changeSheet.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import { type TestGroup, testPlant } from './fixtures.js';

const WEARS: TestGroup = {
  shape: 3,
  scale: 900,
  spread: [0.05, 0.05],
  failures: 30,
  lives: 200,
  todayDays: 730,
  supportedAge: 1200,
  ages: [10, 200, 300],
};

function sheetsOf(
  group: Partial<TestGroup>,
  limits: Limit[] = [],
): { changes: ChangeSheet[]; advice: IntervalAdvice } {
  const { fleet, grouped } = testPlant([{ ...WEARS, ...group }], { limits });
  const costs = grouped.groups.map((each) => groupCost(fleet, each));
  const { changes, intervals } = weighIntervals(fleet, grouped, costs);
  return { changes, advice: intervals[0] as IntervalAdvice };
}

const asked = (sheet: ChangeSheet | undefined, start: string): ChangeSheet['evidence'][number] | undefined =>
  sheet?.evidence.find(({ what }) => what.startsWith(start));

describe('change sheets', () => {
  it('come with an interval that gets shorter: old, new, positions, data, and all that was asked was met', () => {
    const { changes, advice } = sheetsOf({});
    expect(changes).toHaveLength(1);
    const sheet = changes[0] as ChangeSheet;
    expect(sheet).toMatchObject({
      kind: 'shorter',
      fromDays: 730,
      toDays: advice.days,
      because: advice.because,
    });
    expect(sheet.positions).toHaveLength(3);
    expect(sheet.data).toMatchObject({ lives: 200, leaks: 30, setAside: 0 });
    expect(asked(sheet, 'Wear-out leaks')).toMatchObject({ asked: '2 or more', found: '30', met: true });
    expect(sheet.evidence.filter(({ met }) => met === false)).toEqual([]);
    expect(asked(sheet, 'Lives still watched')).toBeUndefined();
    expect(asked(sheet, 'Maker’s limit')?.met).toBeNull();
  });

  it('ask for more where it gets longer', () => {
    const { changes } = sheetsOf({ todayDays: 120 });
    const sheet = changes[0] as ChangeSheet;
    expect(sheet.kind).toBe('longer');
    expect(asked(sheet, 'Wear-out leaks')?.asked).toBe('5 or more');
    expect(asked(sheet, 'Chance that it costs less than today')?.asked).toBe('above 90 %');
    expect(asked(sheet, 'Lives still watched')).toBeDefined();
    expect(asked(sheet, 'Leaks on record after 4 months')?.met).toBeNull();
    const shorter = sheetsOf({}).changes[0];
    expect(asked(shorter, 'Chance that it costs less than today')?.asked).toBe('above 80 %');
  });

  it('are not written where nothing changes', () => {
    const { advice } = sheetsOf({});
    expect(sheetsOf({ todayDays: advice.days }).changes).toEqual([]);
    expect(sheetsOf({ failures: 0, wearLeaks: 0 }).changes).toEqual([]);
  });

  it('name the limit that shortens what the records cannot judge, and ask for nothing else', () => {
    const limit: Limit = {
      material: 'EPDM',
      size: null,
      maxDays: 365,
      maxStrokes: null,
      maxSteamCycles: null,
    };
    const sheet = sheetsOf({ failures: 0, wearLeaks: 0 }, [limit]).changes[0] as ChangeSheet;
    expect(sheet).toMatchObject({ kind: 'shorter', fromDays: 730, toDays: 365 });
    expect(sheet.evidence.map(({ what, met }) => [what, met])).toEqual([['Maker’s limit', true]]);
    expect(sheet.limit).toEqual({ text: 'maker’s limit of 365 days', days: 365 });
  });

  it('come with a limit that gives a schedule to what had none, as the counts of changes have it', () => {
    const limit: Limit = {
      material: 'EPDM',
      size: null,
      maxDays: 365,
      maxSteamCycles: null,
      maxStrokes: null,
    };
    const { changes, advice } = sheetsOf({ failures: 0, wearLeaks: 0, todayDays: null }, [limit]);
    expect(isChange(advice)).toBe(true);
    expect(changes[0]).toMatchObject({ kind: 'first schedule', fromDays: null, toDays: 365 });
  });

  it('show why a schedule is given up', () => {
    const sheet = sheetsOf({ shape: 0.9, exceededShare: 0.3 }).changes[0] as ChangeSheet;
    expect(sheet).toMatchObject({ kind: 'no schedule', toDays: null });
    expect(asked(sheet, 'Does not wear out')).toMatchObject({ asked: 'below 1.2', met: true });
    expect(asked(sheet, 'Lives that got clearly older')?.found).toBe('30 %');
    expect(sheet.evidence.filter(({ met }) => met === false)).toEqual([]);
  });
});
