/** How good the shutdown plan is: how far from the best possible, which hours bind, and what one more of them saves. */

import { amount, count, dateWords, hoursText, listed, money, percent } from '../chart/words.js';
import type { ShutdownLimit, ShutdownOptimum } from '../interval/types.js';
import type { Plan } from '../planTypes.js';
import { dataTable, type Html, html, name, prose } from './markup.js';
import { CAPTION, COLUMN, HEADING, SENTENCE } from './texts.js';

export function optimumPart({ optimum, site }: Plan): Html | null {
  if (optimum === null) return null;
  const { limits, positions } = optimum;
  return html`<h3>${HEADING.howGoodThisPlan}</h3>
<p><b>${isTold(optimum) ? `This plan is within ${gapText(optimum)} of the best possible` : 'How near this plan is to the best possible cannot be told'}</b> ${optimum.pastInterval === 0 ? 'that keeps the intervals within these hours' : 'within these hours'}, for the ${count(positions, 'position')} whose interval the data support: ${money(optimum.cost, site.currency)} of replacements, leaks and stops until the last window known, where no list costs less than ${money(optimum.lowerBound, site.currency)}. ${againstText(optimum, site.currency)}${lateText(optimum)}</p>
${limits.length === 0 ? html`<p>${SENTENCE.noHoursBindMoreThemWould}</p>` : null}${limitTable(limits, site.currency)}${otherLimits(limits, site.currency)}${beyondPart(optimum)}${windowsPart(optimum, site.currency)}`;
}

/** Above this share a gap says nothing that anybody could use: hours are too short to keep the intervals. */
const MOST_TOLD = 0.1;

/** Whether the gap is small enough to tell how good a plan is. */
export function isTold({ gap }: ShutdownOptimum): boolean {
  return gap <= MOST_TOLD;
}

/** "0.4 %"; what is left to gain is rounded up, so that it is never told too small. */
export function gapText({ gap }: ShutdownOptimum): string {
  return `${amount(Math.ceil(1000 * gap) / 10, 3)} %`;
}

function againstText({ cost, byDueRule }: ShutdownOptimum, currency: string): string {
  const saved = byDueRule - cost;
  if (saved < -0.001 * Math.abs(byDueRule)) {
    return `Each in the last window before it would be late, and hours to what is dearest to leave, they would cost ${money(byDueRule, currency)}, ${percent(-saved / cost)} less, but leave more past their intervals, or some of a higher criticality: those go first here, whatever they cost.`;
  }
  if (saved <= 0.001 * Math.abs(byDueRule)) return '';
  return `Put each into its last window in time, with the hours going to what is dearest to leave, and they cost ${money(byDueRule, currency)}, ${percent(saved / cost)} more.`;
}

function lateText({ pastInterval }: ShutdownOptimum): string {
  if (pastInterval === 0) return '';
  const get = pastInterval === 1 ? 'gets past its interval' : 'get past their intervals';
  return ` For lack of hours ${count(pastInterval, 'position')} ${get}: add hours first, the table says where they are short.`;
}

const isHours = ({ limit }: ShutdownLimit): boolean => limit.endsWith('hours');

function limitTable(all: readonly ShutdownLimit[], currency: string): Html | null {
  const limits = all.filter(isHours);
  if (limits.length === 0) return null;
  return dataTable({
    caption: CAPTION.whereCrewHoursBindWhat,
    columns: [
      { title: COLUMN.shutdown },
      { title: COLUMN.start },
      { title: COLUMN.hoursLeftOtherWorkH, number: true },
      { title: COLUMN.usedOfThemH, number: true },
      { title: COLUMN.moreHoursWanted, number: true },
      { title: `Saved by one more hour, ${currency}`, number: true },
    ],
    rows: limits.map(({ shutdown, start, limit, hoursLeft, hoursUsed, hoursShort, savingPerHour }) => [
      html`${name(shutdown)}${limit === 'crew hours' ? '' : `, ${limit}`}`,
      dateWords(start),
      hoursText(hoursLeft),
      hoursText(hoursUsed),
      hoursText(hoursShort),
      savingText(savingPerHour, currency),
    ]),
  });
}

/** Where windows after the calendar would be too full: the plan counts their hours as without limit. */
function beyondPart({ beyondCalendar }: ShutdownOptimum): Html | null {
  const { windows, overfull, mostHours, hours } = beyondCalendar;
  if (overfull === 0 || mostHours === null || hours === null) return null;
  const fullest = `the fullest would take ${hoursText(mostHours)} h where ${hoursText(hours)} h are left`;
  return html`<p><b>After the end of the calendar</b> ${amount(overfull, 9)} of ${count(windows, 'window')} that repeat it would be too full (${fullest}), so that what it costs to go on from there is told too low: enter further shutdowns, or plan more hours for them.</p>`;
}

/** What one more window would save; it pays only where its stop costs less than that. */
function windowsPart({ extraWindows }: ShutdownOptimum, currency: string): Html | null {
  if (extraWindows === null) return html`<p>${SENTENCE.whatOneMoreWindowWouldSave}</p>`;
  const [best] = extraWindows.filter(({ savingPerYear }) => savingPerYear > 0);
  if (best === undefined) return null;
  const { lines, after, before, day, savingPerYear, positions } = best;
  return html`<p><b>One more window</b> about ${dateWords(day)}, between ${name(after)} and ${name(before)}, on ${name(listed(lines, 8))} would save about ${money(savingPerYear, currency)} a year in replacements and leaks of ${count(positions, 'position')}, before the cost of the stop itself. Make it only where the stop costs less than that. Looked at: the widest gap of the calendars with most at stake, as if hours there had no limit.</p>`;
}

/** What one unit of a limit is called. */
const UNITS: Readonly<Record<string, string>> = {
  replacements: 'replacements allowed (most_replacements)',
  lines: 'lines down (most_lines)',
};

/** Limits in numbers: replacements, lines, pieces. Of pieces, all that are taken up to that shutdown count. */
function otherLimits(all: readonly ShutdownLimit[], currency: string): Html | null {
  // Where one more would save nothing, the number does not bind.
  const limits = all.filter((each) => !isHours(each) && each.savingPerHour !== 0);
  if (limits.length === 0) return null;
  return dataTable({
    caption: CAPTION.whereNumberBindsWhatOne,
    columns: [
      { title: COLUMN.shutdown },
      { title: COLUMN.start },
      { title: COLUMN.limit },
      { title: COLUMN.leftByOtherWork, number: true },
      { title: COLUMN.used, number: true },
      { title: COLUMN.moreWanted, number: true },
      { title: `Saved by one more, ${currency}`, number: true },
    ],
    rows: limits.map(({ shutdown, start, limit, item, hoursLeft, hoursUsed, hoursShort, savingPerHour }) => [
      name(shutdown),
      dateWords(start),
      item === null ? (UNITS[limit] ?? limit) : prose(`pieces of ${item}: expedite`),
      amount(hoursLeft, 9),
      amount(hoursUsed, 9),
      amount(hoursShort, 9),
      savingText(savingPerHour, currency),
    ]),
  });
}

function savingText(saving: number | null, currency: string): string {
  if (saving === null) return 'an interval kept';
  return saving > 0 ? money(saving, currency).replace(` ${currency}`, '') : 'nothing';
}
