/** What is unpacked in pieces is what the system's own unpacker gives, and damage is not let pass. */
import { gunzipSync, gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { gunzipped } from '../../../lib/fleet/stream/gunzip.js';
import { cutAt } from './cut.js';

const ONE = gzipSync('position,material\n'.repeat(50));
const TWO = Buffer.concat([ONE, gzipSync('V1,EPDM\n')]);

function unpacked(bytes: Uint8Array, places: readonly number[]): string | null {
  try {
    return Buffer.concat([...gunzipped(cutAt(bytes, places).pieces())]).toString();
  } catch {
    return null;
  }
}

describe('a packed file in pieces', () => {
  it('of one part or two is the whole, wherever a piece ends', () => {
    for (const bytes of [ONE, TWO]) {
      const whole = gunzipSync(bytes).toString();
      for (let place = 0; place < bytes.length; place++) expect(unpacked(bytes, [place])).toBe(whole);
      expect(unpacked(bytes, [...bytes.keys()])).toBe(whole);
    }
  });

  it('is refused where any byte of its data or sums is another, or it ends early', () => {
    const whole = gunzipSync(ONE).toString();
    for (let place = 10; place < ONE.length; place++) {
      const damaged = Uint8Array.from(ONE);
      damaged[place] = (damaged[place] ?? 0) ^ 0x41;
      const text = unpacked(damaged, [place]);
      expect(text === null || text === whole).toBe(true);
      expect(unpacked(ONE.subarray(0, place), [5])).toBeNull();
    }
    const other = Uint8Array.from(ONE);
    other[ONE.length - 5] = (other[ONE.length - 5] ?? 0) ^ 1;
    expect(unpacked(other, [])).toBeNull();
  });
});
