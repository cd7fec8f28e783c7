import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromOneBuffer, inOneBuffer } from '../../../src/keep/one-buffer';

const array = fc.oneof(
  fc.int8Array(),
  fc.uint8Array(),
  fc.int16Array(),
  fc.int32Array(),
  fc.float32Array({ noNaN: true }),
  fc.float64Array({ noNaN: true }),
);
const data = fc.record({
  name: fc.string(),
  count: fc.integer(),
  list: array,
  within: fc.record({ words: fc.string({ unit: 'grapheme' }), lists: fc.array(array) }),
});
const joined = async (value: unknown): Promise<ArrayBuffer> =>
  new Blob(inOneBuffer(value)).arrayBuffer();

describe('data in one buffer', () => {
  it('comes out as it went in, its arrays over the buffer itself', async () => {
    await fc.assert(
      fc.asyncProperty(data, async (value) => {
        const bytes = await joined(value);
        const again = fromOneBuffer(bytes) as typeof value;
        expect(again).toEqual(value);
        expect(again.list.constructor).toBe(value.list.constructor);
        expect(again.list.buffer).toBe(bytes);
      }),
    );
  });

  it('takes of an array only what it shows of its own buffer', async () => {
    const whole = Int32Array.from([1, 2, 3, 4]);
    const bytes = await joined({ part: whole.subarray(1, 3) });
    expect(fromOneBuffer(bytes)).toEqual({ part: Int32Array.from([2, 3]) });
  });

  it('is refused where bytes are missing', async () => {
    const bytes = await joined({ list: Int32Array.from({ length: 100 }, (_, at) => at) });
    for (const length of [4, 20, bytes.byteLength - 8])
      expect(() => fromOneBuffer(bytes.slice(0, length))).toThrow();
  });
});
