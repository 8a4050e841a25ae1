/** Diagonal hatching of a rectangle, as line segments in the units of the axes. */
import { fine } from './axes.js';

export interface Rectangle {
  x: [number, number];
  y: [number, number];
}

/** Lines at 45 degrees on the screen, `gap` px apart; `perUnit` is px per unit of each axis. */
export function hatching(
  area: Rectangle,
  perUnit: { x: number; y: number },
  gap: number,
): { x: number; y: number; x2: number; y2: number }[] {
  const width = (area.x[1] - area.x[0]) * perUnit.x;
  const height = (area.y[1] - area.y[0]) * perUnit.y;
  const lines = [];
  for (let start = -height + gap; start < width; start += gap) {
    // The line y = x - start in px from the lower left corner, cut to the rectangle.
    const from = Math.max(0, start);
    const to = Math.min(width, start + height);
    if (to <= from) continue;
    lines.push({
      x: fine(area.x[0] + from / perUnit.x),
      y: fine(area.y[0] + (from - start) / perUnit.y),
      x2: fine(area.x[0] + to / perUnit.x),
      y2: fine(area.y[0] + (to - start) / perUnit.y),
    });
  }
  return lines;
}
