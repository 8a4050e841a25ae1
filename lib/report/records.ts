/** What was found in the records: counts per file, and the problems with what to do about them. */

import { amount, count } from '../chart/words.js';
import type { Problem } from '../findings.js';
import type { Plan } from '../planTypes.js';
import { rulesPart } from './cleaningRules.js';
import { dataTable, type Html, html, name, prose } from './markup.js';
import { CAPTION, COLUMN, HEADING, SENTENCE } from './texts.js';

const MOST_KINDS = 40;

export function recordsPart({ findings }: Plan): Html {
  const { rowsIn, rowsUsed, rowsSetAside, files, livesBuilt } = findings;
  const whole = (value: number): string => amount(value, 9);
  const built =
    livesBuilt === 0
      ? ''
      : ` ${count(livesBuilt, 'running life was', 'running lives were')} built from the last removal of the position.`;
  const rows = files.map((file) => [
    file.file,
    whole(file.rowsIn),
    whole(file.rowsUsed),
    whole(file.rowsSetAside),
  ]);
  rows.push(['All files', whole(rowsIn), whole(rowsUsed), whole(rowsSetAside)]);
  return html`<section id="records" aria-labelledby="records-title">
<h2 id="records-title">${HEADING.whatWasFoundRecords}</h2>
<p>${count(rowsIn, 'row')} read = ${whole(rowsUsed)} used + ${whole(rowsSetAside)} set aside.${built}</p>
${dataTable({
  caption: CAPTION.rowsByFile,
  columns: [
    { title: COLUMN.file },
    { title: COLUMN.rows, number: true },
    { title: COLUMN.used, number: true },
    { title: COLUMN.setAside, number: true },
  ],
  rows,
})}${rulesPart(findings.rules)}${problemsPart(findings.problems)}</section>
`;
}

interface Kind {
  first: Problem;
  number: number;
}

/** Problems by code, most frequent first. */
export function problemKinds(problems: readonly Problem[]): Kind[] {
  const kinds = new Map<string, Kind>();
  for (const problem of problems) {
    const key = JSON.stringify([problem.code, problem.file, problem.done]);
    const kind = kinds.get(key);
    if (kind === undefined) kinds.set(key, { first: problem, number: 1 });
    else kind.number += 1;
  }
  return [...kinds.values()].sort((a, b) => b.number - a.number);
}

function problemsPart(problems: readonly Problem[]): Html {
  const kinds = problemKinds(problems);
  if (kinds.length === 0) return html`<p>${SENTENCE.noProblemWasFound}</p>`;
  const rest = kinds.length > MOST_KINDS ? `; the ${MOST_KINDS} most frequent kinds of ${kinds.length}` : '';
  return dataTable({
    caption: `${count(problems.length, 'problem')} by kind, each with its first example; all are in plan.json${rest}`,
    columns: [
      { title: COLUMN.found },
      { title: COLUMN.times, number: true },
      { title: COLUMN.done },
      { title: COLUMN.firstExample },
      { title: COLUMN.whatToDo },
    ],
    rows: kinds
      .slice(0, MOST_KINDS)
      .map(({ first, number }) => [
        prose(first.text),
        amount(number, 9),
        first.done,
        placeOf(first),
        html`<div class="wide">${prose(first.todo)}</div>`,
      ]),
    cards: true,
  });
}

function placeOf({ file, row, column, value }: Problem): Html {
  const place = [file, row === null ? '' : `row ${row}`, column ?? '']
    .filter((part) => part !== '')
    .join(', ');
  return html`${prose(place)}${value === null ? null : html`<br>${value.trim() === '' ? 'empty' : html`"${name(value)}"`}`}`;
}
