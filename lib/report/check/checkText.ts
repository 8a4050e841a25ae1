/** What `weirwise check` prints: a screen or two, and last of all what to do first. */
import { amount, count, dateWords, percent, plainName } from '../../chart/words.js';
import type { Mend } from '../../fleet/quality/mends.js';
import type { Support } from '../../group/groupSupport.js';
import { inLocale } from '../../numeric/locale.js';
import { rulesLine } from '../cleaningRules.js';
import { unbroken } from '../markup.js';
import { more, table, wrapped } from '../plainText.js';
import type { RecordsCheck } from './checkRecords.js';
import { CHECK_SENTENCE } from './texts.js';
import { leaksWords, MOST_MENDS, madeOf } from './words.js';

const MOST_GROUPS = 10;
const MOST_REASONS = 10;
const MOST_LETTERS = 60;

/** `folder` is where check.csv and check.html were written. */
export function checkText(check: RecordsCheck, folder: string): string {
  return inLocale(check.locale, () =>
    [
      [`${plainName(check.name)}: records until ${dateWords(check.dataUntil)}; a plan can be made`],
      filesPart(check),
      supportPart(check),
      mendsPart(check),
      reasonsPart(check),
      wrapped(rulesLine(check.findings.rules) ?? CHECK_SENTENCE.noRules, 'RULES  ', '  '),
      missingPart(check),
      [`Written to ${folder}: check.html (all of it, to print), check.csv.`],
      // One line, however long: the last of what is printed.
      [`FIRST  ${plainName(check.first)}`],
    ]
      .map((lines) => `${lines.join('\n')}\n`)
      .join('\n'),
  );
}

function filesPart({ files, findings, lives, livesInFits }: RecordsCheck): string[] {
  const { rowsIn, rowsUsed, rowsSetAside } = findings;
  const whole = (value: number): string => amount(value, 9);
  return [
    `FILES  ${count(rowsIn, 'row')} = ${whole(rowsUsed)} used + ${whole(rowsSetAside)} set aside; ${whole(livesInFits)} of ${count(lives, 'life', 'lives')} in the fits. Scores are of 100.`,
    ...files.flatMap((file) => [
      ...wrapped(
        `${String(file.score).padStart(3, '\u00a0')}  ${file.file}: ${whole(file.rowsIn)} = ${whole(file.rowsUsed)} + ${whole(file.rowsSetAside)}; ${unbroken(madeOf(file))}`,
        '  ',
        '       ',
      ),
    ]),
  ];
}

const SUPPORTED: readonly (readonly [kind: Support, words: string])[] = [
  ['tested', 'interval can be estimated, fit can be tested'],
  ['own', 'interval can be estimated, fit cannot be tested'],
  ['pooled', 'pooled only'],
  ['assumed', 'shape assumed'],
];

function supportPart({ groups }: RecordsCheck): string[] {
  const lines = SUPPORTED.flatMap(([kind, words]) => {
    const of = groups.filter(({ support }) => support === kind);
    if (of.length === 0) return [];
    const named = of
      .slice(0, MOST_GROUPS)
      .map(({ group, wearLeaks }) => `${wearLeaks === 0 ? 'none' : leaksWords(wearLeaks)} in ${cut(group)}`);
    const rest = of.length > MOST_GROUPS ? `; ${of.length - MOST_GROUPS} more` : '';
    return wrapped(`${words} (${count(of.length, 'group')}): ${named.join('; ')}${rest}`, '  ', '    ');
  });
  return ['SUPPORTS  wear-out leaks by group, those of unknown reason by their chance', ...lines];
}

function mendsPart({ mends }: RecordsCheck): string[] {
  if (mends.length === 0) return [`MENDS  ${CHECK_SENTENCE.noMends}`];
  return [
    `MENDS  by the lives that they would bring into the fits, first ${Math.min(MOST_MENDS, mends.length)} of ${mends.length}`,
    ...mends.slice(0, MOST_MENDS).flatMap((mend, i) => wrapped(mendLine(mend, i), '  ', '     ')),
  ];
}

function mendLine(mend: Mend, i: number): string {
  const { file, rows, row, livesGained, livesClearer, what, todo } = mend;
  const place = row === null ? '' : `, the first in row ${row}`;
  const gain =
    livesGained > 0
      ? `${count(livesGained, 'life', 'lives')} gained at most`
      : livesClearer > 0
        ? `${count(livesClearer, 'life', 'lives')} made clearer`
        : 'no life';
  return plainName(`${i + 1}. ${gain}, ${count(rows, 'row')} of ${file}${place}: ${what} ${todo}`);
}

function reasonsPart({ reasons }: RecordsCheck): string[] {
  if (reasons.length === 0) return [`ASK FIRST  ${CHECK_SENTENCE.noReasons}`];
  const rows = reasons
    .slice(0, MOST_REASONS)
    .map(({ position, group, removed, age, chance, effect }) => [
      cut(position),
      cut(group),
      dateWords(removed),
      amount(age),
      percent(chance),
      `${effect > 0 ? '+' : ''}${amount(effect, 2)}`,
    ]);
  return [
    'ASK FIRST  why these were removed; the last column is how far the 10 % age moves, days, if it was a leak instead of none',
    ...table(['position', 'group', 'removed', 'age, days', 'leak?', 'moves'], rows),
    ...more(reasons.length - rows.length, 'removal', ' (check.html)'),
  ];
}

function missingPart({ switchedOff, assumed }: RecordsCheck): string[] {
  const lines = [...switchedOff, ...assumed];
  if (lines.length === 0) return [`MISSING  ${CHECK_SENTENCE.nothingMissing}`];
  return ['MISSING', ...lines.flatMap((line) => wrapped(plainName(line), '  - ', '    '))];
}

/** A name on one line, cut where it is long. */
function cut(text: string): string {
  const letters = [...plainName(text)];
  return letters.length > MOST_LETTERS ? `${letters.slice(0, MOST_LETTERS - 1).join('')}…` : letters.join('');
}
