/** The typography of a PDF printing: which face, how large, how wide set, in each of the four presets. */
import type { Preset } from '../sheet';

/** Points in a millimetre. */
export const MM = 72 / 25.4;

export interface TypeStyle {
  face: 'serif' | 'sans';
  weight: 400 | 500 | 700;
  italic: boolean;
  /** Points. */
  size: number;
  /** Distance of lines as a multiple of the size. */
  leading: number;
  /** Lining figures, or lining ones of one width for columns of times. */
  figures: 'text' | 'lining' | 'tabular';
  /** Extra space between letters and between words, in points. */
  tracking: number;
  words: number;
  colour: string;
}

export type Asked = Pick<TypeStyle, 'face' | 'size'> & Partial<TypeStyle>;

/** Type that is read for its own sake, or beside it. The foot and the small labels are not lifted to the size of reading text. */
export type Role = 'reading' | 'foot';

/*
 * Large print: nothing read is under 18pt (American Printing House; American Council of the Blind
 * 2022, which also asks for line spacing of 1.15 or more). Dyslexia-friendly: sans serif of at least
 * 12pt (British Dyslexia Association style guide), no italics, more spacing (Dyslexia Action); the
 * amounts of spacing are from memory of the same guidance.
 */
const LARGE = 18;
const CLEAR = 12;

/** A style as a preset sets it. `large` scales, and less so what is already large. */
export function typeFor(preset: Preset, asked: Asked, role: Role = 'reading'): TypeStyle {
  const style: TypeStyle = {
    weight: 400,
    italic: false,
    leading: 1.35,
    figures: 'text',
    tracking: 0,
    words: 0,
    colour: '#000000',
    ...asked,
  };
  if (preset === 'plain' || preset === 'dyslexia') style.face = 'sans';
  if (preset === 'large') {
    style.size = role === 'foot' ? 14 : Math.max(LARGE, style.size * (style.size > 20 ? 1.2 : 1.4));
    style.leading = Math.max(style.leading, 1.2);
  }
  if (preset === 'dyslexia') {
    style.italic = false;
    if (role === 'reading' && style.size < 20) {
      style.size = Math.max(CLEAR, style.size);
      style.leading = Math.max(1.5, style.leading);
      style.tracking = style.size * 0.03;
      style.words = style.size * 0.1;
    }
  }
  return style;
}

/** The OpenType features a style asks for. */
export function featuresOf(style: TypeStyle): string[] | undefined {
  if (style.figures === 'text') return undefined;
  return style.figures === 'tabular' ? ['lnum', 'tnum'] : ['lnum'];
}
