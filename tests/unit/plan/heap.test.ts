import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Heap } from '../../../src/plan/heap';

test('a heap gives back what a stable sort from the greatest would, under any mixture of steps', () => {
  const steps = fc.array(fc.oneof(fc.integer({ min: 0, max: 9 }), fc.constant('pop' as const)));
  fc.assert(
    fc.property(steps, (list) => {
      const heap = new Heap<number>();
      let plain: { key: number; value: number }[] = [];
      list.forEach((step, value) => {
        if (step === 'pop') {
          const [top] = [...plain].sort((a, b) => b.key - a.key || a.value - b.value);
          plain = plain.filter((one) => one !== top);
          expect(heap.pop()).toBe(top?.value);
        } else {
          heap.push(step, value);
          plain.push({ key: step, value });
        }
        expect(heap.size).toBe(plain.length);
        expect(heap.topKey).toBe(Math.max(-Infinity, ...plain.map(({ key }) => key)));
      });
    }),
  );
});
