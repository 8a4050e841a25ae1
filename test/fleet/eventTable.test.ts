import { describe, expect, it } from 'vitest';
import { type EventMeaning, eventTableMarkdown, lifeEvent } from '../../lib/fleet/eventTable.js';
import { FINDINGS_AT_REMOVAL, REASONS } from '../../lib/fleet/types.js';

/**
 * Written by hand from the rules: F failed at removal, B failed by removal, S still sound (right-censored),
 * C condition, U unknown reason, - set aside. Columns: sound worn cracked torn swollen creased hardened unknown.
 */
const LEAK = `
leak        F F F F F F F F
failed_test F F F F F F F F
condition   C C C C C C C C
scheduled   S S S S S S S S
opened      S S S S S S S S
retired     S S S S S S S S
unknown     U U U U U U U U`;

const DAMAGE = `
leak        F F F F F F F F
failed_test F F F F F F F F
condition   S S B B B S B -
scheduled   S S B B B S B -
opened      S S B B B S B -
retired     S S B B B S B -
unknown     S S B B B S B -`;

const MEANINGS: Record<string, EventMeaning> = {
  F: 'failed at removal',
  B: 'failed by removal',
  S: 'right-censored',
  C: 'condition',
  U: 'unknown reason',
  '-': 'set aside',
};

function expected(table: string): Map<string, EventMeaning | undefined> {
  const cells = table
    .trim()
    .split('\n')
    .map((line) => line.split(/\s+/));
  return new Map(
    cells.flatMap(([reason, ...letters]) =>
      FINDINGS_AT_REMOVAL.map((finding, i) => [`${reason}/${finding}`, MEANINGS[letters[i] ?? '']] as const),
    ),
  );
}

describe('lifeEvent', () => {
  it.each([
    ['leak', LEAK],
    ['damage', DAMAGE],
  ] as const)('means what the table says for event %s, in all %s combinations', (event, table) => {
    const meaning = expected(table);
    expect(meaning.size).toBe(REASONS.length * FINDINGS_AT_REMOVAL.length);
    for (const reason of REASONS) {
      for (const finding of FINDINGS_AT_REMOVAL) {
        const key = `${reason}/${finding}`;
        expect(lifeEvent(reason, finding, event).meaning, key).toBe(meaning.get(key));
        expect(lifeEvent(reason, finding, event).fittingFault, key).toBe(finding === 'creased');
      }
    }
  });

  it('lets the site say what is damage', () => {
    expect(lifeEvent('scheduled', 'worn', 'damage', ['worn']).meaning).toBe('failed by removal');
    expect(lifeEvent('scheduled', 'torn', 'damage', ['worn']).meaning).toBe('right-censored');
    expect(lifeEvent('scheduled', 'torn', 'leak', ['torn']).meaning).toBe('right-censored');
  });

  it('prints one row per combination for the documentation', () => {
    const lines = eventTableMarkdown().trim().split('\n');
    expect(lines).toHaveLength(2 + REASONS.length * FINDINGS_AT_REMOVAL.length);
    expect(lines).toContain('| scheduled | torn | right-censored | failed in (0, removal] |');
    expect(lines).toContain(
      '| leak | creased | failed at removal; points to a fitting fault | failed at removal; points to a fitting fault |',
    );
  });
});
