/** Names of classes of use. */
import { describe, expect, it } from 'vitest';
import { useNames } from '../../../lib/group/byUse/useNames.js';
import type { GroupUse } from '../../../lib/group/types.js';

const use = (counter: GroupUse['counter'], least: number, most: number): GroupUse => ({
  of: 'EPDM DN 25',
  clock: counter,
  perDay: least,
  weight: null,
  counter,
  rates: [least, most],
});

describe('names of classes of use', () => {
  it('say how much, in the unit that people count in', () => {
    expect(
      useNames('EPDM DN 25', [use('steam cycles', 10 / 7, 2), use('strokes', 120, 180), undefined]),
    ).toEqual([
      'EPDM DN 25, 10 to 14 steam cycles a week',
      'EPDM DN 25, 120 to 180 strokes a day',
      'EPDM DN 25, use not known',
    ]);
  });

  it('are the name of the group where it is one class', () => {
    expect(useNames('EPDM DN 25', [use('strokes', 1, 1)])).toEqual(['EPDM DN 25']);
  });

  it('take as many digits as it needs to tell them apart', () => {
    const names = useNames('EPDM DN 25', [use('strokes', 100.1, 100.2), use('strokes', 100.4, 100.4)]);
    expect(new Set(names).size).toBe(2);
    expect(names[1]).toBe('EPDM DN 25, 100.4 strokes a day');
  });
});
