import fc from 'fast-check';
import { expect, test } from 'vitest';
import { snippet } from '../../../src/app/parts/lit';

const lit = (text: string, marks: readonly [number, number][]): string[] =>
  marks.map(([from, to]) => text.slice(from, to));

test('what is lit is shown, with or without spaces round about', () => {
  const long = '庭'.repeat(400);
  for (const [before, after] of [
    [long, long],
    [long, ` ${long}`],
    [`${long} `, long],
    ['a word '.repeat(80), ' and more'.repeat(80)],
  ] as const) {
    const text = `${before}秘密${after}`;
    const cut = snippet(text, [[before.length, before.length + 2]], 120);
    expect(lit(cut.text, cut.marks)).toEqual(['秘密']);
    expect(cut.text.length).toBeLessThanOrEqual(120 + 60);
  }
});

test('no character of two halves is cut', () => {
  fc.assert(
    fc.property(
      fc.array(fc.constantFrom('😀', '👩‍🌾', 'a', ' '), { minLength: 60, maxLength: 200 }),
      fc.nat(50),
      (parts, at) => {
        const text = parts.join('');
        const from = parts.slice(0, at).join('').length;
        const cut = snippet(text, [[from, from + parts[at]!.length]], 30);
        expect(cut.text.isWellFormed()).toBe(true);
      },
    ),
  );
});
