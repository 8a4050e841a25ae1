/** A plain simulation of single positions, day by day where it matters, to hold the path engine against. */
import type { LineWindow } from '../../lib/fleet/calendar.js';
import { scheduledDay } from '../../lib/interval/dueRule.js';
import type { RandomStream } from '../../lib/numeric/random.js';
import { FAULT_SCALE, FAULT_SHAPE, type PlantGroup } from './plant.js';

export interface WalkEvent {
  moment: number;
  kind: 'leak' | 'opened' | 'planned';
}

/** One position from its present age on, until the horizon or its end; moments are days from today (day 0). */
export function walkPosition(
  group: PlantGroup,
  age: number,
  interval: number | null,
  windows: readonly LineWindow[],
  horizon: number,
  random: RandomStream,
  ends: number | null = null,
): WalkEvent[] {
  const events: WalkEvent[] = [];
  let fitted = -age;
  let now = 0;
  for (;;) {
    const leak = fitted + lifeAbove(group, now - fitted, random);
    const rate = (group.openingsPerYear ?? 0) / 365.25;
    const opened = rate > 0 ? now - Math.log(random.uniform()) / rate : Infinity;
    const planned = scheduledDay(fitted, interval, windows, now, ends) ?? Infinity;
    const next = Math.min(leak, opened, planned);
    if (next > horizon || next >= (ends ?? Infinity)) return events;
    events.push({ moment: next, kind: next === leak ? 'leak' : next === opened ? 'opened' : 'planned' });
    fitted = next;
    now = next;
  }
}

/** A life given that it lasted to an age, by drawing whole lives until one does. */
function lifeAbove(group: PlantGroup, age: number, random: RandomStream): number {
  for (;;) {
    const wear = group.scale * (-Math.log(random.uniform())) ** (1 / group.shape);
    const faulty = random.uniform() < (group.share ?? 0);
    const early = faulty ? FAULT_SCALE * (-Math.log(random.uniform())) ** (1 / FAULT_SHAPE) : Infinity;
    const life = Math.min(wear, early);
    if (life > age) return life;
  }
}
