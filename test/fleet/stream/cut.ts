/** Sources whose bytes come in pieces that a test chooses. */
import { type ByteSource, HELD_BYTES } from '../../../lib/fleet/stream/byteSource.js';
import type { StoredText } from '../../../lib/fleet/stream/storedText.js';

/** The bytes in pieces that end at the given places; taken for so large a file that it is never looked at as a whole first. */
export function cutAt(bytes: Uint8Array, places: readonly number[]): ByteSource {
  const ends = [...new Set(places.filter((place) => place > 0 && place < bytes.length))].sort(
    (a, b) => a - b,
  );
  return {
    size: HELD_BYTES + 1,
    *pieces() {
      let from = 0;
      for (const end of [...ends, bytes.length]) {
        yield bytes.slice(from, end);
        from = end;
      }
    },
    whole: () => bytes,
  };
}

export function storedIn(source: ByteSource, more: Partial<StoredText> = {}): StoredText {
  return { kind: 'stored', source, headerRow: null, mostBytes: 1e9, ...more };
}
