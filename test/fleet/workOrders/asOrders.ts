/** A history of lives written as work orders, by nothing but what each row says: for tests that hold the two shapes against each other. */
import { csvQuoted } from '../../../lib/fleet/csvQuoted.js';
import { FINDINGS_AT_REMOVAL, type Fleet, REASONS } from '../../../lib/fleet/types.js';
import { at, floatAt, itemAt } from '../../../lib/numeric/columns.js';
import { textFromDay } from '../../../lib/numeric/day.js';

export interface Life {
  position: string;
  material: string;
  size: number;
  fitted: number;
  removed: number;
  reason: string;
  finding: string;
  lastTight: number;
  lot: string;
  fittedBy: string;
  recorded: number;
}

/** The lives of a fleet as plain rows, position by position, in order of time. */
export function plainLives({ lives, positions, materials, lotNames, fitters }: Fleet): Life[] {
  return Array.from({ length: lives.length }, (_, i) => ({
    position: itemAt(positions, at(lives.position, i)).position,
    material: itemAt(materials, at(lives.material, i)),
    size: floatAt(lives.size, i),
    fitted: floatAt(lives.fitted, i),
    removed: floatAt(lives.removed, i),
    reason: itemAt(REASONS, at(lives.reason, i)),
    finding: itemAt(FINDINGS_AT_REMOVAL, at(lives.finding, i)),
    lastTight: floatAt(lives.lastTight, i),
    lot: lotNames[at(lives.lot, i)] ?? '',
    fittedBy: fitters[at(lives.fittedBy, i)] ?? '',
    recorded: floatAt(lives.recorded, i),
  }));
}

export function byPosition(lives: readonly Life[]): Map<string, Life[]> {
  const map = new Map<string, Life[]>();
  for (const life of lives) {
    const list = map.get(life.position) ?? [];
    map.set(life.position, list);
    list.push(life);
  }
  const begin = (life: Life): number => (Number.isNaN(life.fitted) ? life.removed : life.fitted);
  for (const list of map.values()) list.sort((a, b) => begin(a) - begin(b));
  return map;
}

const day = (value: number): string => (Number.isNaN(value) ? '' : textFromDay(value));

/**
 * Whether orders can say all that the lives of a position say: of unknown age only the first, none in place of unknown age, none that
 * overlap or begin and end on one day, and a first one of the material that follows.
 */
export function canBeOrders(lives: readonly Life[]): boolean {
  return lives.every((life, i) => {
    const next = lives[i + 1];
    if (Number.isNaN(life.fitted) && (i > 0 || Number.isNaN(life.removed) || next === undefined))
      return false;
    if (Number.isNaN(life.fitted) && next?.material !== life.material) return false;
    if (life.fitted === life.removed) return false;
    if (next === undefined) return Number.isNaN(life.removed) || life.reason === 'retired';
    return next.fitted >= life.removed && life.reason !== 'retired';
  });
}

export function livesCsv(lives: readonly Life[]): string {
  const rows = [...lives]
    .sort((a, b) => start(a) - start(b))
    .map((life) =>
      [
        life.position,
        life.material,
        String(life.size),
        life.lot,
        day(life.fitted),
        day(life.removed),
        life.reason === 'unknown' ? '' : life.reason,
        life.finding === 'unknown' ? '' : life.finding,
        day(life.lastTight),
        life.fittedBy,
        day(life.recorded),
      ]
        .map(csvQuoted)
        .join(','),
    );
  return `position,material,size,lot,fitted,removed,reason,finding,last_tight,fitted_by,recorded\n${rows.join('\n')}\n`;
}

function start(life: Life): number {
  return Number.isNaN(life.fitted) ? life.removed : life.fitted;
}

type Order = { date: number; position: string; work: string } & Partial<
  Record<'material' | 'size' | 'lot' | 'reason' | 'finding' | 'done_by' | 'recorded', string>
>;

/** The lives of one position as orders. */
export function ordersOf(lives: readonly Life[]): Order[] {
  const orders: Order[] = [];
  lives.forEach((life, i) => {
    const before = lives[i - 1];
    if (!Number.isNaN(life.fitted) && before?.removed !== life.fitted)
      orders.push({ date: life.fitted, position: life.position, work: 'fitted', ...wentIn(life) });
    if (!Number.isNaN(life.lastTight))
      orders.push({ date: life.lastTight, position: life.position, work: 'tested' });
    if (Number.isNaN(life.removed)) return;
    const next = lives[i + 1];
    const same = next?.fitted === life.removed;
    const work = same ? (life.reason === 'opened' ? 'opened' : 'replaced') : 'removed';
    orders.push({
      date: life.removed,
      position: life.position,
      work,
      ...(same && next !== undefined ? wentIn(next) : {}),
      reason: life.reason === 'unknown' && work !== 'removed' ? '' : life.reason,
      finding: life.finding === 'unknown' ? '' : life.finding,
      recorded: day(life.recorded),
    });
  });
  return orders;
}

function wentIn(life: Life): Partial<Order> {
  return { material: life.material, size: String(life.size), lot: life.lot, done_by: life.fittedBy };
}

const COLUMNS = [
  'date',
  'position',
  'work',
  'material',
  'size',
  'lot',
  'reason',
  'finding',
  'done_by',
  'recorded',
] as const;

export function ordersCsv(orders: readonly Order[]): string {
  const rows = [...orders]
    .sort((a, b) => a.date - b.date)
    .map((order) =>
      COLUMNS.map((column) => csvQuoted(column === 'date' ? day(order.date) : (order[column] ?? ''))).join(
        ',',
      ),
    );
  return `${COLUMNS.join(',')}\n${rows.join('\n')}\n`;
}
