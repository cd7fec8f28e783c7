/**
 * The checksum of stored bytes is Adler-32, RFC 1950 sections 2.2 and 8.2. Outside checks: the last four bytes of a zlib stream
 * are the Adler-32 of what it holds, most significant byte first (RFC 1950, section 2.2), here as Node's zlib writes them.
 */
import fc from 'fast-check';
import { deflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { checksum } from '../../src/keep/checksum';

const byZlib = (bytes: Uint8Array): number =>
  deflateSync(bytes).readUInt32BE(deflateSync(bytes).length - 4);

describe('the checksum of stored bytes', () => {
  it('is 1 for none, as RFC 1950 section 8.2 begins it', () => {
    expect(checksum(new Uint8Array())).toBe(1);
  });

  it('is what zlib writes at the end of a stream', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 20_000 }), (bytes) => {
        expect(checksum(bytes)).toBe(byZlib(bytes));
      }),
    );
  });

  it('is so at the lengths where the sums are reduced, and for a megabyte of the largest bytes', () => {
    for (const length of [3799, 3800, 3801, 5551, 5552, 5553, 7600, 65_521, 1_000_000]) {
      const bytes = new Uint8Array(length).fill(255);
      expect(checksum(bytes)).toBe(byZlib(bytes));
    }
  });

  it('tells a byte that has changed', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ minLength: 1 }),
        fc.nat(),
        fc.integer({ min: 1, max: 255 }),
        (bytes, at, by) => {
          const changed = bytes.slice();
          changed[at % bytes.length] = (changed[at % bytes.length]! + by) % 256;
          expect(checksum(changed)).not.toBe(checksum(bytes));
        },
      ),
    );
  });
});
