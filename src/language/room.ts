type Growing = Int8Array | Uint8Array | Int32Array | Float32Array;

/** The same array where it has room for so many numbers, or its numbers in one at least twice as long, with 0 after them. */
export function withRoom<Held extends Growing>(held: Held, length: number): Held {
  if (length <= held.length) return held;
  const Kind = held.constructor as new (length: number) => Held;
  const grown = new Kind(Math.max(length, held.length * 2));
  grown.set(held);
  return grown;
}
