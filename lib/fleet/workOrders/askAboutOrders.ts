/** What the orders tell beyond single rows, said once each. */
import { count } from '../../numeric/words.js';
import { fault } from '../cell.js';
import type { RowBook } from '../rowBook.js';
import type { Tallies } from './followPosition.js';

export function noTallies(): Tallies {
  return {
    leaksLeft: { times: 0, row: 0 },
    withoutReason: 0,
    materialTaken: { times: 0, row: 0 },
    built: { times: 0, row: 0 },
    listedEnded: { times: 0, row: 0 },
  };
}

export function askAboutOrders(tallies: Tallies, book: RowBook): void {
  const { leaksLeft, withoutReason, materialTaken, built, listedEnded } = tallies;
  if (leaksLeft.times > 0) book.ask(leaksLeft.row, 'reason', null, leaksLeftText(leaksLeft.times));
  if (withoutReason > 0) book.ask(null, 'reason', null, noReason(withoutReason));
  if (materialTaken.times > 0)
    book.mend(materialTaken.row || null, 'material', null, materialText(materialTaken.times));
  if (built.times > 0) book.mend(built.row, 'date', null, builtText(built.times));
  if (listedEnded.times > 0) book.ask(listedEnded.row, 'date', null, listedText(listedEnded.times));
}

function leaksLeftText(times: number) {
  return fault(
    'leak-left-in-place',
    `${count(times, 'order tells of a leak', 'orders tell of leaks')} without opening the valve: the diaphragm stayed and its life goes on.`,
    'Write replaced or opened where the diaphragm was replaced after all.',
  );
}

function noReason(rows: number) {
  return fault(
    'reason-missing',
    `${count(rows, 'removal has', 'removals have')} no reason that can be read and ${rows === 1 ? 'counts' : 'count'} as unknown.`,
    'Give the reason where it is still known; unknown ones widen every answer.',
  );
}

function materialText(times: number) {
  return fault(
    'material-taken',
    `${count(times, 'life takes', 'lives take')} its material from material_next of the position, because no order of the position names one.`,
    'Give the material of each diaphragm that was fitted.',
  );
}

function builtText(times: number) {
  const begins = `${times === 1 ? 'is' : 'are'} taken to have begun`;
  return fault(
    'life-built',
    `${count(times, 'life that an order ended', 'lives that orders ended')} ${begins} at the last removal in lives.csv, where that day is not in doubt: no order fitted the diaphragm.`,
    'Give the order that fitted it.',
  );
}

function listedText(times: number) {
  return fault(
    'life-ended-by-order',
    `${count(times, 'diaphragm', 'diaphragms')} in place by lives.csv ${times === 1 ? 'was' : 'were'} taken out by a later order, and the history goes on from there.`,
    'Nothing.',
  );
}
