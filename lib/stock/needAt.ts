/** What is missing at a review so that no moment of its window is short (METHODS 5.4). */
import { itemAt } from '../numeric/columns.js';
import { calmShelf, copyOf, goOn, isCalm, JUST, type ShelfState } from './course.js';
import type { NettingInput } from './netting.js';
import { total } from './shelf.js';
import { marginOf } from './shortKits.js';

/** Most that is missing at the critical moments; no random target is above that of the last of them. */
export function needAt(plan: NettingInput, state: ShelfState): number {
  const moments = criticalMoments(plan, state);
  const last = itemAt(moments, moments.length - 1);
  const most = plan.randomTarget(state.now, last);
  const then = isCalm(plan, state, last) ? null : copyOf(state);
  let need = 0;
  for (const moment of moments) {
    const have = then === null ? calmShelf(plan, state, moment) : haveAt(plan, then, moment, state.now);
    if (most - have > need) need = Math.max(need, plan.randomTarget(state.now, moment) - have);
  }
  return need;
}

/** Usable at a moment to which a state is taken, without what kits since then may take above what is expected. */
function haveAt(plan: NettingInput, then: ShelfState, moment: number, since: number): number {
  goOn(plan, then, moment, false);
  return total(then.shelf) - then.owed - marginOf(plan.planned, since, moment);
}

/** Where the cover can be lowest, in order: both ends of the window, at planned needs, before receipts and after expiries. */
function criticalMoments(plan: NettingInput, { now, shelf, received }: ShelfState): number[] {
  const from = now + plan.lead;
  const to = Math.min(from + plan.review, Math.max(from, plan.horizon));
  const found = [from, to];
  const add = (moment: number): void => {
    if (moment > from && moment < to) found.push(moment);
  };
  for (const { moment } of plan.planned) add(moment);
  for (let i = received; i < plan.receipts.length; i++) {
    const { moment, useBy } = itemAt(plan.receipts, i);
    if (moment - JUST >= to) break;
    add(moment - JUST);
    add(useBy + JUST);
  }
  for (const { useBy } of shelf) add(useBy + JUST);
  if (found.length === 2) return from < to ? found : [to];
  found.sort((a, b) => a - b);
  return found.filter((moment, i) => moment !== found[i - 1]);
}
