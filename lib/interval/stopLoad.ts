/** A stop with the work that is listed there, and its hours as a whole. */
import { textFromDay } from '../numeric/day.js';
import type { Stop } from './stopCalendar.js';
import type { LeftInPlace, ShutdownLoad, ShutdownTask } from './types.js';

/** What happens at one stop. */
export interface StopWork {
  stop: Stop;
  tasks: ShutdownTask[];
  leftInPlace: LeftInPlace[];
  /** True where nothing is past its interval afterwards that is not better left. */
  clear: boolean;
}

export function loadOf({ stop, tasks, leftInPlace }: StopWork): ShutdownLoad {
  const fitting = tasks.filter((task) => task.fits);
  return {
    shutdown: stop.name,
    start: stop.startText,
    end: textFromDay(stop.shutdown.end),
    lines: stop.shutdown.lines,
    crewHours: stop.shutdown.crewHours,
    fitterHours: stop.shutdown.fitterHours,
    instrumentHours: stop.shutdown.instrumentHours,
    mostReplacements: stop.shutdown.mostReplacements,
    mostLines: stop.shutdown.mostLines,
    hoursNeeded: hoursOf(tasks),
    hoursPlanned: hoursOf(fitting),
    hoursAfterStartUp: fitting.reduce((sum, task) => sum + task.afterStartUpHours, 0),
    replacements: fitting.length,
    doNotFit: tasks.length - fitting.length,
    leftInPlace,
  };
}

function hoursOf(tasks: readonly ShutdownTask[]): number {
  return tasks.reduce((sum, task) => sum + task.fitterHours + task.instrumentHours, 0);
}
