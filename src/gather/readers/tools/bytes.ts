/** Two bytes, the greater first; nought beyond the end. */
export function word(bytes: Uint8Array, at: number): number {
  return ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0);
}

/** Four bytes, the greater first. */
export function quad(bytes: Uint8Array, at: number): number {
  return word(bytes, at) * 0x10000 + word(bytes, at + 2);
}

/** Two bytes, the lesser first. */
export function wordLow(bytes: Uint8Array, at: number): number {
  return (bytes[at] ?? 0) | ((bytes[at + 1] ?? 0) << 8);
}

/** Four bytes, the lesser first. */
export function quadLow(bytes: Uint8Array, at: number): number {
  return wordLow(bytes, at) + wordLow(bytes, at + 2) * 0x10000;
}

/** Bytes as the letters of the same numbers; the first thousand only. */
export function latin(bytes: Uint8Array): string {
  return String.fromCharCode(...bytes.subarray(0, 1000));
}

export function join(parts: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}
