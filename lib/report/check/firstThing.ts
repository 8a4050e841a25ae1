/** The one thing to do first. */
import type { Mend } from '../../fleet/quality/mends.js';
import { count } from '../../numeric/words.js';
import type { RecordsCheck } from './checkRecords.js';

/** A mend that brings in a smaller share of the lives comes after the reasons that matter. Our judgement. */
const WORTH_IT = 0.01;

/** A large mend, else the reasons that matter, else a small mend, else what is missing. */
export function firstThing(check: Omit<RecordsCheck, 'first'>): string {
  const { mends, reasons, livesInFits, switchedOff, assumed } = check;
  const best = mends.find(({ livesGained }) => livesGained > 0);
  if (best !== undefined && best.livesGained >= WORTH_IT * livesInFits) return mendSentence(best);
  const top = reasons[0];
  if (top !== undefined) {
    return `Ask why the diaphragm of ${top.position} was removed on ${top.removed}, then for the next ones of the list (${count(reasons.length, 'removal')}).`;
  }
  if (best !== undefined) return mendSentence(best);
  const clearer = mends.find(({ livesClearer }) => livesClearer > 0);
  if (clearer !== undefined) return `${clearer.todo} ${clearer.what}`;
  const missing = switchedOff[0] ?? assumed[0];
  if (missing !== undefined) return `Nothing in the records; fill in what is missing: ${missing}.`;
  return 'Nothing is in the way: plan with this folder.';
}

function mendSentence({ file, todo, livesGained, rows, row, value }: Mend): string {
  const place =
    row === null ? '' : `, first in row ${row}${value === null || value === '' ? '' : ` ("${value}")`}`;
  return `${todo} In ${file}: ${count(rows, 'row')}${place}; up to ${count(livesGained, 'life', 'lives')} more in the fits.`;
}
