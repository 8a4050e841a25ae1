/** Checks of each life against the days that bound it: extract, start of records, service of its position. */
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { type Day, textFromDay } from '../numeric/day.js';
import { localDay } from '../numeric/localWords.js';
import { type Fault, fault } from './cell.js';
import { type Cleaning, isOn, isTooMuch } from './cleaning/rules.js';
import { type DraftLives, GONE, isRunning, KEPT, leaked, PAST, reasonOf, UNDATED } from './draftLives.js';
import type { RowBook } from './rowBook.js';
import { type Position, REASONS } from './types.js';

export interface DataSpan {
  recordsFrom: Day | null;
  dataUntil: Day;
  cleaning: Cleaning;
}

const RETIRED = REASONS.indexOf('retired');
const UNKNOWN = REASONS.indexOf('unknown');

/**
 * Marks every life that contradicts the days around it. Nothing here changes how long a life was, with two exceptions
 * that say what was known on the day of the extract: a removal dated after it has not happened yet, and a life in a
 * valve taken out of service ends there.
 */
export function checkLifeDates(
  draft: DraftLives,
  positions: readonly Position[],
  span: DataSpan,
  book: RowBook,
): void {
  const lastFitted = lastFittings(draft, positions.length);
  const lastByExtract = lastFittings(draft, positions.length, span.dataUntil);
  for (let i = 0; i < draft.length; i++) {
    if (at(draft.state, i) !== KEPT) continue;
    const position = itemAt(positions, at(draft.position, i));
    // What another followed is set aside as left open, whatever becomes of its removal.
    const isLast = !(floatAt(draft.fitted, i) < floatAt(lastByExtract, at(draft.position, i)));
    const why = contradiction(draft, i, position, span, isLast);
    if (why !== null) {
      setAside(draft, i, book, why);
      continue;
    }
    if (floatAt(draft.removed, i) < floatAt(draft.fitted, i)) draft.fitted[i] = Number.NaN;
    endAtExtract(draft, i, span, book);
    // One that another followed ended on a day that is not on record, not with the service of its position.
    const followed =
      isRunning(draft, i) && floatAt(draft.fitted, i) < floatAt(lastFitted, at(draft.position, i));
    if (!followed) endWithService(draft, i, position, span, book);
    checkSecondDays(draft, i, span, book);
    checkWatched(draft, i, position, span, book);
    if (isOn(span.cleaning, 'sizes')) askAboutSize(draft, i, position, book);
  }
}

/** The last day on which each position was fitted with a diaphragm, by the rows that can be read, up to some day. */
function lastFittings(draft: DraftLives, positions: number, until = Infinity): Float64Array {
  const last = new Float64Array(positions).fill(-Infinity);
  for (let i = 0; i < draft.length; i++) {
    const p = at(draft.position, i);
    const fitted = floatAt(draft.fitted, i);
    if (at(draft.state, i) === KEPT && fitted > floatAt(last, p) && fitted <= until) last[p] = fitted;
  }
  return last;
}

interface Contradiction {
  column: string;
  day: Day | null;
  why: Fault;
}

function contradiction(
  draft: DraftLives,
  i: number,
  position: Position,
  { dataUntil, cleaning }: DataSpan,
  isLast: boolean,
): Contradiction | null {
  const fitted = floatAt(draft.fitted, i);
  const removed = floatAt(draft.removed, i);
  const out = position.outOfServiceSince;
  if (fitted > dataUntil) return { column: 'fitted', day: fitted, why: fittedLater(dataUntil) };
  if (removed < fitted && isOn(cleaning, 'removed_before_fitted'))
    return { column: 'removed', day: removed, why: removedFirst(fitted) };
  const ahead = removed - dataUntil;
  const tooFar = isLast && isTooMuch(cleaning, 'future_dates', ahead);
  if (ahead > 0 && (!isOn(cleaning, 'future_dates') || tooFar))
    return { column: 'removed', day: removed, why: removedLater(dataUntil) };
  if (isRunning(draft, i) && reasonOf(draft, i) !== 'unknown')
    return { column: 'removed', day: null, why: NO_REMOVAL };
  if (out === null || out > dataUntil) return null;
  if (fitted >= out) return { column: 'fitted', day: fitted, why: outOfService(out) };
  const beyond =
    !isOn(cleaning, 'out_of_service') ||
    isTooMuch(cleaning, 'out_of_service', Math.min(removed, dataUntil) - out);
  const later = removed > out || (Number.isNaN(removed) && !isOn(cleaning, 'out_of_service'));
  if (later && (leaked(draft, i) || beyond))
    return { column: 'removed', day: removed, why: outOfService(out) };
  return null;
}

function setAside(draft: DraftLives, i: number, book: RowBook, { column, day, why }: Contradiction): void {
  draft.state[i] = GONE;
  book.setAside(at(draft.row, i), column, day === null ? null : textFromDay(day), why);
}

function fittedLater(dataUntil: Day): Fault {
  return fault(
    'fitted-after-data',
    `It was fitted after the extract was made (${localDay(dataUntil)}).`,
    'Correct the date, or data_until in site.json.',
  );
}

function removedLater(dataUntil: Day): Fault {
  return fault(
    'removed-after-data',
    `It was removed after the extract was made (${localDay(dataUntil)}).`,
    'Correct the date, or data_until in site.json.',
  );
}

function removedFirst(fitted: Day): Fault {
  return fault(
    'removed-before-fitted',
    `It was removed before it was fitted (${localDay(fitted)}).`,
    'Correct the dates; they are not swapped here, because that would invent a life.',
  );
}

const NO_REMOVAL = fault(
  'removal-date-missing',
  'A reason for removal is given and no date, so the length of this life is not known.',
  'Give the date, or take the reason out if it is still in place.',
);

function outOfService(out: Day): Fault {
  return fault(
    'life-out-of-service',
    `The position went out of service on ${localDay(out)}.`,
    'Correct the date here or out_of_service_since in positions.csv.',
  );
}

/** A removal after the extract: on the day of the extract the diaphragm was in place. */
function endAtExtract(draft: DraftLives, i: number, { dataUntil }: DataSpan, book: RowBook): void {
  const removed = floatAt(draft.removed, i);
  if (!(removed > dataUntil)) return;
  draft.removed[i] = Number.NaN;
  draft.reason[i] = UNKNOWN;
  const text = `It was removed after the extract was made (${localDay(dataUntil)}); it counts as still in place that day.`;
  const todo = 'Correct the date, or data_until in site.json.';
  book.mend(at(draft.row, i), 'removed', textFromDay(removed), fault('removed-after-data', text, todo));
}

function endWithService(
  draft: DraftLives,
  i: number,
  { outOfServiceSince: out }: Position,
  { dataUntil }: DataSpan,
  book: RowBook,
): void {
  if (out === null || out > dataUntil || floatAt(draft.removed, i) <= out) return;
  const removed = floatAt(draft.removed, i);
  draft.removed[i] = out;
  draft.reason[i] = RETIRED;
  const text = `The position went out of service on ${localDay(out)}; the life ends there, sound so far as is known.`;
  const value = Number.isNaN(removed) ? null : textFromDay(removed);
  const todo = 'Give the removal, with reason retired, if it is known.';
  book.mend(at(draft.row, i), 'removed', value, fault('ended-with-service', text, todo));
}

/** Days that describe the life without bounding it: one that cannot be is left out. */
function checkSecondDays(draft: DraftLives, i: number, { dataUntil }: DataSpan, book: RowBook): void {
  const row = at(draft.row, i);
  const tight = floatAt(draft.lastTight, i);
  const end = isRunning(draft, i) ? dataUntil : floatAt(draft.removed, i);
  if (tight > end || tight < floatAt(draft.fitted, i)) {
    draft.lastTight[i] = Number.NaN;
    book.mend(row, 'last_tight', textFromDay(tight), TIGHT_OUTSIDE);
  }
  const recorded = floatAt(draft.recorded, i);
  if (recorded > dataUntil) {
    draft.recorded[i] = Number.NaN;
    book.mend(row, 'recorded', textFromDay(recorded), RECORDED_LATER);
  }
}

const TIGHT_OUTSIDE = fault(
  'last-tight-outside',
  'The last tight test is not between fitting and removal; the row is used without it.',
  'Correct the date.',
);
const RECORDED_LATER = fault(
  'recorded-after-data',
  'The row was recorded after the extract was made; it is used without that date.',
  'Correct the date, or data_until in site.json.',
);

/** Lives that ended before anybody kept records, and lives whose fitting day is not known. */
function checkWatched(
  draft: DraftLives,
  i: number,
  { inServiceSince }: Position,
  { recordsFrom, dataUntil }: DataSpan,
  book: RowBook,
): void {
  const fitted = floatAt(draft.fitted, i);
  const removed = floatAt(draft.removed, i);
  const from = Math.max(recordsFrom ?? -Infinity, inServiceSince ?? -Infinity);
  if (removed < from || (removed === from && fitted < from)) {
    draft.state[i] = PAST;
    const why = removed < from ? removedEarly(from, from === recordsFrom) : notWatched(from);
    book.setAside(at(draft.row, i), 'removed', textFromDay(removed), why);
  } else if (Number.isNaN(fitted) || (Number.isNaN(removed) && fitted < from && dataUntil <= from)) {
    draft.state[i] = UNDATED;
  } else if (removed === fitted && !leaked(draft, i)) {
    book.ask(at(draft.row, i), 'removed', textFromDay(removed), SAME_DAY);
  }
}

function removedEarly(from: Day, isRecords: boolean): Fault {
  const start = isRecords ? 'the records began' : 'the position came into service';
  return fault(
    isRecords ? 'removed-before-records' : 'removed-before-service',
    `It was removed before ${start} (${localDay(from)}); lives like it are missing, so this one would mislead.`,
    isRecords
      ? 'Check records_from in site.json: is this row proof of earlier records?'
      : 'Check in_service_since in positions.csv.',
  );
}

function notWatched(from: Day): Fault {
  return fault(
    'never-watched',
    `It was removed on the day watching began (${localDay(from)}), so it tells nothing about age.`,
    'Nothing, unless the dates are wrong.',
  );
}

const SAME_DAY = fault(
  'removed-on-fitting-day',
  'It was removed on the day it was fitted, and not for a leak; it counts as half a day.',
  'Check the dates.',
);

function askAboutSize(draft: DraftLives, i: number, { size }: Position, book: RowBook): void {
  if (floatAt(draft.size, i) === size) return;
  const text = `The size differs from that of the position (DN ${size}); the size of the life is used.`;
  book.ask(
    at(draft.row, i),
    'size',
    String(floatAt(draft.size, i)),
    fault('size-differs', text, 'Check which is right.'),
  );
}
