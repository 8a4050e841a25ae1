/**
 * Likelihood regions of shape and scale against likelihoodRegion.R, which walks no contour: it finds the rim at each shape by a search of the
 * profile likelihood in base R. Ends agree to 1e-6 (R's searches end there; a top is only good to 1e-6 as it is flat), the places on the rim
 * to 2e-3 of the region's width and height, the sag of straight lines between the places traced, and the area to 3e-3 for the same reason.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fitLife } from '../../../../lib/life/estimate/fit.js';
import { type LikelihoodContour, likelihoodRegion } from '../../../../lib/life/estimate/likelihoodRegion.js';
import { lifeSample } from '../../../../lib/life/sample.js';

interface Case {
  rows: [age: number, failed: number, count: number, entry: number][];
  fault: [number, number] | null;
  shape: number;
  scale: number;
  regions: {
    level: number;
    shape: [number, number];
    scale: [number, number];
    area: number;
    rim: { shape: number; scale: [number, number] }[];
  }[];
}

const CASES = JSON.parse(readFileSync(new URL('likelihoodRegion.json', import.meta.url), 'utf8')) as Record<
  string,
  Case
>;
const ENDS = 1e-6;
const SAG = 2e-3;
const AREA = 3e-3;

function regionOf({ rows, fault }: Case) {
  const column = (of: (row: Case['rows'][number]) => number): Float64Array => Float64Array.from(rows, of);
  const sample = lifeSample({
    lower: column(([age]) => age),
    upper: column(([age, failed]) => (failed === 1 ? age : Infinity)),
    count: column(([, , count]) => count),
    entry: column(([, , , entry]) => entry),
  });
  const law = fault === null ? {} : { fault: { shape: fault[0], scale: fault[1] } };
  return likelihoodRegion(fitLife(sample, { kind: 'weibull', ...law }));
}

/** Area within the polygon on log axes. */
function areaOf({ shape, scale }: LikelihoodContour): number {
  const [x, y] = [shape.map(Math.log), scale.map(Math.log)];
  const twice = x.slice(1).reduce((all, next, i) => {
    return all + (x[i] ?? 0) * (y[i + 1] ?? 0) - next * (y[i] ?? 0);
  }, 0);
  return twice / 2;
}

/** How far a pair lies from the polygon, in widths and heights of the region on log axes. */
function distance(
  { shape, scale, shapeRange, scaleRange }: LikelihoodContour,
  pair: [number, number],
): number {
  const [width, height] = [Math.log(shapeRange[1] / shapeRange[0]), Math.log(scaleRange[1] / scaleRange[0])];
  const place = (b: number, e: number): [number, number] => [Math.log(b) / width, Math.log(e) / height];
  const [x, y] = place(...pair);
  const corners = shape.map((each, i) => place(each, scale[i] ?? 0));
  const apart = corners.slice(1).map(([x1, y1], i) => {
    const [x0, y0] = corners[i] as [number, number];
    const [dx, dy] = [x1 - x0, y1 - y0];
    const part = ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy);
    const on = Math.min(1, Math.max(0, part));
    return Math.hypot(x - x0 - on * dx, y - y0 - on * dy);
  });
  return Math.min(...apart);
}

const off = (value: number, truth: number): number => Math.abs(value / truth - 1);

describe.each(Object.entries(CASES))('likelihood regions of %s as by R', (_name, known) => {
  const region = regionOf(known);

  it('have the same top', () => {
    expect(off(region.shape, known.shape)).toBeLessThan(ENDS);
    expect(off(region.scale, known.scale)).toBeLessThan(ENDS);
  });

  it.each(known.regions.map((each, i) => [each.level, each, i] as const))('at %s', (_level, each, i) => {
    const contour = region.contours[i] as LikelihoodContour;
    each.shape.forEach((end, k) => {
      expect(off(contour.shapeRange[k] ?? 0, end)).toBeLessThan(ENDS);
    });
    each.scale.forEach((end, k) => {
      expect(off(contour.scaleRange[k] ?? 0, end)).toBeLessThan(ENDS);
    });
    expect(off(areaOf(contour), each.area)).toBeLessThan(AREA);
    for (const { shape, scale } of each.rim) {
      for (const end of scale) expect(distance(contour, [shape, end])).toBeLessThan(SAG);
    }
  });
});
