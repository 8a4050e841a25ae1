/** Unpacks an LZ4 frame (LZ4 frame format 1.6 and block format, from memory), as Arrow files hold them; checksums are not looked at. */

const MAGIC = 0x184d2204;
const UNPACKED_BLOCK = 0x80000000;

/** @throws Error where the frame does not give exactly `length` bytes */
export function unpackLz4(bytes: Uint8Array, length: number): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (view.getUint32(0, true) !== MAGIC) throw new Error('a packed part is no LZ4 frame');
  const flags = view.getUint8(4);
  const hasBlockSum = (flags & 0x10) !== 0;
  let from = 7 + ((flags & 0x08) === 0 ? 0 : 8) + ((flags & 0x01) === 0 ? 0 : 4);
  const output = new Uint8Array(length);
  let to = 0;
  for (;;) {
    const head = view.getUint32(from, true);
    from += 4;
    if (head === 0) break;
    const size = head & ~UNPACKED_BLOCK;
    const block = bytes.subarray(from, from + size);
    if (block.length !== size) throw new Error(BROKEN);
    if (head >= UNPACKED_BLOCK) output.set(block, to);
    to = head >= UNPACKED_BLOCK ? to + size : unpackBlock(block, output, to);
    from += size + (hasBlockSum ? 4 : 0);
  }
  if (to !== length) throw new Error(BROKEN);
  return output;
}

const BROKEN = 'a packed part is broken';

/** Copies what stands in the block and what repeats earlier bytes; returns the place behind the last byte written. */
function unpackBlock(block: Uint8Array, output: Uint8Array, start: number): number {
  let from = 0;
  let to = start;
  const next = (): number => {
    const byte = block[from++];
    if (byte === undefined) throw new Error(BROKEN);
    return byte;
  };
  const longer = (nibble: number): number => {
    let length = nibble;
    for (let byte = nibble === 15 ? 255 : 0; byte === 255; ) {
      byte = next();
      length += byte;
    }
    return length;
  };
  while (from < block.length) {
    const token = next();
    const plain = longer(token >> 4);
    if (from + plain > block.length || to + plain > output.length) throw new Error(BROKEN);
    output.set(block.subarray(from, from + plain), to);
    from += plain;
    to += plain;
    if (from >= block.length) break;
    const back = next() + 256 * next();
    const repeated = 4 + longer(token & 15);
    if (back === 0 || back > to || to + repeated > output.length) throw new Error(BROKEN);
    for (const end = to + repeated; to < end; to++) output[to] = output[to - back] as number;
  }
  return to;
}
