/** Looks at the tables of a folder and proposes its settings. */
import { lstat, readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { InputError } from '../../errors.js';
import type { Findings } from '../../findings.js';
import type { CodedTable } from '../coded/types.js';
import { columnarTables } from '../columnar/columnarTables.js';
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
  /** Settings that no export says, that are not in site.json, and without which a plan says little. */
  unsaid: string[];
  /** What reading the folder with these settings gave, or why it could not be read. */
  reading: { findings: Findings | null; refused: string | null };
}

const TABLE = /\.((csv|tsv|txt|tab)(\.gz)?|xls[xm]|parquet|arrow|feather)$/i;
/** Tables of kinds that are not looked into. */
const OTHER = /\.(xls|xlsb|ods|((xls[xm]|parquet|arrow|feather)\.gz))$/i;
/** Files of the folders in the folder that are looked at. */
const MOST_BELOW = 500;

/**
 * Proposes settings for a folder. Nothing is written here.
 * @throws InputError where the folder or its site.json cannot be read, or holds no table
 */
export async function mapFolder(folder: string): Promise<MappedFolder> {
  const names = (await listFolder(folder)).sort();
  const site = names.includes(SITE_FILE) ? await bytesOf(folder, SITE_FILE) : undefined;
  const mappings = readMappings(readSite(site));
  const below = await namesBelow(folder, names);
  const { files, columnar, left } = await tablesOf(folder, [...names, ...below.names]);
  const sources = sourcesOf(files, MOST_BYTES, columnar);
  sources.unread.push(...left, ...below.left);
  if (sources.tables.length === 0) throw noTable(folder, sources);
  const proposal = proposeMapping(sources, mappings);
  const text = siteText(proposal, rawSite(site));
  const before = rawSite(site);
  const unsaid = NEEDED_SETTINGS.filter((setting) => !(setting in before));
  return { proposal, text, name: freeName(names), unsaid, reading: reading(files, columnar, text) };
}

const NEEDED_SETTINGS = ['money', 'data_until', 'records_from'];

/** Files of the folders in the folder, by their path from it; folders in those, and links, are not looked into. */
async function namesBelow(
  folder: string,
  names: readonly string[],
): Promise<{ names: string[]; left: Sources['unread'] }> {
  const found: string[] = [];
  const left: Sources['unread'] = [];
  for (const name of names.filter((one) => !one.startsWith('.'))) {
    const kind = await lstat(join(folder, name)).catch(() => null);
    if (kind?.isSymbolicLink() === true && !TABLE.test(name) && !OTHER.test(name))
      left.push({
        file: name,
        why: 'It is a link, and is not followed; copy what it leads to into the folder.',
      });
    if (kind?.isDirectory() !== true) continue;
    const inside = (await readdir(join(folder, name), { withFileTypes: true }).catch(() => [])).sort(
      (a, b) => (a.name < b.name ? -1 : 1),
    );
    for (const one of inside) {
      const path = `${name}/${one.name}`;
      if (one.isDirectory())
        left.push({ file: `${path}/`, why: 'Folders are looked into one level down; move its files up.' });
      else if (found.length < MOST_BELOW) found.push(path);
      else left.push({ file: path, why: `Only ${MOST_BELOW} files of inner folders are looked at.` });
    }
  }
  return { names: found, left };
}

/** The files that may be tables. A link that leads out of the folder is not followed. */
async function tablesOf(
  folder: string,
  names: readonly string[],
): Promise<{
  files: Map<string, Uint8Array>;
  columnar: Map<string, CodedTable>;
  left: Sources['unread'];
}> {
  const files = new Map<string, Uint8Array>();
  const columnar = new Map<string, CodedTable>();
  const left: Sources['unread'] = [];
  for (const file of names.filter((name) => !/(^|\/)(~\$|\.)/.test(name))) {
    if (OTHER.test(file))
      left.push({
        file,
        why: 'Tables of this kind are not looked into; save it as XLSX or CSV, not packed.',
      });
    if (!TABLE.test(file)) continue;
    try {
      const bytes = await bytesOf(folder, file);
      if (bytes.length <= MOST_BYTES) {
        const tables = await columnarTables(new Map([[file, bytes]]), MOST_BYTES);
        for (const [name, table] of tables) columnar.set(name, table);
        files.set(file, bytes);
      } else left.push({ file, why: 'It is too large to be read.' });
    } catch (cause) {
      left.push({ file, why: cause instanceof Error ? cause.message : String(cause) });
    }
  }
  return { files, columnar, left };
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
function reading(
  files: ReadonlyMap<string, Uint8Array>,
  tables: ReadonlyMap<string, CodedTable>,
  text: string,
): MappedFolder['reading'] {
  const all = new Map([...files].map(([name, bytes]) => [name.replace(/\.gz$/i, ''), bytes] as const));
  const whole = new Map([...all, ...files, [SITE_FILE, new TextEncoder().encode(text)] as const]);
  try {
    return { findings: fleetOf({ files: whole, hash: '', unread: [], tables }).findings, refused: null };
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
