/** Tables of a FlatBuffers message (FlatBuffers binary format, from memory), read so that no place or length leads out of its bytes. */

export interface FlatView {
  size: number;
  uint8(at: number): number;
  int16(at: number): number;
  int32(at: number): number;
  int64(at: number): number;
}

/** A field that the table does not have is 0 or null; `slot` is its place in the list of fields, in bytes. */
export interface FlatTable {
  size: number;
  uint8(slot: number): number;
  int16(slot: number): number;
  int32(slot: number): number;
  int64(slot: number): number;
  table(slot: number): FlatTable | null;
  /** Looks at each entry of a vector, whose entries are so many bytes apart. */
  vector(slot: number, stride: number, each?: (at: number, view: FlatView) => void): void;
}

/** @throws Error where it does not hold */
export function inside(holds: boolean): void {
  if (!holds) throw new Error('a length in it does not fit the file');
}

/** Reading outside of the bytes throws RangeError. */
export function flatView(bytes: Uint8Array): FlatView {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return {
    size: bytes.length,
    uint8: (at) => view.getUint8(at),
    int16: (at) => view.getInt16(at, true),
    int32: (at) => view.getInt32(at, true),
    int64: (at) => Number(view.getBigInt64(at, true)),
  };
}

/** The table that the offset at a place leads to. */
export function flatTable(view: FlatView, at: number): FlatTable {
  const start = at + view.int32(at);
  const fields = start - view.int32(start);
  const end = view.int16(fields);
  const place = (slot: number): number => {
    const offset = slot < end ? view.int16(fields + slot) : 0;
    return offset === 0 ? 0 : start + offset;
  };
  const number = (read: (at: number) => number) => (slot: number) => {
    const where = place(slot);
    return where === 0 ? 0 : read(where);
  };
  return {
    size: view.size,
    uint8: number(view.uint8),
    int16: number(view.int16),
    int32: number(view.int32),
    int64: number(view.int64),
    table: (slot) => (place(slot) === 0 ? null : flatTable(view, place(slot))),
    vector: (slot, stride, each) => {
      const where = place(slot);
      if (where === 0) return;
      const base = where + view.int32(where);
      const length = view.int32(base);
      inside(length >= 0 && base + 4 + length * stride <= view.size);
      for (let i = 0; each !== undefined && i < length; i++) each(base + 4 + i * stride, view);
    },
  };
}
