/** The page of a check: all of it, to read and to print. */
import { amount, count, dateWords, plainName } from '../../chart/words.js';
import { inLocale } from '../../numeric/locale.js';
import { rulesPart } from '../cleaningRules.js';
import { bullets, dataTable, type Html, html, name, prose } from '../markup.js';
import { wholePage } from '../page.js';
import { STYLE } from '../style.js';
import type { RecordsCheck } from './checkRecords.js';
import { CHECK_CAPTION, CHECK_COLUMN, CHECK_HEADING, CHECK_SENTENCE } from './texts.js';
import { leaksWords, MOST_MENDS, madeOf, whyItMatters } from './words.js';

/** Short parts follow each other on paper. */
const CHECK_STYLE = '@media print{h2{break-before:auto;margin-top:22px}}';

export function checkPage(check: RecordsCheck): string {
  return inLocale(check.locale, () => {
    const title = `${plainName(check.name)}: how good the records are`;
    const body = html`<h1>${name(title)}</h1>
<p class="lead">${prose(`What to do first: ${check.first}`)}</p>
${filesPart(check)}${groupsPart(check)}${mendsPart(check)}${reasonsPart(check)}
<h2>${CHECK_HEADING.rules}</h2>
${rulesPart(check.findings.rules) ?? html`<p>${CHECK_SENTENCE.noRules}</p>`}
${missingPart(check)}`;
    return wholePage({ title, style: `${STYLE}${CHECK_STYLE}`, body });
  });
}

function filesPart({ files, findings, lives, livesInFits, dataUntil }: RecordsCheck): Html {
  const whole = (value: number): string => amount(value, 9);
  const { rowsIn, rowsUsed, rowsSetAside } = findings;
  const rows = files.map((file) => [
    file.file,
    String(file.score),
    whole(file.rowsIn),
    whole(file.rowsUsed),
    whole(file.rowsSetAside),
    prose(madeOf(file)),
  ]);
  return html`<h2>${CHECK_HEADING.files}</h2>
<p>${count(rowsIn, 'row')} read until ${dateWords(dataUntil)} = ${whole(rowsUsed)} used + ${whole(rowsSetAside)} set aside. ${whole(livesInFits)} of ${count(lives, 'life', 'lives')} can enter the fits. ${CHECK_SENTENCE.score}</p>
${dataTable({
  caption: CHECK_CAPTION.files,
  columns: [
    { title: CHECK_COLUMN.file },
    { title: CHECK_COLUMN.score, number: true },
    { title: CHECK_COLUMN.rows, number: true },
    { title: CHECK_COLUMN.used, number: true },
    { title: CHECK_COLUMN.setAside, number: true },
    { title: CHECK_COLUMN.madeOf },
  ],
  rows: [...rows, ['All files', '', whole(rowsIn), whole(rowsUsed), whole(rowsSetAside), '']],
  total: true,
  cards: true,
})}`;
}

function groupsPart({ groups }: RecordsCheck): Html {
  return html`<h2>${CHECK_HEADING.supports}</h2>
<p>${CHECK_SENTENCE.supports}</p>
${dataTable({
  caption: CHECK_CAPTION.groups,
  columns: [
    { title: CHECK_COLUMN.group },
    { title: CHECK_COLUMN.positions, number: true },
    { title: CHECK_COLUMN.lives, number: true },
    { title: CHECK_COLUMN.wearLeaks, number: true },
    { title: CHECK_COLUMN.supports },
  ],
  rows: groups.map(({ group, positions, lives, wearLeaks, text }) => [
    name(plainName(group)),
    amount(positions, 9),
    amount(lives, 9),
    leaksWords(wearLeaks),
    prose(`${text}.`),
  ]),
  cards: true,
})}`;
}

function mendsPart({ mends }: RecordsCheck): Html {
  if (mends.length === 0) {
    return html`<h2>${CHECK_HEADING.mends}</h2>
<p>${CHECK_SENTENCE.noMends}</p>`;
  }
  const rest =
    mends.length > MOST_MENDS ? ` The first ${MOST_MENDS} of ${mends.length}; check.csv has all.` : '';
  return html`<h2>${CHECK_HEADING.mends}</h2>
<p>${CHECK_SENTENCE.mends}${rest}</p>
${dataTable({
  caption: CHECK_CAPTION.mends,
  columns: [
    { title: CHECK_COLUMN.cause },
    { title: CHECK_COLUMN.file },
    { title: CHECK_COLUMN.rows, number: true },
    { title: CHECK_COLUMN.livesGained, number: true },
    { title: CHECK_COLUMN.livesClearer, number: true },
    { title: CHECK_COLUMN.whatToDo },
  ],
  rows: mends
    .slice(0, MOST_MENDS)
    .map((mend) => [
      prose(mend.what),
      html`${mend.file}${mend.row === null ? null : html` row ${mend.row}`}${mend.value === null || mend.value === '' ? null : html`: ${name(mend.value)}`}`,
      amount(mend.rows, 9),
      amount(mend.livesGained, 9),
      amount(mend.livesClearer, 9),
      prose(mend.todo),
    ]),
  cards: true,
})}`;
}

function reasonsPart({ reasons }: RecordsCheck): Html {
  if (reasons.length === 0) {
    return html`<h2>${CHECK_HEADING.reasons}</h2>
<p>${CHECK_SENTENCE.noReasons}</p>`;
  }
  return html`<h2>${CHECK_HEADING.reasons}</h2>
${dataTable({
  caption: CHECK_CAPTION.reasons,
  columns: [
    { title: CHECK_COLUMN.position },
    { title: CHECK_COLUMN.group },
    { title: CHECK_COLUMN.removed },
    { title: CHECK_COLUMN.ageDays, number: true },
    { title: CHECK_COLUMN.whyItMatters },
  ],
  rows: reasons.map((reason) => [
    name(reason.position),
    name(plainName(reason.group)),
    dateWords(reason.removed),
    amount(reason.age),
    whyItMatters(reason),
  ]),
  cards: true,
})}`;
}

function missingPart({ switchedOff, assumed }: RecordsCheck): Html {
  const points = bullets([...switchedOff, ...assumed].map(prose));
  return html`<h2>${CHECK_HEADING.settings}</h2>
${points ?? html`<p>${CHECK_SENTENCE.nothingMissing}</p>`}`;
}
