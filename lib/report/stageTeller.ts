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
  /** What the stage at hand is at, in place of its own words; told only of a stage that takes long. */
  detail: (words: string) => void;
  /** Takes the line away. */
  end: () => void;
}

/** Seconds after which a stage takes long. */
const LONG = 2;
const BAR = 20;
const CLEAR = '\r\u001b[K';

/**
 * Tells the stages in their order, each as it begins; silent where the screen is no terminal, so that logs and pipes stay clean.
 * @param clock seconds since any moment
 */
export function stageTeller(stages: readonly string[], screen: Screen, clock: () => number): StageTeller {
  let begun = 0;
  let since = clock();
  let shown = '';
  const isShown = screen.isTTY === true;
  const show = (words: string): void => {
    const line = barOf(begun - 1, stages.length, words).slice(0, widthOf(screen) - 1);
    if (line !== shown) screen.write(`${CLEAR}${line}`);
    shown = line;
  };
  return {
    next: () => {
      if (!isShown || begun >= stages.length) return;
      begun += 1;
      since = clock();
      show(stages[begun - 1] ?? '');
    },
    detail: (words) => {
      if (isShown && begun > 0 && clock() - since >= LONG) show(words);
    },
    end: () => {
      if (isShown && begun > 0) screen.write(CLEAR);
    },
  };
}

function barOf(done: number, stages: number, words: string): string {
  const full = Math.round((BAR * done) / stages);
  return `[${'='.repeat(full)}${' '.repeat(BAR - full)}] ${done + 1} of ${stages}: ${words}`;
}

/** How far reading a file is, for `detail`. */
export function readingWords(file: string, share: number): string {
  return share < 1 ? `reading ${file} ${Math.floor(100 * share)} %` : `checking ${file}`;
}

/** Letters in a line; some terminals say 0 for not known. */
function widthOf({ columns = 0 }: Screen): number {
  return columns > 0 ? columns : 80;
}
