/**
 * Fits of the same lives here and by R's survreg, one after the other in one run, so that both see the same machine: the ratio of the
 * times is what counts. Least of several runs each, on both sides, by the clock and by the processor (all threads, the compiler's
 * too): on a machine that does other work the latter is the truer of the two. The regression comes first, so that its first call is
 * that of a fresh process.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { lifeBounds } from '../../lib/life/estimate/bounds/bounds.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { fitRegression } from '../../lib/life/estimate/regression/fitRegression.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { randomStream } from '../../lib/numeric/random.js';

interface Contest {
  name: string;
  what: string;
  /** What R is timed on. */
  against: string;
  sample: LifeSample;
  /** Further columns that R needs. */
  more?: Readonly<Record<string, Float64Array>>;
  run(sample: LifeSample): unknown;
}

const SCRIPT = fileURLToPath(new URL('./againstR.R', import.meta.url));
const MILLION = 1_000_000;
const RUNS = 9;

/** Weibull lives replaced at ages spread evenly from 200 to 1400. */
function lives(count: number, report: (age: number) => number): LifeSample {
  const random = randomStream(13, `lives for R, ${count}`);
  const lower = new Float64Array(count);
  const upper = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const life = report(900 * (-Math.log(random.uniform())) ** (1 / 2.5));
    const replaced = report(200 + 1200 * random.uniform());
    lower[i] = Math.min(life, replaced);
    upper[i] = life <= replaced ? life : Infinity;
  }
  return lifeSample({ lower, upper });
}

const LEVELS = 40;

/** Lives of 40 lines at temperatures of their own. */
function regression(count: number): Contest {
  const random = randomStream(14, 'regression for R');
  const level = Float64Array.from({ length: count }, () => random.below(LEVELS));
  const temperature = level.map(() => 80 + 40 * random.uniform());
  const line = Array.from(level, (k) => `line ${String(k).padStart(2, '0')}`);
  const life = level.map(
    (k, i) =>
      900 *
      Math.exp(0.02 * k - 0.01 * ((temperature[i] as number) - 100)) *
      (-Math.log(random.uniform())) ** (1 / 2.5),
  );
  const replaced = life.map(() => 200 + 1200 * random.uniform());
  const lower = life.map((age, i) => Math.min(age, replaced[i] as number));
  const upper = life.map((age, i) => (age <= (replaced[i] as number) ? age : Infinity));
  return {
    name: 'regression',
    what: '100 000 lives of distinct ages on a factor of 40 levels and a number',
    against: 'fit',
    sample: lifeSample({ lower, upper }),
    more: { level, temperature },
    run: (sample) => fitRegression(sample, { line, temperature }, { kind: 'weibull' }),
  };
}

/** Each is made when its turn comes: the lives of the others in memory slow a first call down. */
function contests(): (() => Contest)[] {
  return [
    () => regression(100_000),
    () => ({
      name: 'days',
      what: 'a million lives in whole days: fit and likelihood bound of the shape',
      against: 'fit alone',
      sample: lives(MILLION, Math.ceil),
      run: (sample) =>
        lifeBounds(fitLife(sample, { kind: 'weibull' }), { of: 'shape', method: 'likelihood' }),
    }),
    () => ({
      name: 'seconds',
      what: 'a million lives of distinct ages: fit and covariance',
      against: 'fit',
      sample: lives(MILLION, (age) => age),
      run: (sample) => fitLife(sample, { kind: 'weibull' }),
    }),
    () => ({
      name: 'few',
      what: '1000 bootstrap fits of 500 lives',
      against: 'as many fits',
      sample: lives(500, (age) => age),
      run: (sample) =>
        lifeBounds(fitLife(sample, { kind: 'weibull' }), { of: 'shape', method: 'bootstrap', draws: 1000 }),
    }),
  ];
}

interface Seconds {
  clock: number;
  processor: number;
}

interface Times {
  first: Seconds;
  least: Seconds;
}

function timed(run: () => unknown): Seconds {
  const start = performance.now();
  const before = process.cpuUsage();
  run();
  const { user, system } = process.cpuUsage(before);
  return { clock: (performance.now() - start) / 1000, processor: (user + system) / 1e6 };
}

/** A new object of the same columns each time, so that nothing known of an earlier one helps. */
function timesOf({ sample, run }: Contest): Times {
  const all = Array.from({ length: RUNS }, () => timed(() => run({ ...sample })));
  const [first = { clock: Number.NaN, processor: Number.NaN }] = all;
  const leastOf = (name: keyof Seconds): number => Math.min(...all.map((seconds) => seconds[name]));
  return { first, least: { clock: leastOf('clock'), processor: leastOf('processor') } };
}

/** Seconds that R took, by name. Throws where R or its package survival is missing. */
function secondsOfR(all: readonly Contest[]): Map<string, Seconds> {
  const folder = mkdtempSync(join(tmpdir(), 'weirwise-bench-'));
  try {
    for (const { name, sample, more = {} } of all) {
      writeFileSync(join(folder, `${name}.time`), sample.lower);
      const failed = sample.upper.map((upper) => (upper === Infinity ? 0 : 1));
      writeFileSync(join(folder, `${name}.failed`), failed);
      for (const [column, values] of Object.entries(more)) {
        writeFileSync(join(folder, `${name}.${column}`), values);
      }
    }
    const said = execFileSync('Rscript', ['--vanilla', SCRIPT, folder], { encoding: 'utf8' });
    const lines = said.trim().split('\n');
    return new Map(
      lines
        .map((line) => line.trim().split(' '))
        .map(([name, clock, processor]) => [
          name ?? '',
          { clock: Number(clock), processor: Number(processor) },
        ]),
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** A line per contest. */
export function againstR(): string[] {
  const tried = contests().map((make) => {
    const contest = make();
    return { contest, own: timesOf(contest) };
  });
  const all = tried.map(({ contest }) => contest);
  let theirs: Map<string, Seconds>;
  try {
    theirs = secondsOfR(all);
  } catch {
    return ['R with its package survival is not here, so nothing is compared with it.'];
  }
  return tried.map(({ contest: { name, what, against }, own }) =>
    lineOf(what, against, own, theirs.get(name)),
  );
}

function lineOf(what: string, against: string, own: Times, theirs: Seconds | undefined): string {
  if (theirs === undefined) return `${what}: no times.`;
  const { first, least } = own;
  const times = (here: Seconds): string => {
    const ratio = (name: keyof Seconds): string => (theirs[name] / here[name]).toFixed(0);
    return `${ratio('clock')} by the clock, ${ratio('processor')} by the processor`;
  };
  return `${what}: ${least.clock.toFixed(3)} s, survreg (${against}) ${theirs.clock.toFixed(2)} s, times as long: ${times(least)} (first call: ${times(first)})`;
}
