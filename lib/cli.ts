#!/usr/bin/env node
/** The command line: a fleet folder in, a summary on the screen and the files of the plan in a folder. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { InputError, UsageError } from './errors.js';
import { MOST_BYTES } from './fleet/csvText.js';
import { readFleet, readRecords } from './fleet/read.js';
import { finishPlan, flowWear, modelFleet, practiseFleet, supplyFleet, weighFleet } from './plan.js';
import { chartsOfPractised, chartsOfSupplied, chartsOfWeighed } from './report/ahead.js';
import { PICTURE } from './report/figure.js';
import { planFiles } from './report/files.js';
import { readingWords, type StageTeller, stageTeller } from './report/stageTeller.js';
import { startFiles } from './report/startFolder.js';
import { summaryText } from './report/summary.js';
import { writeTogether } from './report/write.js';
import { startSideThread } from './sideThread.js';
import { VERSION } from './version.js';

const HELP = `weirwise ${VERSION}: replacement intervals, shutdown plan, stock and yearly cost of diaphragm valves

  weirwise [folder] [--out folder] [--seed number]     plans the plant of a fleet folder
  weirwise check folder [--out folder]                 says how good the records are, and what to mend first
  weirwise start folder                                writes an empty fleet folder to fill in
  weirwise map folder                                  proposes which of your exports, columns and words are which of ours

  folder          the fleet folder: positions.csv, lives.csv or work-orders.csv and what else there is (default data-demo)
  --out folder    where the report and tables go (default out)
  --seed number   seed of the random numbers, a whole number (default 1)
  --most-mb number  megabytes that a file may hold or unpack to, for very large tables (default 512)
  --help          this text
  --version       the version
`;

/** Only the compiled command has its worker beside it; run from the sources it does all in its own thread. */
const WORKER = new URL('./sideWorker.js', import.meta.url);

/** What a plan goes through, as the reader at the screen is told. */
const STAGES = [
  'reading the folder',
  'fitting lives',
  'weighing intervals',
  'planning shutdowns, demand and stock',
  'pricing the year',
  'writing report and tables',
];

interface Request {
  folder: string;
  out: string;
  seed: number;
  /** Bytes that a file may hold. */
  mostBytes: number;
}

async function main(words: string[]): Promise<string> {
  if (words[0] === 'start') return startFolder(words.slice(1));
  if (words[0] === 'map') return mapExports(words.slice(1));
  if (words[0] === 'check') return checkFolder(words.slice(1));
  const request = readWords(words);
  if (typeof request === 'string') return request;
  const aside = existsSync(WORKER) ? startSideThread(WORKER) : null;
  const stage = tellerOf(STAGES);
  try {
    stage.next();
    const fleet = await readFleet(request.folder, telling(stage, request.mostBytes));
    stage.next();
    const modelled = modelFleet(fleet, { seed: request.seed });
    const asked = aside?.practise(modelled);
    stage.next();
    const weighed = weighFleet(modelled);
    aside?.drawAhead(chartsOfWeighed(weighed), PICTURE);
    stage.next();
    const inDays = supplyFleet(weighed);
    aside?.drawAhead(chartsOfSupplied(inDays), PICTURE);
    // Most plants wear by days, so that all above is done while the second thread finds out; else it is done again by use.
    const flowing = flowWear(modelled, await asked?.wear);
    const supplied = flowing.grouped === modelled.grouped ? inDays : supplyFleet(weighFleet(flowing));
    stage.next();
    const today = asked === undefined ? practiseFleet(flowing) : await asked.practised;
    aside?.drawAhead(chartsOfPractised(today), PICTURE);
    const plan = finishPlan(supplied, today);
    stage.next();
    const files = await planFiles(plan, aside?.draw);
    await Promise.all([writeTogether(files, request.out), aside?.close()]);
    return summaryText(plan, request.out);
  } finally {
    stage.end();
    await aside?.close();
  }
}

/** The time that has passed decides what the screen shows of the work, never what comes of it. */
function tellerOf(stages: readonly string[]): StageTeller {
  return stageTeller(stages, process.stderr, () => process.uptime());
}

function telling(stage: StageTeller, mostBytes: number) {
  return { mostBytes, onReading: (file: string, share: number) => stage.detail(readingWords(file, share)) };
}

/** Writes an empty fleet folder; a file that is there already is never written over. */
async function startFolder(words: string[]): Promise<string> {
  const [folder, more] = parseWords(words).positionals;
  if (folder === undefined || more !== undefined) {
    throw new InputError('Name the one folder to start.', {}, 'For example: weirwise start our-plant');
  }
  const files = startFiles();
  const there = [...files.keys()].filter((name) => existsSync(join(folder, name)));
  if (there.length > 0) {
    throw new InputError(
      `The folder holds ${there.slice(0, 3).join(', ')} already, and nothing is written over.`,
      { file: folder },
      'Name another folder.',
    );
  }
  await writeTogether(files, folder);
  return `Wrote ${files.size} files to ${folder}. Open ${join(folder, 'start-here.html')}: it says what to fill in first.\n`;
}

/** Proposes settings for a folder of exports, and writes them where no settings are. */
async function mapExports(words: string[]): Promise<string> {
  const [folder, more] = parseWords(words).positionals;
  if (folder === undefined || more !== undefined) {
    throw new InputError('Name the one folder to look at.', {}, 'For example: weirwise map our-exports');
  }
  // Loaded here alone: a plan needs neither dictionaries nor their words.
  const { mapFolder } = await import('./fleet/mapping/mapFolder.js');
  const { mapText, writtenText } = await import('./report/mapText.js');
  const mapped = await mapFolder(folder);
  await writeTogether(new Map([[mapped.name, mapped.text]]), folder);
  return `${mapText(mapped)}\n${writtenText(mapped, join(folder, mapped.name))}`;
}

/** Says how good the records of a folder are; nothing is planned. */
async function checkFolder(words: string[]): Promise<string> {
  const { values, positionals } = parseWords(words);
  const [folder, more] = positionals;
  if (folder === undefined || more !== undefined) {
    throw new InputError('Name the one folder to check.', {}, 'For example: weirwise check our-plant');
  }
  const out = values.out ?? 'out';
  // Loaded here alone: a plan needs none of it.
  const { checkFiles, checkRecords, checkText } = await import('./report/check/index.js');
  const stage = tellerOf(['reading the folder', 'looking at the records']);
  try {
    stage.next();
    const records = await readRecords(folder, telling(stage, readMost(values['most-mb'])));
    stage.next();
    const check = checkRecords(records);
    await writeTogether(checkFiles(check), out);
    return checkText(check, out);
  } finally {
    stage.end();
  }
}

/** The request, or a text to print instead. */
function readWords(words: string[]): Request | string {
  const { values, positionals } = parseWords(words);
  if (values.help) return HELP;
  if (values.version) return `${VERSION}\n`;
  if (positionals.length > 1) {
    throw new InputError(
      `One fleet folder at a time, but ${positionals.length} were named.`,
      { value: positionals.join(' ') },
      'Name one folder.',
    );
  }
  return {
    folder: positionals[0] ?? 'data-demo',
    out: values.out ?? 'out',
    seed: readSeed(values.seed ?? '1'),
    mostBytes: readMost(values['most-mb']),
  };
}

function parseWords(words: string[]) {
  try {
    return parseArgs({
      args: words,
      allowPositionals: true,
      options: {
        out: { type: 'string' },
        seed: { type: 'string' },
        'most-mb': { type: 'string' },
        help: { type: 'boolean', short: 'h' },
        version: { type: 'boolean' },
      },
    });
  } catch (cause) {
    const reason = cause instanceof Error ? cause.message : String(cause);
    throw new InputError(`${reason.replace(/\.?$/, '.')}`, {}, 'See --help for the words it knows.');
  }
}

function readSeed(text: string): number {
  if (!/^\d{1,9}$/.test(text)) {
    throw new InputError(
      'The seed must be a whole number from 0 to 999999999.',
      { value: text },
      'Give --seed 1.',
    );
  }
  return Number(text);
}

/** Bytes of so many megabytes. */
function readMost(text = '512'): number {
  if (!/^[1-9]\d{0,5}$/.test(text)) {
    throw new InputError(
      'The megabytes of --most-mb must be a whole number from 1 to 999999.',
      { value: text },
      'Give --most-mb 2000.',
    );
  }
  return text === '512' ? MOST_BYTES : Number(text) * 2 ** 20;
}

/** What the reader sees of an error: a sentence, never a stack trace. */
function messageOf(cause: unknown): string {
  if (cause instanceof InputError) return cause.message;
  const reason = cause instanceof Error ? cause.message : String(cause);
  const where = cause instanceof UsageError ? '' : ' (a fault in the program, not in your data)';
  return `${reason}${where} Nothing was written. Please report this text and the folder that caused it.`;
}

main(process.argv.slice(2)).then(
  (text) => process.stdout.write(text),
  (cause) => {
    process.stderr.write(`weirwise: ${messageOf(cause)}\n`);
    process.exitCode = 1;
  },
);
