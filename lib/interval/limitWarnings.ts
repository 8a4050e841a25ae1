/** What limits of the maker ask of the calendar, and what pieces and the number of lines allowed keep from the stop at which it is due. */
import type { Warning } from '../findings.js';
import type { Fleet } from '../fleet/types.js';
import { count, counted, daysWords, listed, money } from '../numeric/words.js';
import type { IntervalAdvice, ShutdownTask } from './types.js';

const MOST_NAMES = 5;

interface Lack {
  item: string;
  shutdown: string;
  number: number;
}

/** `due` is the list by the due rule alone: what it finds no piece or no line for has to go elsewhere. */
export function limitWarnings(
  fleet: Fleet,
  intervals: readonly IntervalAdvice[],
  due: readonly ShutdownTask[],
  tasks: readonly ShutdownTask[],
): Warning[] {
  return [makersWarning(intervals), piecesWarning(fleet, due, tasks), linesWarning(due)].filter(
    (each): each is Warning => each !== null,
  );
}

/** Said once for the plant; each group has it too, with its lines and the gap. */
function makersWarning(intervals: readonly IntervalAdvice[]): Warning | null {
  const groups = intervals.filter(({ warnings }) =>
    warnings.some(({ code }) => code === 'limit-shorter-than-windows'),
  );
  if (groups.length === 0) return null;
  const all = groups.length === intervals.length ? 'every group' : counted(groups.length, 'group', 'groups');
  return {
    code: 'limits-beyond-calendar',
    text: `The calendar cannot hold a limit of the maker in ${all}: even if they are replaced at every window, diaphragms there get older than it.`,
    todo: 'Check the limits in site.json; then add windows, or ask the maker whether the limit can be extended for the duty, and keep the answer on record.',
  };
}

function piecesWarning(
  fleet: Fleet,
  due: readonly ShutdownTask[],
  tasks: readonly ShutdownTask[],
): Warning | null {
  const lacks = lacking(due);
  if (lacks.length === 0) return null;
  const words = lacks.map(({ item, shutdown, number }) => `${number} of ${item} at ${shutdown}`);
  const waits = tasks.filter(({ shortOf }) => shortOf === 'stock').length;
  const all = lacks.reduce((sum, { number }) => sum + number, 0);
  const past = `${count(waits, 'replacement waits', 'replacements wait')} past the interval for lack of them`;
  const wait =
    waits === 0
      ? 'All are done at other shutdowns, within their intervals'
      : waits < all
        ? `${past}, the others are done at other shutdowns`
        : past;
  return {
    code: 'pieces-bind',
    text: `More is due than there are diaphragms for (on the shelf and good, on order and due; a new order comes too late): ${listed(words, MOST_NAMES)}. ${wait}.`,
    todo: `Expedite these${hurryWords(fleet, lacks)}, or lend them from another store, where that costs less than waiting.`,
  };
}

/** What stores pays to have them sooner, where it is known. */
function hurryWords({ items, site }: Fleet, lacks: readonly Lack[]): string {
  const words = [...new Set(lacks.map(({ item }) => item))].flatMap((name) => {
    const item = items.find((each) => each.item === name);
    if (item === undefined || item.emergencyDays === null) return [];
    const { emergencyDays: days, emergencyExtraCost: cost } = item;
    return [`${name} in ${daysWords(days)}${cost === null ? '' : ` for ${money(cost, site.currency)} more`}`];
  });
  return words.length === 0 ? '' : ` (${listed(words, MOST_NAMES)})`;
}

function lacking(due: readonly ShutdownTask[]): Lack[] {
  const lacks = new Map<string, Lack>();
  for (const { shortOf, item, shutdown, start } of due) {
    if (shortOf !== 'stock' || item === null) continue;
    const key = JSON.stringify([start, shutdown, item]);
    const lack = lacks.get(key) ?? { item, shutdown, number: 0 };
    lack.number += 1;
    lacks.set(key, lack);
  }
  return [...lacks.values()];
}

function linesWarning(due: readonly ShutdownTask[]): Warning | null {
  const lines = new Map<string, { shutdown: string; lines: Set<string> }>();
  for (const { shortOf, line, shutdown, start } of due) {
    if (shortOf !== 'lines') continue;
    const key = JSON.stringify([start, shutdown]);
    const at = lines.get(key) ?? { shutdown, lines: new Set() };
    at.lines.add(line);
    lines.set(key, at);
  }
  if (lines.size === 0) return null;
  const words = [...lines.values()].map((at) => `${count(at.lines.size, 'line')} at ${at.shutdown}`);
  return {
    code: 'lines-bind',
    text: `More lines have work due than may be down at once (most_lines): ${listed(words, MOST_NAMES)} too many. Their work is done at other shutdowns, or is listed as not fitting.`,
    todo: 'Let more lines be down there, or give these lines a shutdown of their own.',
  };
}
