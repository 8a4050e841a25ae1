/** The study's results as a page of tables. */
import {
  BOOTSTRAP,
  type CellResult,
  type MethodName,
  type Misses,
  type QuantityName,
  SAMPLES,
} from './count.js';

const METHODS: MethodName[] = ['normal', 'likelihood', 'posterior', 'bootstrap', 'shape known'];
const NOMINAL = 0.05;

export function boundsPage(results: readonly CellResult[]): string {
  const page = [
    '# How often 90 % bounds miss the truth',
    '',
    `Written by \`npm run calibrate\`. Weibull lives, ${SAMPLES} samples per row (bootstrap: ${BOOTSTRAP.samples}, each resampled ${BOOTSTRAP.draws} times).`,
    'Each cell has two numbers: the percentage of samples whose lower bound is above the truth, and whose upper bound is below it.',
    `Nominal is 5 each; the standard error of a number near 5 is ${percent(error(SAMPLES))} (bootstrap: ${percent(error(BOOTSTRAP.samples))}). Counted are samples with two`,
    'failures or more. A third number is the percentage of those that a method left unanswered, where there were any. `posterior` has the default',
    'prior of the shape (median 2, standard deviation of its logarithm 0.5); `shape known` was given the true shape. Where fewer than two failures are expected',
    'only these two are asked.',
    '',
    ...summary(results),
    ...(['B10', 'shape'] as const).flatMap((quantity) => quantityTable(results, quantity)),
  ].join('\n');
  return aligned(page.split('\n')).join('\n');
}

/** Cells of each table as wide as the widest of their column, so that the page reads as it is and changes show cell by cell. */
export function aligned(lines: readonly string[]): string[] {
  const out: string[] = [];
  for (let from = 0; from < lines.length; ) {
    let to = from;
    while (lines[to]?.startsWith('|')) to++;
    const table = lines.slice(from, to).map((line) =>
      line
        .split('|')
        .slice(1, -1)
        .map((cell) => cell.trim()),
    );
    const width = table[0]?.map((_, j) => Math.max(...table.map((row) => row[j]?.length ?? 0))) ?? [];
    for (const row of table) {
      const cells = row.map((cell, j) => cell.padEnd(width[j] ?? 0, /^-+$/.test(cell) ? '-' : ' '));
      out.push(`| ${cells.join(' | ')} |`);
    }
    if (to === from) out.push(lines[to++] as string);
    from = to;
  }
  return out;
}

function error(samples: number): number {
  return Math.sqrt((NOMINAL * (1 - NOMINAL)) / samples);
}

function percent(share: number): string {
  return (100 * share).toFixed(1);
}

/** Rows pooled by how many failures a sample has on average. */
function summary(results: readonly CellResult[]): string[] {
  const ranges = [
    { name: 'under 2', from: 0, to: 2 },
    { name: '2 to under 5', from: 2, to: 5 },
    { name: '5 to under 10', from: 5, to: 10 },
    { name: '10 to under 30', from: 10, to: 30 },
    { name: '30 and more', from: 30, to: Infinity },
  ];
  return (['B10', 'shape'] as const).flatMap((quantity) => [
    `## ${title(quantity)}, by expected failures`,
    '',
    heading(['failures expected'], quantity),
    ...ranges.map(({ name, from, to }) => {
      const own = results.filter(({ cell }) => expected(cell) >= from && expected(cell) < to);
      const cells = methodsOf(quantity).map((method) =>
        cellText(pooled(own.map((result) => result[quantity][method]))),
      );
      return `| ${[name, ...cells].join(' | ')} |`;
    }),
    '',
  ]);
}

function expected({ lives, sound }: CellResult['cell']): number {
  return lives * (1 - sound) + 1e-9;
}

function pooled(all: readonly (Misses | undefined)[]): Misses | undefined {
  const found = all.filter((misses) => misses !== undefined);
  if (found.length === 0) return undefined;
  return found.reduce((total, { asked, answered, low, high }) => ({
    asked: total.asked + asked,
    answered: total.answered + answered,
    low: total.low + low,
    high: total.high + high,
  }));
}

function quantityTable(results: readonly CellResult[], quantity: QuantityName): string[] {
  return [
    `## ${title(quantity)}, row by row`,
    '',
    heading(['watched', 'lives', 'shape', 'sound, %', 'under 2 failures, %'], quantity),
    ...results.map((result) => {
      const { scheme, lives, shape, sound } = result.cell;
      const head = [scheme, lives, shape, Math.round(100 * sound), percent(result.tooFew / result.samples)];
      const cells = methodsOf(quantity).map((method) => cellText(result[quantity][method]));
      return `| ${[...head, ...cells].join(' | ')} |`;
    }),
    '',
  ];
}

function methodsOf(quantity: QuantityName): MethodName[] {
  return METHODS.filter((method) => quantity === 'B10' || method !== 'shape known');
}

function title(quantity: QuantityName): string {
  return quantity === 'B10' ? 'Age by which 10 % have failed (B10)' : 'Shape';
}

function heading(first: readonly string[], quantity: QuantityName): string {
  const names = [...first, ...methodsOf(quantity)];
  return `| ${names.join(' | ')} |\n| ${names.map(() => '---').join(' | ')} |`;
}

function cellText(misses: Misses | undefined): string {
  if (misses === undefined || misses.answered === 0) return '';
  const { asked, answered, low, high } = misses;
  const text = `${percent(low / answered)} / ${percent(high / answered)}`;
  return answered === asked ? text : `${text} (${percent(1 - answered / asked)})`;
}
