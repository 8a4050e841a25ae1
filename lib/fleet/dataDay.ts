/** The day of the extract: as given, or the latest day in the history, said as an assumption. */
import { InputError, UsageError } from '../errors.js';
import { at, floatAt } from '../numeric/columns.js';
import { type Day, dayFromText, textFromDay } from '../numeric/day.js';
import { SITE_FILE } from './columnNames.js';
import { type DraftLives, KEPT } from './draftLives.js';

export interface DataDay {
  dataUntil: Day;
  /** What was assumed, or null where the day is given. */
  assumed: string | null;
}

/**
 * @param given the day in site.json
 * @param option the day a caller names, YYYY-MM-DD, for a folder that does not say
 * @throws InputError where no day is given and none is in the history, or records begin later
 */
export function dataDay(
  draft: DraftLives,
  given: Day | null,
  option: string | undefined,
  recordsFrom: Day | null,
): DataDay {
  const day = given ?? optionDay(option) ?? latestDay(draft);
  if (day === null) {
    throw new InputError(
      'There is no day of the extract, and no date in lives.csv to take it from.',
      { file: SITE_FILE, column: 'data_until' },
      'Give data_until in site.json.',
    );
  }
  if (recordsFrom !== null && recordsFrom > day) {
    throw new InputError(
      `The records begin after the day of the extract (${textFromDay(day)}).`,
      { file: SITE_FILE, column: 'records_from', value: textFromDay(recordsFrom) },
      'Correct records_from, or give data_until.',
    );
  }
  const assumed =
    given === null && option === undefined
      ? `No data_until: the extract is taken to be of ${textFromDay(day)}, the latest day in lives.csv. If it was made later, diaphragms in place look younger than they are.`
      : null;
  return { dataUntil: day, assumed };
}

function optionDay(option: string | undefined): Day | null {
  if (option === undefined) return null;
  const day = dayFromText(option);
  if (day === null)
    throw new UsageError('readFleet', 'dataUntil must be a date that exists, YYYY-MM-DD.', option);
  return day;
}

function latestDay(draft: DraftLives): Day | null {
  let latest = -Infinity;
  for (let i = 0; i < draft.length; i++) {
    if (at(draft.state, i) !== KEPT) continue;
    for (const column of [draft.fitted, draft.removed, draft.lastTight, draft.recorded]) {
      if (floatAt(column, i) > latest) latest = floatAt(column, i);
    }
  }
  return latest === -Infinity ? null : latest;
}
