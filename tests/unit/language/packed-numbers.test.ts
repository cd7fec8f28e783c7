import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NumberReader, PackedNumbers } from '../../../src/language/packed-numbers';

const number = fc.oneof(fc.nat(300), fc.nat(2 ** 31 - 1));

describe('packed numbers', () => {
  it('come out as they went in, also over stored bytes that are added to', () => {
    fc.assert(
      fc.property(fc.array(number), fc.array(number), (first, then) => {
        const packed = new PackedNumbers();
        for (const one of first) packed.push(one);
        const stored = packed.taken();
        const copy = [...stored];
        const again = PackedNumbers.of(stored);
        const ends = then.map((one) => {
          const at = again.length;
          again.push(one);
          return at;
        });
        const reader = again.from(0);
        expect([...first, ...then].map(() => reader.next())).toEqual([...first, ...then]);
        expect(reader.at).toBe(again.length);
        expect(ends.map((at) => again.from(at).next())).toEqual(then);
        expect([...stored]).toEqual(copy);
      }),
    );
  });
});

describe('their bytes', () => {
  it('are those of the examples of unsigned LEB128 (DWARF 5, section 7.6; values from memory)', () => {
    const examples: [number, number[]][] = [
      [2, [2]],
      [127, [127]],
      [128, [0x80, 1]],
      [129, [0x81, 1]],
      [12857, [0x39 + 0x80, 100]],
    ];
    for (const [value, bytes] of examples) {
      const packed = new PackedNumbers();
      packed.push(value);
      expect([...packed.taken()]).toEqual(bytes);
      expect(new NumberReader(Uint8Array.from(bytes)).next()).toBe(value);
    }
  });
});
