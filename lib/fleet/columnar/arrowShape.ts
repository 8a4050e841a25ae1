/**
 * Whether the lengths that an Arrow file writes down fit the file, looked at before it is read: a reader that believes a damaged length
 * counts to it. Places of the fields are those of the tables of Arrow's Message.fbs, Schema.fbs and File.fbs (from memory).
 */
import { type FlatTable, flatTable, flatView, inside } from './flatTable.js';

const MAGIC = 'ARROW1';
const SCHEMA = 1;
const DICTIONARY_BATCH = 2;
const RECORD_BATCH = 3;
const DECIMAL = 7;
const UNION = 14;
/** More places than any decimal number of 256 bits has. */
const MOST_PLACES = 100;
/** Lists within lists within lists; a damaged file can hold itself. */
const DEEPEST = 40;

/** @throws Error where a length or a place in the file leads out of it, or back */
export function checkArrowShape(bytes: Uint8Array): void {
  const start = String.fromCharCode(...bytes.subarray(0, MAGIC.length));
  if (start === MAGIC) checkFile(bytes);
  else checkStream(bytes);
}

function checkFile(bytes: Uint8Array): void {
  const all = flatView(bytes);
  const end = bytes.length - MAGIC.length - 4;
  const length = all.int32(end);
  inside(length > 0 && length <= end);
  const footer = flatTable(all, end - length);
  const schema = footer.table(6);
  if (schema !== null) checkSchema(schema);
  footer.vector(12, 4);
  for (const slot of [8, 10]) {
    footer.vector(slot, 24, (at) => {
      checkMessage(bytes, all.int64(at));
    });
  }
}

function checkStream(bytes: Uint8Array): void {
  for (let at: number | null = 0; at !== null && at < bytes.length; ) at = checkMessage(bytes, at);
}

/** The place behind the message; null where the stream ends. */
function checkMessage(bytes: Uint8Array, start: number): number | null {
  inside(start >= 0 && start < bytes.length);
  const all = flatView(bytes);
  if (start + 4 > bytes.length) return null;
  let at = start + 4;
  let length = all.int32(start);
  if (length === -1) {
    if (at + 4 > bytes.length) return null;
    length = all.int32(at);
    at += 4;
  }
  if (length === 0) return null;
  inside(length > 0 && at + length <= bytes.length);
  const message = flatTable(flatView(bytes.subarray(at, at + length)), 0);
  const bodyLength = Math.max(message.int64(10), 0);
  at += length;
  inside(at + bodyLength <= bytes.length);
  checkContent(message, bytes.subarray(at, at + bodyLength));
  return at + bodyLength;
}

function checkContent(message: FlatTable, body: Uint8Array): void {
  const content = message.table(8);
  if (content === null) return;
  const kind = message.uint8(6);
  const entry = message.int16(4) < 3 ? 24 : 16;
  if (kind === SCHEMA) checkSchema(content);
  if (kind === RECORD_BATCH) checkBatch(content, body, entry, content.int64(4));
  const values = kind === DICTIONARY_BATCH ? content.table(6) : null;
  if (values !== null) checkBatch(values, body, entry, 0);
}

/** No column is longer than its bytes can hold, an eighth of a byte a value; columns without any bytes are as long as the batch. */
function checkBatch(batch: FlatTable, body: Uint8Array, entry: number, withoutBytes: number): void {
  const isPacked = batch.table(10) !== null;
  let room = 0;
  let buffers = 0;
  batch.vector(8, entry, (at, view) => {
    const from = view.int64(at + entry - 16);
    const length = view.int64(at + entry - 8);
    inside(from >= 0 && length >= 0 && from + length <= body.length);
    room += isPacked && length >= 8 ? Math.max(flatView(body).int64(from), length) : length;
    buffers++;
  });
  batch.vector(6, 16, (at, view) => {
    const length = view.int64(at);
    inside(length >= 0 && length <= Math.max(8 * room, withoutBytes));
  });
  batch.vector(12, 8, (at, view) => {
    inside(view.int64(at) >= 0 && view.int64(at) <= buffers);
  });
}

function checkSchema(schema: FlatTable): void {
  let left = schema.size;
  schema.vector(8, 4);
  const checkField = (field: FlatTable, depth: number): void => {
    // A field takes more than one byte: where there are more fields than bytes, some are met again and again.
    inside(depth <= DEEPEST && left-- > 0);
    field.vector(16, 4);
    const type = field.table(10);
    if (type !== null && field.uint8(8) === UNION) type.vector(6, 4);
    if (type !== null && field.uint8(8) === DECIMAL) inside(Math.abs(type.int32(6)) <= MOST_PLACES);
    field.vector(14, 4, (at, view) => {
      checkField(flatTable(view, at), depth + 1);
    });
  };
  schema.vector(6, 4, (at, view) => {
    checkField(flatTable(view, at), 0);
  });
}
