/**
 * Whole numbers of 0 and more one after another, each in as few bytes as it takes: seven bits to a byte, the lowest first, the eighth set where
 * more follow (unsigned LEB128, DWARF Debugging Information Format 5, section 7.6). Most of what an index holds are small numbers.
 */
import { withRoom } from './room';

const MORE = 0x80;
const BITS = 0x7f;
const MOST_BYTES = 5;

export class PackedNumbers {
  constructor(
    public bytes = new Uint8Array(16),
    /** Bytes taken. */
    public length = 0,
  ) {}

  /** Over what is given, which itself stays as it is. */
  static of(bytes: Uint8Array<ArrayBuffer>): PackedNumbers {
    return new PackedNumbers(bytes, bytes.length);
  }

  /** Below 2^31. */
  push(value: number): void {
    if (this.length + MOST_BYTES > this.bytes.length)
      this.bytes = withRoom(this.bytes, this.length + MOST_BYTES);
    let rest = value;
    while (rest > BITS) {
      this.bytes[this.length++] = (rest & BITS) | MORE;
      rest >>>= 7;
    }
    this.bytes[this.length++] = rest;
  }

  /** Goes through them from a byte where one begins. */
  from(at: number): NumberReader {
    return new NumberReader(this.bytes, at);
  }

  /** What is held, as an array of its own. */
  taken(): Uint8Array<ArrayBuffer> {
    return this.bytes.slice(0, this.length);
  }
}

export class NumberReader {
  constructor(
    readonly bytes: Uint8Array,
    /** The byte where the next one begins. */
    public at = 0,
  ) {}

  next(): number {
    const { bytes } = this;
    let byte = bytes[this.at++]!;
    if (byte < MORE) return byte;
    let [value, shift] = [byte & BITS, 7];
    do {
      byte = bytes[this.at++]!;
      value |= (byte & BITS) << shift;
      shift += 7;
    } while (byte >= MORE);
    return value;
  }
}
