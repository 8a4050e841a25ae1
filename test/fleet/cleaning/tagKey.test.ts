import { describe, expect, it } from 'vitest';
import { tagKey } from '../../../lib/fleet/cleaning/tagKey.js';

describe('tagKey', () => {
  it.each([
    ['V-0017', 'v-17'],
    ['0017', '17'],
    ['000', '0'],
    [' BR2 - V104 ', 'br2-v104'],
    ['BR2\u00a0V104', 'br2v104'],
    ['BR2\u2011V\u00ad104\ufeff', 'br2-v104'],
    ['V\t17', 'v17'],
    ['\uff36\uff11\uff17', 'v17'],
    ['V 1 7', 'v1 7'],
    ['V1\u20137', 'v1-7'],
  ])('of %j is %j', (tag, key) => {
    expect(tagKey(tag)).toBe(key);
  });

  it('keeps apart what may be two valves', () => {
    expect(tagKey('V1 7')).not.toBe(tagKey('V17'));
    expect(tagKey('V1-7')).not.toBe(tagKey('V17'));
    expect(tagKey('V10')).not.toBe(tagKey('V1'));
    expect(tagKey('V1.0')).not.toBe(tagKey('V10'));
  });
});
