/** Small Parquet and Arrow files that are cut short or have a few bytes changed, each from its number. */
import * as arrow from '@uwdata/flechette';
import { randomStream } from '../../../lib/numeric/random.js';
import { arrowOf, columnsOfCsv, parquetOf } from './makeColumns.js';

const LINES = Array.from(
  { length: 40 },
  (_, i) =>
    `V${i % 7},2020-0${1 + (i % 9)}-1${i % 10},${i}.5,${i % 5 === 0 ? '' : 25},${i % 3 === 0 ? '' : 'EPDM'}`,
);
const COLUMNS = columnsOfCsv(`position,day,price,size,kind\n${LINES.join('\n')}\n`);

function whole(): Record<string, Uint8Array> {
  const typed = arrowOf(COLUMNS, true);
  const stream = arrow.tableToIPC(arrow.tableFromIPC(typed), { format: 'stream' }) as Uint8Array;
  return {
    'types.parquet': parquetOf(COLUMNS, true),
    'texts.parquet': parquetOf(COLUMNS, false),
    'types.arrow': typed,
    'texts.arrow': arrowOf(COLUMNS, false),
    'stream.arrow': stream,
  };
}

const WHOLE = Object.entries(whole());
/** Bytes that make a length zero, negative or very large. */
const EXTREMES = [0, 255, 127, 128];

/** The names of the files repeat in turn. */
export function damagedFile(number: number): { file: string; bytes: Uint8Array } {
  const [file, good] = WHOLE[number % WHOLE.length] as [string, Uint8Array];
  const random = randomStream(1, `damaged/${number}`);
  if (random.below(4) === 0) return { file, bytes: good.slice(0, random.below(good.length)) };
  const bytes = good.slice();
  // A third of the files is damaged at the end, where what the file says of itself stands.
  const from = random.below(3) === 0 ? Math.max(bytes.length - 600, 0) : 0;
  for (let left = 1 + random.below(8); left > 0; left--) {
    const byte = EXTREMES[random.below(6)] ?? random.below(256);
    bytes[from + random.below(bytes.length - from)] = byte;
  }
  return { file, bytes };
}
