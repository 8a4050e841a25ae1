/** What the course of an item shows of its kits and of its lots. */
import type { Day } from '../numeric/day.js';
import { textFromDay } from '../numeric/day.js';
import { fittedOf, laidOutUntil, type PlannedPieces, type Watch } from './course.js';
import type { Pieces, Source } from './shelf.js';
import { total } from './shelf.js';
import type { KitSource, KitSupply, LotUse } from './types.js';

/** Expected pieces this close below a whole number count as that many. */
export const WHOLE = 0.05;

interface KitSeen {
  need: PlannedPieces;
  taken: Pieces[];
  sources: Record<Source, number>;
  usable: number;
}

interface LotSeen {
  /** Pieces by what takes them. */
  uses: Map<string, number>;
  expires: number;
}

export interface Followed {
  watch: Watch;
  kits: KitSeen[];
  lots: Map<string, LotSeen>;
}

export const LEAKS_AND_OPENINGS = 'leaks and openings';

export function follow(randomName = LEAKS_AND_OPENINGS): Followed {
  const kits: KitSeen[] = [];
  const lots = new Map<string, LotSeen>();
  const laidOut = kitsLaidOut();
  const seen = (pieces: Pieces): LotSeen | null => {
    if ((pieces.source ?? 'shelf') !== 'shelf') return null;
    const known = lots.get(keyOf(pieces)) ?? { uses: new Map<string, number>(), expires: 0 };
    lots.set(keyOf(pieces), known);
    return known;
  };
  const watch: Watch = {
    expired: (pieces) => {
      const lot = seen(pieces);
      if (lot !== null) lot.expires += pieces.quantity;
    },
    received: () => undefined,
    kit: (need, shelf) => {
      const free = laidOut.free(need, shelf);
      const taken = kitPieces(need, free);
      laidOut.add(need, taken);
      kits.push({ need, taken, ...supplyOf(need, free) });
    },
    taken: (from, quantity, kit) => {
      if (kit !== null) laidOut.used(kit, from, quantity);
      const use = kit ?? randomName;
      const uses = seen(from)?.uses;
      uses?.set(use, (uses.get(use) ?? 0) + quantity);
    },
  };
  return { watch, kits, lots };
}

function keyOf({ lot, useBy }: Pieces): string {
  return `${useBy} ${lot ?? ''}`;
}

/** Pieces laid out for kits: no other kit can have them until what is left of them is back. */
interface KitsLaidOut {
  /** What of a shelf a kit can have. */
  free: (need: PlannedPieces, shelf: readonly Pieces[]) => readonly Pieces[];
  add: (need: PlannedPieces, taken: readonly Pieces[]) => void;
  /** Of the pieces of a kit so many are off the shelf now. */
  used: (name: string, from: Pieces, quantity: number) => void;
}

function kitsLaidOut(): KitsLaidOut {
  let kits: { name: string; until: number; pieces: Pieces[] }[] = [];
  return {
    free: (need, shelf) => {
      kits = kits.filter(({ until }) => until >= fittedOf(need));
      if (kits.length === 0) return shelf;
      const promised = kits.flatMap(({ pieces }) => pieces);
      return withoutPieces(shelf, promised);
    },
    add: (need, taken) => {
      const pieces = taken.map((each) => ({ ...each }));
      kits.push({ name: need.name, until: laidOutUntil(need), pieces });
    },
    used: (name, from, quantity) => {
      const kit = kits.filter((each) => each.name === name).at(-1);
      if (kit !== undefined) kit.pieces = withoutPieces(kit.pieces, [{ ...from, quantity }]);
    },
  };
}

/** What is left of pieces when others of the same lots and sources are taken off. */
function withoutPieces(pieces: readonly Pieces[], taken: readonly Pieces[]): Pieces[] {
  const left = pieces.map((each) => ({ ...each }));
  for (const each of taken) {
    let quantity = each.quantity;
    for (const other of left) {
      if (keyOf(other) !== keyOf(each) || other.source !== each.source) continue;
      const off = Math.min(quantity, other.quantity);
      other.quantity -= off;
      quantity -= off;
    }
  }
  return left.filter(({ quantity }) => quantity > 0);
}

function supplyOf(need: PlannedPieces, shelf: readonly Pieces[]): Pick<KitSeen, 'sources' | 'usable'> {
  const until = fittedOf(need);
  const sources: KitSeen['sources'] = { shelf: 0, 'on order': 0, late: 0, planned: 0 };
  for (const { source, quantity, useBy } of shelf) if (useBy >= until) sources[source ?? 'shelf'] += quantity;
  return { sources, usable: total(shelf, until) };
}

/**
 * Whole pieces of a kit by where they come from, first expired first out. What is left of each is an expectation: the
 * bounds between lots are rounded to the nearest piece, what all of them give is never rounded up.
 */
export function kitPieces(need: PlannedPieces, shelf: readonly Pieces[]): Pieces[] {
  const { sources } = supplyOf(need, shelf);
  const until = fittedOf(need);
  const whole = Math.min(need.quantity, Math.floor(total(shelf, until) + WHOLE));
  const taken: Pieces[] = [];
  let [passed, given] = [0, 0];
  for (const pieces of shelf) {
    if (pieces.useBy < until) continue;
    passed += pieces.quantity;
    const source = pieces.source ?? 'shelf';
    const room = Math.floor(sources[source] + WHOLE);
    const quantity = Math.min(Math.round(passed) - given, room, whole - given);
    if (quantity < 1) continue;
    taken.push({ ...pieces, quantity });
    sources[source] -= quantity;
    given += quantity;
  }
  // Parts of pieces of several sources can make up a whole one: it goes to the last of them.
  const last = taken.at(-1);
  if (last !== undefined && whole > given) last.quantity += whole - given;
  return taken;
}

function sourceOf({ source, lot, useBy, quantity }: Pieces, today: Day): KitSource {
  // What is in no lot has no day of its own.
  const dated = lot !== undefined || source !== undefined;
  return {
    from: source ?? 'shelf',
    lot: lot ?? null,
    useBy: dated && Number.isFinite(useBy) ? textFromDay(Math.floor(today + useBy)) : null,
    quantity,
  };
}

/** Kits with what there is for them; `late` gives the pieces that even an emergency delivery does not bring in time. */
export function kitSupplies(
  { kits }: Followed,
  today: Day,
  leadDays: number,
  late: ReadonlyMap<string, number>,
): KitSupply[] {
  return kits.map(({ need, taken, sources, usable }) => {
    const missing = Math.ceil(Math.max(0, need.quantity - usable) - WHOLE);
    return {
      name: need.name,
      day: textFromDay(Math.floor(today + fittedOf(need))),
      onShelf: sources.shelf,
      onTheWay: sources['on order'],
      late: sources.late,
      toOrder: sources.planned,
      from: taken.map((pieces) => sourceOf(pieces, today)),
      short: Math.max(missing, late.get(need.name) ?? 0),
      orderBy: textFromDay(Math.floor(today + need.moment - leadDays)),
    };
  });
}

/** Lots of today's shelf with a use-by date before `until`, the first to expire first. */
export function lotUses({ lots }: Followed, shelf: readonly Pieces[], today: Day, until: number): LotUse[] {
  return shelf
    .filter(({ useBy }) => useBy <= until)
    .map((pieces) => {
      const seen = lots.get(keyOf(pieces));
      const uses = [...(seen?.uses ?? [])].filter(([, quantity]) => quantity >= 0.5);
      return {
        lot: pieces.lot ?? null,
        quantity: pieces.quantity,
        useBy: textFromDay(Math.floor(today + pieces.useBy)),
        for: uses.map(([use]) => use),
        expires: Math.round(seen?.expires ?? 0),
      };
    });
}
