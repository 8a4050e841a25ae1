/** From when to when each position was watched, and the leaks seen meanwhile. */
import { type Fleet, type Position, REASONS } from '../../fleet/types.js';
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import type { Day } from '../../numeric/day.js';
import type { WatchColumns } from '../../recurrence/recurrentEvents.js';

/** Spells of watching, from the first to the last day, both among them; a position may have several. */
export interface Watches {
  position: number[];
  first: Day[];
  last: Day[];
  leak: {
    /** Index of the spell that it falls into. */
    spell: number[];
    day: Day[];
  };
  /** Removals without a reason in these spells, by position. */
  unknown: Float64Array;
  /** Leaks on days on which their position was not watched. */
  leftOut: number;
  /** Positions of which the records do not say since when they are watched. */
  undated: number;
}

const LEAKS: readonly number[] = [REASONS.indexOf('leak'), REASONS.indexOf('failed_test')];
const UNKNOWN = REASONS.indexOf('unknown');

/**
 * A position is watched from the day records begin or it came into service, whichever is later, to the day of the data or that
 * it went out of service, but for the days on which it was idle. Where the records do not say when they begin, a position is watched from
 * its first fitting on record. A leak or failed test counts on the day of removal, also where the day fitted is not known.
 */
export function watchesOf(fleet: Fleet): Watches {
  const out: Watches = {
    position: [],
    first: [],
    last: [],
    leak: { spell: [], day: [] },
    unknown: new Float64Array(fleet.positions.length),
    leftOut: 0,
    undated: 0,
  };
  const firstFitted = fleet.site.recordsFrom === null ? firstFittings(fleet) : null;
  const spellsOf: number[] = [];
  fleet.positions.forEach((position, p) => {
    spellsOf.push(out.position.length);
    const [from, until] = watchOf(fleet, position, firstFitted === null ? null : floatAt(firstFitted, p));
    if (from === -Infinity || from === Infinity) out.undated += 1;
    else addSpells(out, p, position, from, until);
  });
  spellsOf.push(out.position.length);
  addRemovals(fleet, out, spellsOf);
  return out;
}

/** Some of the spells, and the leaks in them. */
export interface Seen {
  spells: readonly number[];
  leaks: readonly number[];
}

/** The spells as systems of their own, or the positions as systems with gaps; ages in days from `origin`, leaks at noon. */
export function asColumns(
  { position, first, last, leak }: Watches,
  { spells, leaks }: Seen,
  origin: Day,
  by: 'spell' | 'position',
): WatchColumns {
  const nameOf = (spell: number): number => (by === 'spell' ? spell : itemAt(position, spell));
  return {
    system: spells.map(nameOf),
    start: spells.map((spell) => itemAt(first, spell) - origin),
    end: spells.map((spell) => itemAt(last, spell) + 1 - origin),
    eventSystem: leaks.map((k) => nameOf(itemAt(leak.spell, k))),
    eventAge: leaks.map((k) => itemAt(leak.day, k) + 0.5 - origin),
  };
}

/** First day fitted of each position; Infinity where none is on record. */
function firstFittings({ lives, positions }: Fleet): Float64Array {
  const first = new Float64Array(positions.length).fill(Infinity);
  for (let i = 0; i < lives.length; i++) {
    const p = wholeAt(lives.position, i);
    if (floatAt(lives.fitted, i) < floatAt(first, p)) first[p] = floatAt(lives.fitted, i);
  }
  return first;
}

function watchOf(
  { site }: Fleet,
  position: Position,
  firstFitted: number | null,
): [from: number, until: number] {
  const { inServiceSince, outOfServiceSince } = position;
  const from = Math.max(site.recordsFrom ?? -Infinity, inServiceSince ?? -Infinity, firstFitted ?? -Infinity);
  return [from, Math.min(site.dataUntil, outOfServiceSince ?? Infinity)];
}

function addSpells(out: Watches, p: number, { idle }: Position, from: Day, until: Day): void {
  const pauses = idle.length < 2 ? idle : [...idle].sort((a, b) => a.start - b.start);
  let next = from;
  const add = (last: Day): void => {
    if (last < next) return;
    out.position.push(p);
    out.first.push(next);
    out.last.push(last);
  };
  for (const { start, end } of pauses) {
    if (end < next || start > until) continue;
    add(start - 1);
    next = Math.max(next, end + 1);
  }
  add(until);
}

function addRemovals({ lives }: Fleet, out: Watches, spellsOf: readonly number[]): void {
  for (let i = 0; i < lives.length; i++) {
    const reason = lives.reason[i] as number;
    const day = floatAt(lives.removed, i);
    const leaked = LEAKS.includes(reason);
    if (Number.isNaN(day) || !(leaked || reason === UNKNOWN)) continue;
    const p = wholeAt(lives.position, i);
    const spell = spellAt(out, itemAt(spellsOf, p), itemAt(spellsOf, p + 1), day);
    if (spell < 0) {
      if (leaked) out.leftOut += 1;
    } else if (leaked) {
      out.leak.spell.push(spell);
      out.leak.day.push(day);
    } else out.unknown[p] = floatAt(out.unknown, p) + 1;
  }
}

function spellAt({ first, last }: Watches, from: number, to: number, day: Day): number {
  for (let spell = from; spell < to; spell++) {
    if (day >= itemAt(first, spell) && day <= itemAt(last, spell)) return spell;
  }
  return -1;
}
