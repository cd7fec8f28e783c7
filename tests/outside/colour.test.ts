import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

/** Contrast as in WCAG 2.2; sight without one kind of cone by Machado, Oliveira & Fernandes 2009 (severity 1); distance in OKLab (Ottosson 2020). */
type Rgb = readonly [number, number, number];

const css = readFileSync('src/app/look/tokens.css', 'utf8');

/** The tokens of a scheme, from the file that screens use. */
function tokensOf(scheme: 'light' | 'dark'): Record<string, string> {
  const block =
    scheme === 'light'
      ? /:root\s*\{(.*?)\n\}/s.exec(css)
      : /:root\[data-scheme='dark'\]\s*\{(.*?)\n\}/s.exec(css);
  const found = [...(block?.[1] ?? '').matchAll(/--([\w-]+):\s*(#[0-9a-f]{6})/gi)];
  return Object.fromEntries(found.map(([, name, value]) => [name!, value!]));
}

const rgb = (hex: string): Rgb =>
  [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255) as unknown as Rgb;
const linear = (value: number): number =>
  value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
const luminance = (hex: string): number => {
  const [r, g, b] = rgb(hex).map(linear) as unknown as Rgb;
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const contrast = (a: string, b: string): number => {
  const [high, low] = [luminance(a), luminance(b)].sort((one, two) => two - one);
  return (high! + 0.05) / (low! + 0.05);
};
const times = (matrix: readonly Rgb[], [x, y, z]: Rgb): Rgb =>
  matrix.map(([a, b, c]) => a * x + b * y + c * z) as unknown as Rgb;

const SIGHT: Record<string, readonly Rgb[]> = {
  usual: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritan: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

function oklab(light: Rgb): Rgb {
  const clipped = light.map((value) => Math.min(1, Math.max(0, value))) as unknown as Rgb;
  const lms = times(
    [
      [0.4122214708, 0.5363325363, 0.0514459929],
      [0.2119034982, 0.6806995451, 0.1073969566],
      [0.0883024619, 0.2817188376, 0.6299787005],
    ],
    clipped,
  ).map(Math.cbrt) as unknown as Rgb;
  return times(
    [
      [0.2104542553, 0.793617785, -0.0040720468],
      [1.9779984951, -2.428592205, 0.4505937099],
      [0.0259040371, 0.7827717662, -0.808675766],
    ],
    lms,
  );
}

const apart = (a: string, b: string, sight: string): number => {
  const seen = (hex: string): Rgb =>
    oklab(times(SIGHT[sight]!, rgb(hex).map(linear) as unknown as Rgb));
  const [one, two] = [seen(a), seen(b)];
  return 100 * Math.hypot(one[0] - two[0], one[1] - two[1], one[2] - two[2]);
};

const DYES = ['walnut', 'indigo', 'woad', 'weld', 'madder'];
const GROUNDS = ['ground', 'panel', 'paper'];

describe('the measures of colour', () => {
  it('give the published value for black on white, and for mid grey', () => {
    // WCAG 2.2, definition of contrast ratio: 21 at most; #767676 on white is the well-known 4.54.
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
    // Ottosson 2020, table of pairs: linear XYZ of D65 white gives L = 1, a = b = 0.
    const [l, a, b] = oklab([1, 1, 1]);
    expect(l).toBeCloseTo(1, 3);
    expect(Math.hypot(a, b)).toBeLessThan(0.001);
  });

  it('leave greys grey for every sight, as rows of Machado’s matrices that add up to one do', () => {
    for (const matrix of Object.values(SIGHT)) {
      for (const row of matrix) expect(row[0] + row[1] + row[2]).toBeCloseTo(1, 4);
    }
  });
});

/** Tokens that the map is drawn with, by what they are for. */
function mapPalette(): Record<string, string> {
  const source = readFileSync('src/app/weave/map-words.ts', 'utf8');
  const body = /function palette\(\)(.*?)\n\}/s.exec(source)?.[1] ?? '';
  const found = [...body.matchAll(/(\w+): tokenColour\('--([\w-]+)'\)/g)];
  return Object.fromEntries(found.map(([, what, token]) => [what!, token!]));
}

describe.each(['light', 'dark'] as const)('in the %s scheme', (scheme) => {
  const tokens = tokensOf(scheme);

  it('threads, open lozenges, warps and glyphs, dimmed ones too, stand out from every ground: 3 to 1 (WCAG 1.4.11)', () => {
    // Marks of the map take their tokens from its palette; `faint` links only hint at what the list tells.
    const { ground: _ground, faint, ...marks } = mapPalette();
    expect(Object.keys(marks).sort()).toEqual(['act', 'dim', 'ink', 'ink2', 'line']);
    expect(faint).toBe('hair');
    for (const ground of GROUNDS) {
      for (const mark of [...DYES.map((dye) => `thread-${dye}`), ...Object.values(marks)]) {
        const value = tokens[mark]!;
        expect(contrast(value, tokens[ground]!), `${mark} on ${ground}`).toBeGreaterThanOrEqual(3);
      }
    }
  });

  it('words in ink and in dyes read on every ground: 4.5 to 1 (WCAG 1.4.3)', () => {
    for (const ground of GROUNDS) {
      for (const word of ['ink', 'ink-2', 'ink-3', ...DYES.map((dye) => `dye-${dye}`)]) {
        expect(contrast(tokens[word]!, tokens[ground]!)).toBeGreaterThanOrEqual(4.5);
      }
    }
  });

  it.each(Object.keys(SIGHT))('the five threads stay apart to %s sight', (sight) => {
    DYES.forEach((one, at) => {
      for (const other of DYES.slice(at + 1)) {
        const far = apart(tokens[`thread-${one}`]!, tokens[`thread-${other}`]!, sight);
        expect(far, `${one} and ${other}`).toBeGreaterThan(7);
      }
    });
  });
});

describe('lines of strands', () => {
  it('differ where dyes are the same: each dye and each ink pattern has a line of its own', () => {
    const source = readFileSync('src/app/weave/cloth-lay.ts', 'utf8');
    const listOf = (name: string): string[] => {
      const list = new RegExp(`${name} = \\[([^\\]]*)\\]`).exec(source)?.[1] ?? '';
      return [...list.matchAll(/'([^']*)'/g)].map(([, dash]) => dash!);
    };
    const [ink, dyed] = [listOf('INK_LINES'), listOf('DYE_LINES')];
    expect(ink).toHaveLength(5);
    // Walnut is double and indigo plain: both without a dash.
    expect(dyed.filter((dash) => dash === '')).toHaveLength(2);
    const dashes = [...ink, ...dyed.filter((dash) => dash !== '')];
    expect(new Set(dashes).size).toBe(dashes.length);
  });
});
