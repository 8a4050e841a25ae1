/** Tasks in the order in which a crew goes round. */
import type { ShutdownTask } from '../interval/types.js';
import { compareText, naturalKey } from '../numeric/naturalOrder.js';

/** By line, then where they are, then position. */
export function inWalkingOrder(tasks: readonly ShutdownTask[]): ShutdownTask[] {
  const keyed = tasks.map((task) => ({
    task,
    key: [task.line, task.location, task.position].map(naturalKey).join('\u0000'),
  }));
  return keyed
    .sort((a, b) => compareText(a.key, b.key) || compareText(a.task.position, b.task.position))
    .map(({ task }) => task);
}
