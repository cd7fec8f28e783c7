/** Adler-32 of bytes (RFC 1950, section 8.2), to notice bytes that changed on the disk; not against malice. */
export function checksum(bytes: Uint8Array): number {
  const MODULUS = 65_521;
  /** The most additions before the sums could overflow 32 bits. */
  const STRETCH = 3800;
  let a = 1;
  let b = 0;
  for (let at = 0; at < bytes.length; at += STRETCH) {
    const end = Math.min(at + STRETCH, bytes.length);
    for (let i = at; i < end; i++) {
      a += bytes[i]!;
      b += a;
    }
    a %= MODULUS;
    b %= MODULUS;
  }
  return ((b << 16) | a) >>> 0;
}
