/** The order of the rooms: a room imports from itself and from the rooms below it. */
import { posix } from 'node:path';
import { importsOf, type SourceFile } from './source.js';

/** From the ground floor up. A name with '.ts' is a file beside the rooms. */
export const ROOMS: readonly string[] = [
  'errors.ts',
  'findings.ts',
  'version.ts',
  'numeric',
  'life',
  'recurrence',
  'fleet',
  'exposure',
  'group',
  'cost',
  'interval',
  'demand',
  'stock',
  'yearly',
  'simulate',
  'planTypes.ts',
  'planTexts.ts',
  'plan.ts',
  'chart',
  'render',
  'sideThread.ts',
  'sideWorker.ts',
  'report',
  'cli.ts',
  'index.ts',
];

/** Rooms that have their place in the order and are not built yet; the guide for developers says so beside them. */
export const ROOMS_TO_COME: readonly string[] = ['simulate'];

/** What breaks the order in these files of lib/, one sentence each. */
export function roomFaults(files: SourceFile[]): string[] {
  return files.flatMap((file) => {
    const own = roomOf(file.path);
    if (own === null) return [`${file.path} is in no room that the house knows.`];
    return importsOf(file)
      .filter((name) => name.startsWith('.'))
      .map((name) => posix.join(posix.dirname(file.path), name).replace(/\.js$/, '.ts'))
      .flatMap((target) => faultOf(file.path, own, target));
  });
}

function faultOf(path: string, own: number, target: string): string[] {
  const other = roomOf(target);
  if (other === null) return [`${path} imports ${target}, which is in no room that the house knows.`];
  return other > own ? [`${path} imports ${target}, which is above it.`] : [];
}

/** Height of the room of a path, or null where the house has no such room. */
function roomOf(path: string): number | null {
  const [lib, room] = path.split('/');
  const height = ROOMS.indexOf(room ?? '');
  return lib !== 'lib' || height < 0 ? null : height;
}
