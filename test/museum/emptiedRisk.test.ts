/** The first failure left nobody under watch; later lives failed of another mode, whose incidence stayed 0. */
import { expect, it } from 'vitest';
import { cumulativeIncidence } from '../../lib/life/empirical/cumulativeIncidence.js';
import { lifeSample } from '../../lib/life/sample.js';

it('a mode that nobody was left to fail by has an incidence of 0 and bounds that say nothing', () => {
  // The width of the bounds is over p log p, and 0 over 0 was no number.
  const sample = lifeSample({
    lower: [2, 6, 4, 1, 2, 5, 2],
    upper: [2, 6, 4, 1, 2, Infinity, Infinity],
    entry: [1, 2, 3, 0, 1, 1, 1],
  });
  const { modes } = cumulativeIncidence(sample, [1, 2, 2, 1, 2, 0, 0]);
  const second = modes.find(({ mode }) => mode === 2);
  expect(Array.from(second?.incidence ?? [])).toEqual([0, 0, 0]);
  expect(Array.from(second?.low ?? [])).toEqual([0, 0, 0]);
  expect(Array.from(second?.high ?? [])).toEqual([1, 1, 1]);
});
