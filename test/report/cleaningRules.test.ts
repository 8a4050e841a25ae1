import { describe, expect, it } from 'vitest';
import { amount } from '../../lib/chart/words.js';
import type { RuleCount, RuleExample } from '../../lib/findings.js';
import { rulesLine, rulesPart } from '../../lib/report/cleaningRules.js';

const rule = (name: string, found: number, on = true): RuleCount => ({
  rule: name,
  on,
  found,
  mended: 0,
  setAside: found,
  asked: 0,
  examples:
    found === 0 ? [] : [{ file: 'lives.csv', row: 7, column: 'fitted', value: '<b>', done: 'set aside' }],
});

const example = (row: number | null, value: string): RuleExample => ({
  file: 'lives.csv',
  row,
  column: null,
  value,
  done: 'mended',
});

describe('cleaning rules as readers see them', () => {
  const rules = [
    rule('overlaps', 1234),
    rule('sizes', 0),
    rule('gaps', 0, false),
    rule('removed_before_fitted', 2),
  ];

  it('are one line of those that found something, and those switched off', () => {
    expect(rulesLine(rules)).toBe(
      `Found by cleaning rules: overlaps ${amount(1234, 9)}, gaps off, removed before fitted 2`,
    );
    expect(rulesLine([rule('sizes', 0)])).toBeNull();
  });

  it('are a table with counts and examples, each name escaped', () => {
    const { markup } = rulesPart(rules) ?? { markup: '' };
    expect(markup).toContain('two diaphragms in one position at once');
    expect(markup).toContain(amount(1234, 9));
    expect(markup).toContain('gaps (off)');
    expect(markup).not.toContain('sizes');
    expect(markup).toContain('lives.csv row 7');
    expect(markup).not.toContain('<b>');
    expect(rulesPart([rule('sizes', 0)])).toBeNull();
  });

  it('name a value where no row is meant, escaped', () => {
    const built = { ...rule('missing_lives', 1), examples: [example(null, '<i>'), example(null, 'V2')] };
    expect(rulesPart([built])?.markup).toContain('lives.csv: <bdi>&lt;i&gt;</bdi>, <bdi>V2</bdi>');
    const rows = { ...rule('overlaps', 2), examples: [example(5, 'x'), example(9, 'y')] };
    expect(rulesPart([rows])?.markup).toContain('lives.csv rows 5, 9');
  });
});
