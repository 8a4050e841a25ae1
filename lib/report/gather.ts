/** Warnings of many groups that say the same: said once, with the groups named. */
import type { Warning } from '../findings.js';

export interface GatheredWarning {
  /** Names of what it is about; empty where it is about the plant as a whole. */
  about: string[];
  /** What each of them is told, in the order of `about`. */
  texts: string[];
  todo: string;
}

/** Warnings of one kind with one thing to do, together; in the order in which the kinds first appear. */
export function gathered(warnings: readonly { about: string | null; warning: Warning }[]): GatheredWarning[] {
  const kinds = new Map<string, GatheredWarning>();
  for (const { about, warning } of warnings) {
    const key = JSON.stringify([warning.code, warning.todo, about === null ? warning.text : null]);
    const kind = kinds.get(key) ?? { about: [], texts: [], todo: warning.todo };
    kinds.set(key, kind);
    if (about === null) kind.texts = [warning.text];
    else {
      kind.about.push(about);
      kind.texts.push(warning.text);
    }
  }
  return [...kinds.values()];
}

/** "EPDM DN 8, dairy; FKM DN 15; 7 more": at most `most` by name. Names hold commas of their own. */
export function aboutWords({ about }: GatheredWarning, most: number): string {
  const rest = about.length - most;
  return rest > 0 ? [...about.slice(0, most), `${rest} more`].join('; ') : about.join('; ');
}
