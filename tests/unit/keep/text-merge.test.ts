import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { changeText, hunksBetween, mergeTexts, wellFormed } from '../../../src/keep/text-merge';

const text = fc.oneof(
  fc.string({ unit: 'grapheme', maxLength: 60 }),
  fc.lorem({ maxCount: 30 }),
  fc
    .array(fc.constantFrom('😀', '😁', '𝒜', ' ', '\n', 'a', 'é', 'e\u0301', '’'), { maxLength: 30 })
    .map((list) => list.join('')),
);

describe('what changes from one text to another', () => {
  it('gives the other when it is carried out, and splits no pair of surrogates', () => {
    fc.assert(
      fc.property(text, text, (from, to) => {
        let at = 0;
        let out = '';
        for (const hunk of hunksBetween(from, to)) {
          const removed = from.slice(hunk.at, hunk.at + hunk.remove);
          expect(wellFormed(hunk.insert + removed)).toBe(hunk.insert + removed);
          out += from.slice(at, hunk.at) + hunk.insert;
          at = hunk.at + hunk.remove;
        }
        expect(out + from.slice(at)).toBe(to);
      }),
    );
  });

  it('gives the other in a shared text', () => {
    fc.assert(
      fc.property(text, text, (from, to) => {
        const held = new Y.Doc().getText();
        held.insert(0, from);
        changeText(held, to);
        expect(held.toString()).toBe(to);
      }),
    );
  });

  it('is one word where one word was changed', () => {
    expect(hunksBetween('Her courage failed.', 'Her bravery failed.')).toEqual([
      { at: 4, remove: 7, insert: 'bravery' },
    ]);
  });

  it('is one stretch where a long body was rewritten, and does not take long', () => {
    const words = (seed: number): string =>
      Array.from({ length: 60_000 }, (_, at) => `${seed}x${(at * 7919 * seed) % 9973}`).join(' ');
    const begun = performance.now();
    expect(hunksBetween(words(3), words(5))).toHaveLength(1);
    expect(performance.now() - begun).toBeLessThan(3000);
  });
});

describe('two changes of one text', () => {
  it('are either of them where the other is none', () => {
    fc.assert(
      fc.property(text, text, (base, changed) => {
        expect(mergeTexts(base, changed, base)).toBe(changed);
        expect(mergeTexts(base, base, changed)).toBe(changed);
        expect(mergeTexts(base, changed, changed)).toBe(changed);
      }),
    );
  });

  it('are both kept, and the same is answered again', () => {
    fc.assert(
      fc.property(fc.lorem({ maxCount: 12 }), fc.nat(12), fc.nat(12), (base, one, other) => {
        const put = (at: number, word: string): string => {
          const words = base.split(' ');
          return [...words.slice(0, at), word, ...words.slice(at)].join(' ');
        };
        const merged = mergeTexts(base, put(one, 'ours1'), put(other, 'theirs2'));
        expect(merged).toContain('ours1');
        expect(merged).toContain('theirs2');
        expect(merged).toBe(mergeTexts(base, put(one, 'ours1'), put(other, 'theirs2')));
        for (const word of base.split(' ')) expect(merged).toContain(word);
      }),
    );
  });

  it('keeps once what one wrote and the other took over and went on with', () => {
    const base = 'A key in the earth.';
    const first = `${base} One window wrote this.`;
    const both = `${first} The other wrote that.`;
    expect(mergeTexts(base, both, first)).toBe(both);
    expect(mergeTexts(base, first, both)).toBe(both);
    const whole = `${base} Mary began it and Dickon came.`;
    expect(mergeTexts(base, whole, `${base} Mary began it`)).toBe(whole);
    const apart = mergeTexts(base, `${base} It was rusty.`, `Mary found it. ${base}`);
    expect(apart).toBe(`Mary found it. ${base} It was rusty.`);
  });

  it('are both kept where one word begins the other', () => {
    const base = 'A key in the earth.';
    for (const [one, other] of [
      [`${base} Art`, `${base} Arthur came`],
      [`${base} her`, `${base} He saw the other`],
      ['A key in the art.', 'A key in the arthouse.'],
    ] as const) {
      for (const merged of [mergeTexts(base, one, other), mergeTexts(base, other, one)]) {
        const added = one.split(' ').at(-1)!.replace('.', '');
        const more = other.split(' ').at(-1)!.replace('.', '');
        // Taken out once, the longer must not have been what held the shorter.
        expect(merged).toContain(more);
        expect(merged.replace(more, '')).toContain(added);
      }
    }
  });
});
