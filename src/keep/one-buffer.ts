/**
 * Plain data with large typed arrays as one run of bytes, so that a platform brings it in at one stroke and nothing in it is copied again: how long
 * the head is, the head as JSON, and then each array, which the head names by where it begins. Read by the program that wrote it on the machine
 * where it was written: the order of bytes is that machine's.
 */

const ARRAYS = { Int8Array, Uint8Array, Int16Array, Int32Array, Float32Array, Float64Array };
type ArrayName = keyof typeof ARRAYS;

/** What stands in the head for an array: its kind, the byte where it begins, how many numbers it holds. */
interface Lying {
  array: ArrayName;
  at: number;
  length: number;
}

/** Every array begins at a multiple of this many bytes. */
const STEP = 8;
const upTo = (bytes: number): number => Math.ceil(bytes / STEP) * STEP;

const isLying = (value: unknown): value is Lying =>
  typeof value === 'object' && value !== null && 'array' in value && 'at' in value;

/** The bytes, in parts that follow each other; arrays are not copied. Fields named `array` and `at` in one record are not for others to have. */
export function inOneBuffer(value: unknown): Uint8Array<ArrayBuffer>[] {
  const arrays: Uint8Array<ArrayBuffer>[] = [];
  let end = 0;
  const head = JSON.stringify(value, (_, held: unknown) => {
    if (!ArrayBuffer.isView(held)) return held;
    const { buffer, byteOffset, byteLength } = held;
    const array = held.constructor.name as ArrayName;
    const length = byteLength / ARRAYS[array].BYTES_PER_ELEMENT;
    const lying: Lying = { array, at: end, length };
    arrays.push(new Uint8Array(buffer as ArrayBuffer, byteOffset, byteLength));
    const gap = upTo(byteLength) - byteLength;
    if (gap > 0) arrays.push(new Uint8Array(gap));
    end += byteLength + gap;
    return lying;
  });
  const text = new TextEncoder().encode(head);
  const first = new Uint8Array(STEP + upTo(text.length));
  new DataView(first.buffer).setUint32(0, text.length);
  first.set(text, STEP);
  return [first, ...arrays];
}

/** The data, its arrays over the bytes given. @throws SyntaxError or RangeError where the bytes are not whole. */
export function fromOneBuffer(bytes: ArrayBuffer): unknown {
  const length = new DataView(bytes).getUint32(0);
  const head = new TextDecoder().decode(new Uint8Array(bytes, STEP, length));
  const begin = STEP + upTo(length);
  return JSON.parse(head, (_, held: unknown) =>
    isLying(held) ? new ARRAYS[held.array](bytes, begin + held.at, held.length) : held,
  );
}
