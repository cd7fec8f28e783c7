/**
 * Typefaces unpacked from WOFF2 against another reader of the same file (fontkit's own, outline by
 * outline) and against the same cuts published as WOFF 1, which packs tables whole.
 */
import { create, type Font } from 'fontkit';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { FACES, MORE_FACES } from '../../src/publish/faces';
import { unpackWoff2 } from '../../src/publish/pdf/woff2';

interface Whole extends Font {
  numGlyphs: number;
  getGlyph(id: number): { path: { toSVG(): string }; advanceWidth: number };
}

const read = (file: string): Uint8Array =>
  new Uint8Array(readFileSync(path.resolve('node_modules', file)));
const outlines = (font: Whole): string[] =>
  Array.from({ length: font.numGlyphs }, (_, id) => {
    const glyph = font.getGlyph(id);
    return `${glyph.advanceWidth} ${glyph.path.toSVG()}`;
  });

describe('a typeface unpacked from WOFF2', () => {
  test.each([...FACES, ...MORE_FACES].map((face) => face.path))(
    'has the outlines and widths another reader finds: %s',
    (file) => {
      const packed = read(file);
      const font = create(unpackWoff2(packed)) as Whole;
      expect(font.numGlyphs).toBeGreaterThan(20);
      expect(outlines(font)).toEqual(outlines(create(packed) as Whole));
    },
  );

  test.each(FACES.filter(({ face }) => face === 'Alegreya Sans').map((face) => face.path))(
    'has the outlines and widths of the same cut in WOFF 1: %s',
    (file) => {
      const font = create(unpackWoff2(read(file))) as Whole;
      const other = create(read(file.replace(/woff2$/, 'woff'))) as Whole;
      expect(outlines(font)).toEqual(outlines(other));
    },
  );

  test('is refused when it is not one, or ends too early', () => {
    expect(() => unpackWoff2(new Uint8Array(100))).toThrow('not a WOFF2');
    const whole = read(FACES[0]!.path);
    for (const length of [20, 60, 300, whole.length >> 1])
      expect(() => unpackWoff2(whole.slice(0, length))).toThrow();
  });
});
