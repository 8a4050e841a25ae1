/** Leaks that come again: how often by line and over the plant, and whether lives change as time goes on. */
import type { Fleet } from '../../fleet/types.js';
import { itemAt, sum } from '../../numeric/columns.js';
import { count } from '../../numeric/words.js';
import type { GroupedFleet } from '../types.js';
import { expectedLeaks, spreadWithinLines } from './expectedLeaks.js';
import { leakCount } from './leakCount.js';
import { compareLines, RATE } from './lines.js';
import { renewalOf } from './renewal.js';
import type { Recurrence } from './types.js';
import { type Seen, type Watches, watchesOf } from './watches.js';
import { wearOutLives } from './wearOutLives.js';

const TREND_LABEL = 'tests a constant rate, not renewal';

/**
 * The mean cumulative number of leaks per position by line (`meanCumulative`), lines that differ from the others, and the renewal verdict
 * (METHODS 3.3) of each group and the plant. Leaks are those named; removals without a reason are told beside. Pure, and
 * without chance.
 */
export function findRecurrence(fleet: Fleet, grouped: GroupedFleet): Recurrence {
  const watches = watchesOf(fleet);
  const byPosition = expectedLeaks(watches, fleet.positions.length);
  const lines = linesOf(fleet);
  const members = [...lines.values()];
  const spread = spreadWithinLines(byPosition, members);
  const unknown = sum(watches.unknown);
  const unknownLeaks = unknown > 0 ? Math.min(1, grouped.leaksWithoutReason / unknown) : 0;
  const shared = { watches, byPosition, unknownLeaks, spread };
  const seen = seenByLine(fleet, watches, lines);
  const counts = members.map((own, i) => leakCount({ ...shared, ...itemAt(seen, i), members: own }));
  const names = [...lines.keys()];
  const everything = { spells: [...watches.position.keys()], leaks: [...watches.leak.day.keys()] };
  return {
    plant: leakCount({ ...shared, ...everything, members: [...fleet.positions.keys()] }),
    lines: compareLines(
      members.map((own, i) => ({ name: itemAt(names, i), members: own, count: itemAt(counts, i) })),
      byPosition,
      spread,
    ),
    spread,
    rate: RATE,
    trendLabel: TREND_LABEL,
    renewal: renewalOf(grouped.groups, wearOutLives(fleet, grouped.followed, grouped.groups.length)),
    notes: notesOf(watches, grouped),
  };
}

/** Positions of each line, in the order of the first of each. */
function linesOf({ positions }: Fleet): Map<string, number[]> {
  const lines = new Map<string, number[]>();
  positions.forEach(({ line }, p) => {
    const own = lines.get(line);
    if (own === undefined) lines.set(line, [p]);
    else own.push(p);
  });
  return lines;
}

function seenByLine(fleet: Fleet, { position, leak }: Watches, lines: ReadonlyMap<string, number[]>): Seen[] {
  const place = new Map([...lines.keys()].map((line, i) => [line, i]));
  const seen = Array.from(lines, () => ({ spells: [] as number[], leaks: [] as number[] }));
  const lineAt = (spell: number): number =>
    place.get(itemAt(fleet.positions, itemAt(position, spell)).line) ?? 0;
  position.forEach((_, spell) => {
    itemAt(seen, lineAt(spell)).spells.push(spell);
  });
  leak.spell.forEach((spell, k) => {
    itemAt(seen, lineAt(spell)).leaks.push(k);
  });
  return seen;
}

function notesOf({ leftOut, undated }: Watches, { leaksWithoutReason }: GroupedFleet): string[] {
  const notes: string[] = [];
  if (leftOut > 0) {
    notes.push(
      `${count(leftOut, 'leak falls', 'leaks fall')} on days on which the position was idle, out of service or not yet on record, and ${leftOut === 1 ? 'is' : 'are'} left out: check these dates.`,
    );
  }
  if (undated > 0) {
    notes.push(
      `${count(undated, 'position is', 'positions are')} left out, as the records do not say since when: give records_from in site.json.`,
    );
  }
  if (leaksWithoutReason >= 0.5) {
    notes.push(
      `Removals without a reason are not counted as leaks here: nothing says on which lines they were. About ${count(Math.round(leaksWithoutReason), 'of them was a leak', 'of them were leaks')}, shared out over the lines by such removals.`,
    );
  }
  return notes;
}
