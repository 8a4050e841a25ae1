/** What a work list cannot promise. */
import type { Warning } from '../findings.js';
import type { Fleet } from '../fleet/types.js';
import type { ShutdownTask } from './types.js';
import type { WorkPosition } from './workList.js';

/** Warnings of a work list; `unserved` are the positions on lines without a known window. */
export function shutdownWarnings(
  fleet: Fleet,
  hasCalendar: boolean,
  unserved: readonly WorkPosition[],
  tasks: readonly ShutdownTask[],
): Warning[] {
  const warnings: Warning[] = [];
  const due = unserved.filter(({ now }) => now.intervalDays !== null);
  if (!hasCalendar) {
    warnings.push({
      code: 'no-calendar',
      text: 'No calendar of shutdowns: the work is a due list by month, and no crew hours are checked.',
      todo: 'Give shutdowns.csv with the windows to come.',
    });
  } else if (due.length > 0) {
    const lines = [...new Set(due.map(({ position }) => position.line))].sort();
    warnings.push({
      code: 'lines-without-window',
      text: `${due.length} positions on lines without a window (${lines.slice(0, 5).join(', ')}${lines.length > 5 ? ' ...' : ''}) are listed by the month in which they are due.`,
      todo: 'Name these lines in shutdowns.csv, or leave its lines empty for a stop of the whole plant.',
    });
  }
  if (fleet.site.money.fittingHours === null && fleet.shutdowns.some(({ crewHours }) => crewHours !== null)) {
    warnings.push({
      code: 'hours-not-known',
      text: 'The hours of a replacement are not given, so that everything seems to fit into the crew hours.',
      todo: 'Give fitting_hours and retighten_hours in site.json.',
    });
  }
  const left = new Set(tasks.filter((task) => !task.fits).map((task) => task.position)).size;
  if (left > 0) {
    warnings.push({
      code: 'crew-hours-short',
      text: `${left} positions do not fit into the crew hours of a window at which they are due, some at more than one.`,
      todo: 'Add hours or a window, or take the list in the order given.',
    });
  }
  return warnings;
}
