/** What the work on readings found, as plain data. */
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { amount, count, percent } from '../numeric/words.js';
import { ASIDE_WORDS, COUNTER_WORDS, counterEvent } from './eventTexts.js';
import {
  ASIDE_REASONS,
  COUNTER_EVENTS,
  COUNTERS,
  type CounterFindings,
  EXPOSURE_MARKS,
  type ExposureFindings,
  type ReadingsAside,
} from './exposureTypes.js';
import type { ReadingsWork } from './followPosition.js';

export function exposureFindings(work: ReadingsWork): ExposureFindings {
  const { fleet, notes, limits, rowsUsed, rowsOutside, rowsAside } = work;
  const rowsIn = fleet.readings.length;
  const findings = {
    rowsIn,
    rowsUsed,
    rowsSetAside: rowsIn - rowsUsed,
    setAside: asideOf(rowsAside),
    rowsOutsideLives: rowsOutside,
    counters: COUNTERS.map((_, c) => counterFindings(work, c)),
    events: notes.events.map((event) =>
      counterEvent(event, itemAt(fleet.positions, event.position).position),
    ),
    eventCounts: COUNTER_EVENTS.flatMap((code) => {
      const number = notes.counts.get(code) ?? 0;
      return number === 0 ? [] : [{ code, number }];
    }),
    limits: { ...limits },
  };
  return { ...findings, text: textOf(findings) };
}

function asideOf(numbers: ArrayLike<number>): ReadingsAside[] {
  return ASIDE_REASONS.flatMap((code, k) => {
    const number = at(numbers, k);
    return number === 0 ? [] : [{ code, number, ...ASIDE_WORDS[code] }];
  });
}

function counterFindings(work: ReadingsWork, c: number): CounterFindings {
  const { notes, valuesIn, valuesUsed } = work;
  const counter = itemAt(COUNTERS, c);
  const { marks, shareByRate } = marksOf(work, c);
  const lives = marks.reduce((total, { number }) => total + number, 0);
  const seen = marks.filter(({ number }) => number > 0).map(({ mark, share }) => `${mark} ${percent(share)}`);
  const rate =
    lives === 0 ? '' : `; ${percent(shareByRate)} of the counts come from a rate and not from readings`;
  return {
    counter,
    valuesIn: floatAt(valuesIn, c),
    valuesUsed: floatAt(valuesUsed, c),
    valuesSetAside: floatAt(valuesIn, c) - floatAt(valuesUsed, c),
    setAside: asideOf(itemAt(notes.asideValues, c)),
    marks,
    shareByRate,
    text: `${COUNTER_WORDS[counter]} of ${count(lives, 'life', 'lives')}: ${seen.join(', ') || 'none'}${rate}.`,
  };
}

function marksOf(
  { spans, isLife, tables }: ReadingsWork,
  c: number,
): Pick<CounterFindings, 'marks' | 'shareByRate'> {
  const { mark, exposure, byRate } = tables[itemAt(COUNTERS, c)];
  const numbers = new Array<number>(EXPOSURE_MARKS.length).fill(0);
  let [lives, counts, guessed] = [0, 0, 0];
  for (let i = 0; i < mark.length; i++) {
    if (at(isLife, i) === 0 || Number.isNaN(floatAt(spans.from, i)) || Number.isNaN(floatAt(spans.to, i)))
      continue;
    lives += 1;
    numbers[at(mark, i)] = at(numbers, at(mark, i)) + 1;
    if (Number.isNaN(floatAt(exposure, i))) continue;
    counts += floatAt(exposure, i);
    guessed += floatAt(byRate, i);
  }
  const marks = EXPOSURE_MARKS.map((name, k) => {
    const number = at(numbers, k);
    return { mark: name, number, share: lives === 0 ? 0 : number / lives };
  });
  return { marks, shareByRate: counts === 0 ? 0 : guessed / counts };
}

function textOf(findings: Omit<ExposureFindings, 'text'>): string {
  const { rowsIn, rowsUsed, rowsSetAside, rowsOutsideLives, counters, eventCounts } = findings;
  const events = eventCounts.reduce((total, { number }) => total + number, 0);
  const rows = `${count(rowsIn, 'row')} of readings: ${amount(rowsUsed, 12)} used, ${amount(rowsSetAside, 12)} set aside`;
  const outside = `${amount(rowsOutsideLives, 12)} of those used are from days without a diaphragm on record`;
  const told =
    events === 0 ? 'No counter did anything but rise.' : `${count(events, 'event')} of counters to look at.`;
  return [`${rows}; ${outside}.`, told, ...counters.map(({ text }) => text)].join(' ');
}
