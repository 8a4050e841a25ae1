/** Fleet folders in memory for tests. */
import type { Problem } from '../../lib/findings.js';
import { fleetOf } from '../../lib/fleet/read.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { textFromDay } from '../../lib/numeric/day.js';

export const SITE = { name: 'Test plant', currency: 'EUR', data_until: '2024-06-30' };

/** Reads files given as texts (or bytes); site.json may be an object, and is SITE unless given. */
export function readFiles(files: Record<string, string | Uint8Array | object>): Fleet {
  const bytes = new Map(
    Object.entries({ 'site.json': SITE, ...files }).map(([name, content]) => [name, bytesOf(content)]),
  );
  return fleetOf({ files: bytes, hash: '', unread: [] });
}

function bytesOf(content: string | Uint8Array | object): Uint8Array {
  if (content instanceof Uint8Array) return content;
  return new TextEncoder().encode(typeof content === 'string' ? content : JSON.stringify(content));
}

/** One position V1 (DN 25, line A) and the given rows of lives.csv. */
export function readLivesOf(lives: string[], more: Record<string, string | object> = {}): Fleet {
  return readFiles({
    'positions.csv': 'position,line,size\nV1,A,25\n',
    'lives.csv': `position,material,fitted,removed,reason,finding,last_tight\n${lives.join('\n')}\n`,
    ...more,
  });
}

export function withCode(fleet: Fleet, code: string): Problem[] {
  return fleet.findings.problems.filter((problem) => problem.code === code);
}

/** Code, row and what was done of every problem that concerns a row or was not merely noted. */
export function brief(fleet: Fleet): string[] {
  return fleet.findings.problems.map(({ code, row, done }) => `${code} ${row ?? '-'} ${done}`);
}

/** The lives as texts: tag, material, size, fitted, removed. */
export function livesOf({ lives, positions, materials }: Fleet): string[] {
  const day = (value: number | undefined): string =>
    value === undefined || Number.isNaN(value) ? '?' : textFromDay(value);
  return Array.from(lives.row, (row, i) => {
    const tag = positions[lives.position[i] ?? -1]?.position;
    const material = materials[lives.material[i] ?? -1];
    return `${tag} ${material} ${lives.size[i]} ${day(lives.fitted[i])}..${day(lives.removed[i])} row ${row}`;
  });
}
