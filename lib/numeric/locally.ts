/** A function of a few variables of order one round a point: value, slopes and curvatures by central differences. */

/** Value, slopes and curvatures (row by row) of a function at a point. */
export interface Local {
  value: number;
  slope: number[];
  bend: number[];
}

/** What is known of a function round a point; null where it or a neighbour has no value. */
export type Locally = (x: readonly number[]) => Local | null;

/** Slopes are good to the fourth power of `apart`, curvatures to its square. */
export function locally(f: (x: readonly number[]) => number, apart: number): Locally {
  return (x) => localOf(f, x, apart);
}

function localOf(f: (x: readonly number[]) => number, x: readonly number[], h: number): Local | null {
  const size = x.length;
  const value = f(x);
  const near = x.map((_, i) => [-2, -1, 1, 2].map((k) => f(moved(x, [i], k * h))));
  const value4 = (i: number): [number, number, number, number] => near[i] as [number, number, number, number];
  const slope = x.map((_, i) => {
    const [a, b, c, d] = value4(i);
    return (a - 8 * b + 8 * c - d) / (12 * h);
  });
  const bend = new Array<number>(size * size).fill(0);
  for (let i = 0; i < size; i++) {
    const [a, b, c, d] = value4(i);
    bend[i * size + i] = (-a + 16 * b - 30 * value + 16 * c - d) / (12 * h * h);
    for (let j = 0; j < i; j++) {
      const [, e, g] = value4(j);
      const both = f(moved(x, [i, j], h)) + f(moved(x, [i, j], -h));
      const mixed = (both - b - c - e - g + 2 * value) / (2 * h * h);
      bend[i * size + j] = mixed;
      bend[j * size + i] = mixed;
    }
  }
  return [value, ...slope, ...bend].every(Number.isFinite) ? { value, slope, bend } : null;
}

function moved(x: readonly number[], axes: readonly number[], by: number): number[] {
  return x.map((y, i) => (axes.includes(i) ? y + by : y));
}
