/** Files that came to harm never break the reading: a longer run is in test/calibrate. */
import { describe, expect, it } from 'vitest';
import { fuzzFolders } from './folders.js';
import { runFuzz } from './runFuzz.js';

describe('folders whose files came to harm', () => {
  it('start from folders of every kind', () => {
    const names = fuzzFolders().map((folder) => [...folder.keys()].sort().join());
    expect(names.filter((name) => name.includes('work-orders.csv')).length).toBeGreaterThanOrEqual(2);
    expect(names.some((name) => name.includes('.xlsx'))).toBe(true);
    expect(names.length).toBeGreaterThan(12);
  });

  it('are refused with a reason, or read with rows that add up; no prototype is altered', () => {
    const { broken, read, refused, slowest } = runFuzz(2026, 300);
    expect(broken).toEqual([]);
    expect(read + refused).toBe(300);
    expect(read).toBeGreaterThan(80);
    expect(refused).toBeGreaterThan(80);
    expect(slowest).toBeLessThan(20);
  });
});
