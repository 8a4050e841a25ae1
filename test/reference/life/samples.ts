/** Samples of the published cases. */
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';

/** Exact failures and right-censored ages. */
export function sampleOf(
  age: readonly number[],
  failed: readonly number[],
  entry?: readonly number[],
): LifeSample {
  const columns = { lower: age, upper: age.map((t, i) => (failed[i] === 1 ? t : Infinity)) };
  return lifeSample(entry === undefined ? columns : { ...columns, entry });
}

interface Data {
  failures?: number[];
  censored?: number[];
  millionRevs?: number[];
  km?: number[];
  failed?: number[];
  hours?: number[];
  status?: number[];
}

export function sampleOfCase(data: Data): LifeSample {
  if (data.failures !== undefined) {
    const { failures, censored = [] } = data;
    return sampleOf([...failures, ...censored], [...failures.map(() => 1), ...censored.map(() => 0)]);
  }
  if (data.millionRevs !== undefined)
    return sampleOf(
      data.millionRevs,
      data.millionRevs.map(() => 1),
    );
  return sampleOf(data.km ?? data.hours ?? [], data.failed ?? data.status ?? []);
}

/** Relative distance. */
export function apart(a: number, b: number): number {
  return Math.abs(a - b) / Math.max(Math.abs(b), 1e-300);
}
