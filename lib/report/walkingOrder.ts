/** Tasks in the order in which a crew goes round. */
import type { ShutdownTask } from '../interval/types.js';
import { compareText, naturalKey } from '../numeric/naturalOrder.js';

/** By line, then where they are, then position. */
export function inWalkingOrder(tasks: readonly ShutdownTask[]): ShutdownTask[] {
  const keyOf = keys();
  return tasks
    .map((task) => ({ task, line: keyOf(task.line), place: keyOf(task.location), tag: keyOf(task.position) }))
    .sort(
      (a, b) =>
        compareText(a.line, b.line) ||
        compareText(a.place, b.place) ||
        compareText(a.tag, b.tag) ||
        compareText(a.task.position, b.task.position),
    )
    .map(({ task }) => task);
}

/** Keys of texts, each worked out once: a plant has few lines. */
function keys(): (text: string) => string {
  const known = new Map<string, string>();
  return (text) => {
    const key = known.get(text) ?? naturalKey(text);
    known.set(text, key);
    return key;
  };
}
