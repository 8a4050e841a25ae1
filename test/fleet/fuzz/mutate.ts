/** Ways in which files come to harm, each drawn from a seeded stream. */
import { itemAt } from '../../../lib/numeric/columns.js';
import type { RandomStream } from '../../../lib/numeric/random.js';
import type { Folder } from './folders.js';

type Harm = (bytes: Uint8Array, random: RandomStream) => Uint8Array;

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
const latin = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1');
const unlatin = (text: string): Uint8Array => new Uint8Array(Buffer.from(text, 'latin1'));
const lines = (bytes: Uint8Array): string[] => latin(bytes).split('\n');
const join = (all: readonly string[]): Uint8Array => unlatin(all.join('\n'));
const spot = (length: number, random: RandomStream): number => random.below(Math.max(1, length));

const flipBytes: Harm = (bytes, random) => {
  const out = bytes.slice();
  const times = 1 + random.below(8);
  for (let i = 0; i < times && out.length > 0; i++) out[spot(out.length, random)] = random.below(256);
  return out;
};

const cutAway: Harm = (bytes, random) => {
  const from = spot(bytes.length, random);
  const length = random.below(Math.min(400, bytes.length) + 1);
  return new Uint8Array([...bytes.subarray(0, from), ...bytes.subarray(from + length)]);
};

const cutShort: Harm = (bytes, random) => bytes.slice(0, spot(bytes.length, random));

const dropRows: Harm = (bytes, random) => {
  const all = lines(bytes);
  const share = random.uniform();
  return join(all.filter((_, i) => i === 0 || random.uniform() > share));
};

const repeatRows: Harm = (bytes, random) => {
  const all = lines(bytes);
  const from = spot(all.length, random);
  return join([...all, ...all.slice(from, from + 20)]);
};

const swapColumns: Harm = (bytes, random) => {
  const all = lines(bytes).map((line) => line.split(','));
  const width = all[0]?.length ?? 1;
  const [a, b] = [spot(width, random), spot(width, random)];
  const onlyBody = random.uniform() < 0.5;
  return join(
    all.map((cells, i) => {
      if (i === 0 && onlyBody) return cells.join(',');
      const out = [...cells];
      out[a] = cells[b] ?? '';
      out[b] = cells[a] ?? '';
      return out.join(',');
    }),
  );
};

const CELLS = [
  ...[
    '__proto__',
    'constructor',
    'toString',
    'NaN',
    'Infinity',
    '-0',
    '1e400',
    '9'.repeat(400),
    '1900-01-01',
    '9999-12-31',
  ],
  ...[
    '31/02/2024',
    '02/03/24',
    '2024-13-45',
    '-',
    'n/a',
    ' ',
    '\t',
    '"',
    '""',
    '"a',
    '|',
    '..',
    '=1+1',
    '\u200b',
    '\ud800',
    '1.2.3,4',
  ],
];

const strangeCell: Harm = (bytes, random) => {
  const all = lines(bytes);
  const row = spot(all.length, random);
  const cells = (all[row] ?? '').split(',');
  const huge = random.uniform() < 0.1;
  cells[spot(cells.length, random)] = huge
    ? 'x'.repeat(1 + random.below(200_000))
    : itemAt(CELLS, random.below(CELLS.length));
  all[row] = cells.join(',');
  return encode(all.join('\n'));
};

const openQuote: Harm = (bytes, random) => {
  const text = latin(bytes);
  const at = spot(text.length, random);
  return unlatin(`${text.slice(0, at)}"${text.slice(at)}`);
};

const otherEnds: Harm = (bytes, random) =>
  unlatin(latin(bytes).replaceAll('\n', itemAt(['\r', '\r\n', '\n\n', '\u0000', ';\n'], random.below(5))));

const otherSeparator: Harm = (bytes, random) =>
  unlatin(latin(bytes).replaceAll(',', itemAt([';', '\t', '|', ',,', ' '], random.below(5))));

const otherEncoding: Harm = (bytes, random) => {
  const text = new TextDecoder().decode(bytes);
  const utf16 = new Uint8Array(Buffer.from(text, 'utf16le'));
  return random.uniform() < 0.5
    ? utf16
    : new Uint8Array([0xff, 0xfe, ...utf16.subarray(0, utf16.length - random.below(2))]);
};

const empty: Harm = () => new Uint8Array(0);

const HARMS: readonly Harm[] = [
  ...[flipBytes, flipBytes, cutAway, cutShort, dropRows, repeatRows, swapColumns],
  ...[strangeCell, strangeCell, strangeCell, openQuote, otherEnds, otherSeparator, otherEncoding, empty],
];

/** Settings that are nested, missing, of the wrong kind or named like parts of every object. */
function harmedSettings(bytes: Uint8Array, random: RandomStream): Uint8Array {
  const text = new TextDecoder().decode(bytes);
  const depth = 1 + random.below(30_000);
  const nested = `{"columns":${'['.repeat(depth)}${']'.repeat(depth)}}`;
  const objects = `${'{"a":'.repeat(depth)}1${'}'.repeat(depth)}`;
  const keys = [
    '__proto__',
    'constructor',
    'prototype',
    'money',
    'columns',
    'values',
    'aliases',
    'cleaning',
    'limits',
    'formats',
  ];
  const values = [
    '{"polluted":true}',
    'null',
    '[]',
    '{"__proto__":{"polluted":true}}',
    '1e308',
    '"x"',
    '{"lives.csv":{"a":"__proto__"}}',
  ];
  const key = itemAt(keys, random.below(keys.length));
  const more = text.replace(/^\s*\{/, `{"${key}":${itemAt(values, random.below(values.length))},`);
  return encode(
    itemAt([nested, objects, more, more, more, text.replace(/\d+/, '-1'), `${text}//`], random.below(7)),
  );
}

/** The folder with one to three harms done to it. */
export function mutated(folder: Folder, random: RandomStream): Map<string, Uint8Array> {
  const out = new Map(folder);
  const names = [...folder.keys()];
  const times = 1 + random.below(3);
  for (let i = 0; i < times; i++) {
    const name = itemAt(names, random.below(names.length));
    const bytes = out.get(name);
    if (bytes === undefined) continue;
    if (random.uniform() < 0.03) out.delete(name);
    else if (name === 'site.json' && random.uniform() < 0.6) out.set(name, harmedSettings(bytes, random));
    else out.set(name, itemAt(HARMS, random.below(HARMS.length))(bytes, random));
  }
  return out;
}
