/** Groups fitted together through the public door: a case with exact values, laws, and what is refused. */
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { poolSamples, type SampleGroup } from '../../lib/life/estimate/poolSamples.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { randomStream } from '../../lib/numeric/random.js';

/** Failures all at one age: at shape 2 only their number and the sum of squares count. */
function sampleOf(failures: number, squares: number): LifeSample {
  const age = Math.sqrt(squares / Math.max(failures, 1));
  return failures === 0
    ? lifeSample({ lower: [age], upper: [Infinity] })
    : lifeSample({ lower: [age], upper: [age], count: [failures] });
}

function simulated(
  scale: number,
  lives: number,
  replacedAt: number,
  { seed, unit = 1 }: { seed: number; unit?: number },
): LifeSample {
  const random = randomStream(seed, 'pooled lives');
  const ages = Array.from({ length: lives }, () => scale * (-Math.log(random.uniform())) ** (1 / 3));
  return lifeSample({
    lower: ages.map((age) => unit * Math.min(age, replacedAt)),
    upper: ages.map((age) => (age < replacedAt ? unit * age : Infinity)),
  });
}

const plant = (unit: number): SampleGroup[] => [
  { name: 'many failures', sample: simulated(900, 80, 800, { seed: 1, unit }) },
  { name: 'some', sample: simulated(1200, 40, 800, { seed: 2, unit }) },
  { name: 'many, shorter', sample: simulated(700, 60, 600, { seed: 3, unit }) },
  { name: 'none', sample: simulated(900, 5, 200, { seed: 4, unit }) },
];

describe('six groups with shape 2, by quadrature (pooling/knownCase.py)', () => {
  const cases = [
    [9, 4.0e6, 572.5358644916417, 727.1924641998052, 930.107921904714],
    [4, 2.2e6, 587.090192138787, 773.3661603760241, 1071.6531715732026],
    [2, 3.0e6, 673.1981204857383, 890.5676959557014, 1418.525587474269],
    [0, 1.5e6, 660.8631546499561, 902.2341614382387, 1700.6362319027214],
    [1, 0.3e6, 496.67758819276406, 758.5625377985068, 1170.005009259456],
    [6, 1.6e6, 473.607838596875, 673.8113342351757, 903.1618088930345],
  ] as const;
  const { groups, effectiveSize } = poolSamples(
    cases.map(([failures, squares], g) => ({ name: `group ${g}`, sample: sampleOf(failures, squares) })),
    { shape: 2, priors: { betweenScale: 0.25 } },
  );

  it.each(cases.map((expected, g) => ({ g, expected })))('group $g', ({ g, expected }) => {
    const [failures, , low, median, high] = expected;
    const { scale, failures: counted } = groups[g] as (typeof groups)[0];
    // Four standard errors of the quantiles of a normal log scale from so many effective draws.
    const sd = Math.log(high / low) / 3.29;
    const room = (p: number, density: number): number =>
      (4 * sd * Math.sqrt((p * (1 - p)) / effectiveSize)) / density;
    expect(counted).toBe(failures);
    expect(Math.abs(Math.log(scale.estimate / median))).toBeLessThan(room(0.5, 0.399));
    expect(Math.abs(Math.log(scale.low / low))).toBeLessThan(room(0.05, 0.103));
    // The upper tail of a group without failures is longer than a normal one.
    expect(Math.abs(Math.log(scale.high / high))).toBeLessThan(2 * room(0.05, 0.103));
  });
});

describe('four groups of one kind', () => {
  const result = poolSamples(plant(1));
  const group = (name: string) =>
    result.groups.find((each) => each.name === name) as (typeof result.groups)[0];

  it('leave a group with many failures near its own fit, and let one without any borrow', () => {
    const own = fitLife((plant(1)[0] as SampleGroup).sample, { kind: 'weibull' });
    if (own.model.kind !== 'weibull') throw new Error('no Weibull');
    const { scale, borrowed } = group('many failures');
    expect(scale.low).toBeLessThan(own.model.scale);
    expect(scale.high).toBeGreaterThan(own.model.scale);
    expect(borrowed).toBeLessThan(0.3);
    expect(group('none').borrowed).toBeGreaterThan(0.8);
    expect(group('some').borrowed).toBeGreaterThan(borrowed);
  });

  it('predict a new group more widely than any that has been seen', () => {
    const width = ({ low, high }: { low: number; high: number }): number => Math.log(high / low);
    for (const each of result.groups) expect(width(result.newGroup.scale)).toBeGreaterThan(width(each.scale));
  });

  it('say what other priors of the spread would make of them: alike groups lend more', () => {
    const [narrow, wide] = result.otherSpreads.map(({ scale }) => scale[3] as (typeof scale)[0]);
    if (narrow === undefined || wide === undefined) throw new Error('no other priors');
    expect(result.otherSpreads.map(({ spread }) => spread)).toEqual([0.25, 1]);
    const base = group('none').scale;
    expect(narrow.high / narrow.low).toBeLessThan(base.high / base.low);
    expect(wide.high / wide.low).toBeGreaterThan(base.high / base.low);
  });

  it.each([1e-9, 1e12])('scale with the unit of age, here %s', (unit) => {
    const other = poolSamples(plant(unit));
    other.groups.forEach(({ scale, shape }, g) => {
      const same = result.groups[g] as (typeof result.groups)[0];
      expect(scale.high / unit / same.scale.high).toBeCloseTo(1, 9);
      expect(shape.low / same.shape.low).toBeCloseTo(1, 9);
    });
  });

  it('draw the same for the same seed, and otherwise for another', () => {
    const draws = (seed: number) =>
      Array.from(poolSamples(plant(1), { seed, draws: 50 }).newGroup.draws.scale);
    expect(draws(3)).toEqual(draws(3));
    expect(draws(3)).not.toEqual(draws(4));
  });
});

describe('refusals', () => {
  const sound = lifeSample({ lower: [100, 200], upper: [Infinity, Infinity] });
  const failed = lifeSample({ lower: [100, 200], upper: [100, 200] });
  it.each([
    ['give at least one group', [], {}],
    ['no group has a failure', [{ name: 'a', sample: sound }], {}],
    [
      'a name of its own',
      [
        { name: 'a', sample: failed },
        { name: 'a', sample: failed },
      ],
      {},
    ],
    ['size of a must be above 0', [{ name: 'a', sample: failed, size: 0 }], {}],
    [
      'give all ages in one unit',
      [
        { name: 'a', sample: failed },
        { name: 'b', sample: lifeSample({ lower: [1e9], upper: [1e9] }) },
      ],
      {},
    ],
    ['level must be between', [{ name: 'a', sample: failed }], { level: 1 }],
    ['draws must be a whole number', [{ name: 'a', sample: failed }], { draws: 3 }],
    ['shape must be above 0', [{ name: 'a', sample: failed }], { shape: -1 }],
  ])('%s', (message, groups, options) => {
    expect(() => poolSamples(groups, options)).toThrow(UsageError);
    expect(() => poolSamples(groups, options)).toThrow(message);
  });
});
