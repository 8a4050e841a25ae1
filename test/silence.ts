/** Nothing in the library prints, so a test in which something is printed fails. */
import { afterEach, beforeEach, expect, vi } from 'vitest';

const WAYS = ['log', 'info', 'warn', 'error', 'debug'] as const;

let spies: { way: string; calls: () => unknown[][] }[] = [];

beforeEach(() => {
  spies = WAYS.map((way) => {
    const spy = vi.spyOn(console, way).mockImplementation(() => undefined);
    return { way, calls: () => spy.mock.calls };
  });
});

afterEach(() => {
  const printed = spies.flatMap(({ way, calls }) =>
    calls().map((words) => `console.${way}: ${words.join(' ')}`),
  );
  vi.restoreAllMocks();
  expect(printed, 'a test must not print').toEqual([]);
});
