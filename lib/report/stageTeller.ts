/** What the command is at, on a line that is written over and is gone at the end. */

/** Where the line goes: standard error where it is a terminal. */
export interface Screen {
  isTTY?: boolean;
  columns?: number;
  write: (text: string) => unknown;
}

export interface StageTeller {
  /** The next stage begins. */
  next: () => void;
  /** Takes the line away. */
  end: () => void;
}

const BAR = 20;
const CLEAR = '\r\u001b[K';

/** Tells the stages in their order, each as it begins; silent where the screen is no terminal, so that logs and pipes stay clean. */
export function stageTeller(stages: readonly string[], screen: Screen): StageTeller {
  let begun = 0;
  const isShown = screen.isTTY === true;
  return {
    next: () => {
      if (!isShown || begun >= stages.length) return;
      screen.write(`${CLEAR}${barOf(begun, stages).slice(0, widthOf(screen) - 1)}`);
      begun += 1;
    },
    end: () => {
      if (isShown && begun > 0) screen.write(CLEAR);
    },
  };
}

function barOf(done: number, stages: readonly string[]): string {
  const full = Math.round((BAR * done) / stages.length);
  return `[${'='.repeat(full)}${' '.repeat(BAR - full)}] ${done + 1} of ${stages.length}: ${stages[done]}`;
}

/** Letters in a line; some terminals say 0 for not known. */
function widthOf({ columns = 0 }: Screen): number {
  return columns > 0 ? columns : 80;
}
