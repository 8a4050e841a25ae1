/**
 * How long the work takes: `npm run bench` prints a table. Each case is run a few times on inputs made from a fixed seed;
 * the time shown is the median. Processor time is shown too: on a machine that does other work it is the truer of the two.
 */
import { rmSync } from 'node:fs';
import { againstR } from './againstR.js';
import { benchCases } from './cases.js';
import { largeFolder } from './inputs.js';

export interface BenchCase {
  name: string;
  /** How much it works on, for the rate: 130 000 lives ... */
  amount: number;
  unit: string;
  times: number;
  run: () => unknown;
}

interface BenchResult {
  name: string;
  amount: number;
  unit: string;
  seconds: number;
  slowest: number;
  processor: number;
}

async function measure({ name, amount, unit, times, run }: BenchCase): Promise<BenchResult> {
  const seconds: number[] = [];
  const processor: number[] = [];
  for (let i = 0; i < times; i++) {
    const start = performance.now();
    const before = process.cpuUsage();
    await run();
    const { user, system } = process.cpuUsage(before);
    seconds.push((performance.now() - start) / 1000);
    processor.push((user + system) / 1e6);
  }
  return {
    name,
    amount,
    unit,
    seconds: median(seconds),
    slowest: Math.max(...seconds),
    processor: median(processor),
  };
}

function median(values: number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
}

function row({ name, amount, unit, seconds, slowest, processor }: BenchResult): string {
  const work = `${amount.toLocaleString('en')} ${unit}`;
  const rate = `${Math.round(amount / seconds).toLocaleString('en')} a second`;
  return [
    name.padEnd(44),
    work.padStart(20),
    `${seconds.toFixed(2)} s`.padStart(9),
    `${slowest.toFixed(2)} s`.padStart(9),
    `${processor.toFixed(2)} s`.padStart(9),
    rate.padStart(22),
  ].join('  ');
}

async function main(): Promise<void> {
  const folder = largeFolder();
  const head = [
    'what'.padEnd(44),
    'work'.padStart(20),
    'median'.padStart(9),
    'slowest'.padStart(9),
    'processor'.padStart(9),
  ];
  process.stdout.write(`${head.join('  ')}  ${'rate'.padStart(22)}\n`);
  try {
    for (const benchCase of await benchCases(folder)) {
      process.stdout.write(`${row(await measure(benchCase))}\n`);
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
  process.stdout.write(`\n${againstR().join('\n')}\n`);
  const memory = process.resourceUsage().maxRSS / 1024;
  process.stdout.write(`\nNode ${process.version}, largest memory ${Math.round(memory)} MB\n`);
}

await main();
