/** New ids: UUIDv7 (RFC 9562, section 5.7), so that ids sort by the time they were made. */
import { v7 } from 'uuid';

/**
 * A maker of UUIDv7 ids. `now` gives milliseconds since 1970; `random` fills the bytes it is handed. Ids of one maker always
 * rise, within a millisecond and when the clock is set back: a 32-bit counter, begun at random, stands in the first
 * random bits (RFC 9562, section 6.2, method 1).
 */
export function makeIds(now: () => number, random: (bytes: Uint8Array) => void): () => string {
  let lastMs = -Infinity;
  let counter = 0;
  return () => {
    const bytes = new Uint8Array(16);
    random(bytes);
    const nowMs = Math.floor(now());
    if (nowMs > lastMs) {
      lastMs = nowMs;
      // The top bit is left clear so that the counter has room to rise.
      counter = new DataView(bytes.buffer).getUint32(6) >>> 1;
    } else if (counter === 0xffffffff) {
      lastMs += 1;
      counter = 0;
    } else counter += 1;
    return v7({ msecs: lastMs, seq: counter, random: bytes });
  };
}
