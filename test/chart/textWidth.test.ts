import { describe, expect, it } from 'vitest';
import { spread } from '../../lib/chart/frame.js';
import { hatching } from '../../lib/chart/hatching.js';
import { fitText, textWidth, wrapText } from '../../lib/chart/textWidth.js';

describe('textWidth', () => {
  it('adds up the published advance widths of Arial: 569 for a space, 1139 for a digit, 1366 for A', () => {
    expect(textWidth('A 1', 2048)).toBe(1366 + 569 + 1139);
    expect(textWidth('A', 2048, true)).toBe(1479);
    expect(textWidth('漢', 20)).toBe(20);
    expect(textWidth('e\u0301', 2048)).toBe(textWidth('e', 2048));
  });

  it('cuts and wraps to the width given', () => {
    const long = 'x'.repeat(500);
    expect(textWidth(fitText(long, 100, 11), 11)).toBeLessThanOrEqual(100);
    expect(fitText('short', 100, 11)).toBe('short');
    const lines = wrapText(`one two three ${long}`, 60, 11);
    expect(lines.length).toBeGreaterThan(2);
    for (const line of lines) expect(textWidth(line, 11)).toBeLessThanOrEqual(60);
  });
});

describe('spread', () => {
  it('moves labels apart and leaves those alone that are', () => {
    expect(spread([10, 100], 15, 0, 200)).toEqual([10, 100]);
    const [a = 0, b = 0] = spread([50, 52], 15, 0, 200);
    expect(Math.abs(a - b)).toBeGreaterThanOrEqual(15);
    expect(spread([198, 199], 15, 0, 200)).toEqual([185, 200]);
  });
});

describe('hatching', () => {
  it('keeps every line inside the rectangle and at 45 degrees', () => {
    const lines = hatching({ x: [10, 20], y: [0, 500] }, { x: 8, y: 0.4 }, 9);
    expect(lines.length).toBeGreaterThan(10);
    for (const { x, y, x2, y2 } of lines) {
      expect(x).toBeGreaterThanOrEqual(10);
      expect(x2).toBeLessThanOrEqual(20);
      expect(y).toBeGreaterThanOrEqual(0);
      expect(y2).toBeLessThanOrEqual(500);
      expect((x2 - x) * 8).toBeCloseTo((y2 - y) * 0.4, 1);
    }
  });
});
