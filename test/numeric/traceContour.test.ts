/** Closed contours of smooth functions: a circle, a thin ellipse, a banana, and what has no end. */
import { describe, expect, it } from 'vitest';
import { type Place, traceContour } from '../../lib/numeric/traceContour.js';

/** Area within, by the shoelace formula. */
function area(places: readonly Place[]): number {
  return places.slice(1).reduce((all, [x, y], i) => {
    const [a, b] = places[i] as Place;
    return all + (a * y - x * b) / 2;
  }, 0);
}

describe('traceContour', () => {
  it('follows a circle anticlockwise, each place on it', () => {
    const traced = traceContour((x, y) => -0.5 * (x * x + y * y), -0.5, 1);
    expect(traced.closed).toBe(true);
    for (const [x, y] of traced.places) expect(Math.hypot(x, y)).toBeCloseTo(1, 9);
    expect(area(traced.places)).toBeGreaterThan(0.99 * Math.PI);
    expect(traced.furthest((x, y) => 0.6 * x + 0.8 * y)).toBeCloseTo(1, 9);
  });

  it('follows an ellipse forty times as long as wide, and finds its ends', () => {
    const traced = traceContour((x, y) => -(x * x) / 400 - 4 * y * y, -1, 5);
    expect(traced.closed).toBe(true);
    expect(traced.furthest((x) => x)).toBeCloseTo(20, 7);
    expect(traced.furthest((_, y) => -y)).toBeCloseTo(0.5, 7);
    expect(Math.abs(area(traced.places) / (Math.PI * 10) - 1)).toBeLessThan(5e-3);
  });

  it('follows a banana that a ray from its middle would cross more than once', () => {
    // Within y = x squared plus or minus 0.1 the ray to (2, 2.6) leaves and comes back; the area is that of the straightened ellipse.
    const banana = (x: number, y: number): number => -(x * x) / 4 - ((y - x * x) / 0.3) ** 2;
    const traced = traceContour(banana, -1, 0.5);
    expect(traced.closed).toBe(true);
    expect(Math.abs(area(traced.places) / (Math.PI * 0.6) - 1)).toBeLessThan(5e-3);
    expect(traced.furthest((x) => x)).toBeCloseTo(2, 7);
    const reach = 0.9 * 1.7;
    expect(banana(0.5, 1.3 * 0.5)).toBeLessThan(-1);
    expect(banana(reach, reach * reach)).toBeGreaterThan(-1);
  });

  it('says so where the function never falls, or the line runs away', () => {
    expect(traceContour(() => 0, -1, 1).closed).toBe(false);
    const ridge = traceContour((x, y) => -Math.abs(x) - Math.exp(-Math.abs(y)) * y * y, -1, 1);
    expect(ridge.closed).toBe(false);
    expect(ridge.reason.length).toBeGreaterThan(10);
  });
});
