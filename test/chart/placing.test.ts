/** Names beside marks: the first free place, and inside where there is one. */
import { describe, expect, it } from 'vitest';
import { type Box, markBox, nameBox, placeName } from '../../lib/chart/placing.js';

const PLOT: Box = { left: 0, right: 300, top: 0, bottom: 200 };

describe('names beside marks', () => {
  it('stand right of and above their mark where nothing is in the way', () => {
    expect(placeName('today', [100, 100], [markBox(100, 100)], PLOT)).toEqual({
      align: 'left',
      dx: 9,
      dy: -9,
    });
  });

  it('go to the other side at the edge, and below where a name stands above', () => {
    expect(placeName('today', [290, 100], [], PLOT)).toMatchObject({ align: 'right', dy: -9 });
    const taken: Box[] = [];
    placeName('as advised', [100, 100], taken, PLOT);
    expect(placeName('today', [104, 101], taken, PLOT)).toMatchObject({ align: 'left', dy: 9 });
    expect(taken).toHaveLength(2);
  });

  it('never lie on each other while a place is free', () => {
    const taken: Box[] = [markBox(150, 100)];
    for (let i = 0; i < 4; i++) placeName('name', [150, 100], taken, PLOT);
    taken.forEach((a, i) => {
      for (const b of taken.slice(i + 1)) {
        const apart = a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
        expect(apart).toBe(true);
      }
    });
  });

  it('are as wide as Arial is', () => {
    const box = nameBox('as advised', 10, 20, { align: 'left', dx: 0, dy: 0 });
    // Advance widths of its letters, in thousandths of the size.
    expect(box.right - box.left).toBeCloseTo((11.5 * 4780) / 1000, 1);
    expect(nameBox('as advised', 10, 20, { align: 'left', dx: 0, dy: 0 }, true).right).toBeGreaterThan(
      box.right,
    );
  });
});
