/** The files of a check, as texts: the page, and one table of all that it found. */
import { type Columns, csvText, hundredths } from '../csvCells.js';
import { checkPage } from './checkPage.js';
import type { RecordsCheck } from './checkRecords.js';
import { madeOf, whyItMatters } from './words.js';

type Part = 'file' | 'group' | 'mend' | 'reason' | 'rule' | 'missing' | 'first';

/** One finding; what its part does not have is left out. */
interface Line {
  part: Part;
  name: string;
  score?: number;
  rows?: number;
  rowsUsed?: number;
  rowsSetAside?: number;
  lives?: number;
  livesGained?: number;
  livesClearer?: number;
  leaks?: number;
  wearLeaks?: number;
  removed?: string;
  age?: number;
  chance?: number;
  effect?: number;
  found: string;
  todo?: string;
}

/** check.html and check.csv by name. */
export function checkFiles(check: RecordsCheck): Map<string, string> {
  return new Map([
    ['check.html', checkPage(check)],
    ['check.csv', csvText(COLUMNS, linesOf(check))],
  ]);
}

const COLUMNS: Columns<Line> = [
  ['part', ({ part }) => part],
  ['name', ({ name }) => name],
  ['score', ({ score }) => score ?? null],
  ['rows', ({ rows }) => rows ?? null],
  ['rows_used', ({ rowsUsed }) => rowsUsed ?? null],
  ['rows_set_aside', ({ rowsSetAside }) => rowsSetAside ?? null],
  ['lives', ({ lives }) => lives ?? null],
  ['lives_gained', ({ livesGained }) => livesGained ?? null],
  ['lives_made_clearer', ({ livesClearer }) => livesClearer ?? null],
  ['leaks', ({ leaks }) => hundredths(leaks ?? null)],
  ['wear_out_leaks', ({ wearLeaks }) => hundredths(wearLeaks ?? null)],
  ['removed', ({ removed }) => removed ?? null],
  ['age_days', ({ age }) => hundredths(age ?? null)],
  ['chance_leak', ({ chance }) => hundredths(chance ?? null)],
  ['ten_percent_age_moves_days', ({ effect }) => hundredths(effect ?? null)],
  ['found', ({ found }) => found],
  ['what_to_do', ({ todo }) => todo ?? null],
];

function linesOf(check: RecordsCheck): Line[] {
  return [...recordLines(check), ...groupLines(check), ...missingLines(check)];
}

function recordLines({ files, mends, findings }: RecordsCheck): Line[] {
  return [
    ...files.map(
      (file): Line => ({
        part: 'file',
        name: file.file,
        score: file.score,
        rows: file.rowsIn,
        rowsUsed: file.rowsUsed,
        rowsSetAside: file.rowsSetAside,
        found: madeOf(file),
      }),
    ),
    ...mends.map(
      ({ code, file, rows, rowsSetAside, livesGained, livesClearer, what, todo }): Line => ({
        part: 'mend',
        name: `${file} ${code}`,
        rows,
        rowsSetAside,
        livesGained,
        livesClearer,
        found: what,
        todo,
      }),
    ),
    ...findings.rules
      .filter(({ on, found }) => found > 0 || !on)
      .map(
        ({ rule, on, found, mended, setAside, asked }): Line => ({
          part: 'rule',
          name: rule,
          rows: found,
          rowsSetAside: setAside,
          found: on ? `${mended} mended, ${setAside} set aside, ${asked} asked about` : 'switched off',
        }),
      ),
  ];
}

function groupLines({ groups, reasons }: RecordsCheck): Line[] {
  return [
    ...groups.map(
      ({ group, lives, leaks, wearLeaks, text }): Line => ({
        part: 'group',
        name: group,
        lives,
        leaks,
        wearLeaks,
        found: text,
      }),
    ),
    ...reasons.map((reason): Line => {
      const { position, group, removed, age, chance, effect } = reason;
      const found = `${group}. ${whyItMatters(reason)}`;
      return {
        part: 'reason',
        name: position,
        removed,
        age,
        chance,
        effect,
        found,
        todo: 'Ask for the reason.',
      };
    }),
  ];
}

function missingLines({ switchedOff, assumed, first }: RecordsCheck): Line[] {
  const lines = [...switchedOff, ...assumed].map((found): Line => ({ part: 'missing', name: '', found }));
  return [...lines, { part: 'first', name: '', found: '', todo: first }];
}
