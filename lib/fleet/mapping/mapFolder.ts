/** Looks at the tables of a folder and proposes its settings. */
import { readFile } from 'node:fs/promises';
import { InputError } from '../../errors.js';
import type { Findings } from '../../findings.js';
import { SITE_FILE } from '../columnNames.js';
import { MOST_BYTES } from '../csvText.js';
import { listFolder, pathInside } from '../folder.js';
import { readMappings } from '../mappings.js';
import { fleetOf } from '../read.js';
import { rawSite, readSite } from '../settings.js';
import { proposeMapping } from './proposeMapping.js';
import { siteText } from './siteText.js';
import { type Sources, sourcesOf } from './sources.js';
import type { MapProposal } from './types.js';

export interface MappedFolder {
  proposal: MapProposal;
  /** The proposed site.json. */
  text: string;
  /** Name under which it is written: site.json, or another where there is one. */
  name: string;
  /** What reading the folder with these settings gave, or why it could not be read. */
  reading: { findings: Findings | null; refused: string | null };
}

const TABLE = /\.(csv|tsv|txt|tab|xls[xm])(\.gz)?$/i;
/** Tables of kinds that are not looked into. */
const OTHER = /\.(xls|xlsb|ods|parquet|arrow)$/i;

/**
 * Proposes settings for a folder. Nothing is written here.
 * @throws InputError where the folder or its site.json cannot be read, or holds no table
 */
export async function mapFolder(folder: string): Promise<MappedFolder> {
  const names = (await listFolder(folder)).sort();
  const site = names.includes(SITE_FILE) ? await bytesOf(folder, SITE_FILE) : undefined;
  const mappings = readMappings(readSite(site));
  const { files, left } = await tablesOf(folder, names);
  const sources = sourcesOf(files, MOST_BYTES);
  sources.unread.push(...left);
  if (sources.tables.length === 0) throw noTable(folder, sources);
  const proposal = proposeMapping(sources, mappings);
  const text = siteText(proposal, rawSite(site));
  return { proposal, text, name: freeName(names), reading: reading(files, text) };
}

/** The files that may be tables. A link that leads out of the folder is not followed. */
async function tablesOf(
  folder: string,
  names: readonly string[],
): Promise<{ files: Map<string, Uint8Array>; left: Sources['unread'] }> {
  const files = new Map<string, Uint8Array>();
  const left: Sources['unread'] = [];
  for (const file of names.filter((name) => !name.startsWith('~$'))) {
    if (OTHER.test(file))
      left.push({ file, why: 'Tables of this kind are not looked into; save it as XLSX or CSV.' });
    if (!TABLE.test(file)) continue;
    try {
      const bytes = await bytesOf(folder, file);
      if (bytes.length <= MOST_BYTES) files.set(file, bytes);
      else left.push({ file, why: 'It is too large to be read.' });
    } catch (cause) {
      left.push({ file, why: cause instanceof Error ? cause.message : String(cause) });
    }
  }
  return { files, left };
}

async function bytesOf(folder: string, file: string): Promise<Uint8Array> {
  const path = await pathInside(folder, file);
  if (path === null) throw new InputError('The file cannot be read.', { file }, 'Check that it is there.');
  return readFile(path);
}

/** Settings are never written over. */
function freeName(names: readonly string[]): string {
  if (!names.includes(SITE_FILE)) return SITE_FILE;
  for (let number = 1; ; number++) {
    const name = number === 1 ? 'site.proposed.json' : `site.proposed-${number}.json`;
    if (!names.includes(name)) return name;
  }
}

/** Reads the folder with the proposed settings, as the plan would. */
function reading(files: ReadonlyMap<string, Uint8Array>, text: string): MappedFolder['reading'] {
  const all = new Map([...files].map(([name, bytes]) => [name.replace(/\.gz$/i, ''), bytes] as const));
  const whole = new Map([...all, ...files, [SITE_FILE, new TextEncoder().encode(text)] as const]);
  try {
    return { findings: fleetOf({ files: whole, hash: '', unread: [] }).findings, refused: null };
  } catch (cause) {
    if (cause instanceof InputError) return { findings: null, refused: cause.message };
    throw cause;
  }
}

function noTable(folder: string, { unread }: Sources): InputError {
  const why = unread.slice(0, 5).map(({ file, why: reason }) => `${file}: ${reason}`);
  return new InputError(
    `The folder holds no table that can be read.${why.length === 0 ? '' : ` ${why.join(' ')}`}`,
    { file: folder },
    'Put your exports into it, as CSV or XLSX.',
  );
}
