/** The pen of a PDF printing: letters, lines and shapes on pages, each told in the document's structure. */
import { create, type Font } from 'fontkit';
import PDFDocument, { type StructureElement, type StructureOptions } from 'pdfkit';
import { LETTERS, type FontData } from '../faces';
import { MARK_UNITS, type Stroke } from '../glyphs';
import { featuresOf, type TypeStyle } from './type';
import { unpackWoff2 } from './woff2';

/** A place in the structure tree, made when something is first drawn in it, so that reading order is drawing order. */
export type Element = () => StructureElement;

/** Letters of one font file. `name` is undefined for letters no face here has. */
export interface Piece {
  text: string;
  name: string | undefined;
  width: number;
}

export interface Sheet {
  title: string;
  /** Points. */
  width: number;
  height: number;
  made: Date;
  subject?: string;
}

function bytesOf(base64: string): Uint8Array {
  const text = atob(base64);
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
}

interface Loaded {
  name: string;
  font: Font;
}

const key = (face: string, weight: string | number, italic: boolean): string =>
  `${face} ${weight}${italic ? ' italic' : ''}`;

/** Reads the files, those with the commonest letters first. Throws where one is no font. */
export function readFonts(fonts: readonly FontData[]): Map<string, Loaded[]> {
  const found = new Map<string, Loaded[]>();
  const inOrder = [...fonts].sort(
    (a, b) => LETTERS.indexOf(a.letters ?? 'latin') - LETTERS.indexOf(b.letters ?? 'latin'),
  );
  for (const { face, weight, style, letters = 'latin', base64 } of inOrder) {
    const name = key(face === 'Alegreya Sans' ? 'sans' : 'serif', weight, style === 'italic');
    const font = create(unpackWoff2(bytesOf(base64)));
    found.set(name, [...(found.get(name) ?? []), { name: `${name} ${letters}`, font }]);
  }
  return found;
}

export class Ink {
  readonly #doc: PDFDocument;
  readonly #fonts: Map<string, Loaded[]>;
  readonly #widths = new Map<string, number>();
  readonly #chunks: Uint8Array[] = [];
  readonly #ended: Promise<void>;
  /** Letters met that no face here has. */
  readonly missing = new Set<string>();
  readonly root: Element;
  readonly width: number;
  readonly height: number;

  constructor(fonts: Map<string, Loaded[]>, sheet: Sheet) {
    this.width = sheet.width;
    this.height = sheet.height;
    this.#fonts = fonts;
    this.#doc = new PDFDocument({
      size: [sheet.width, sheet.height],
      margin: 0,
      font: null,
      autoFirstPage: false,
      pdfVersion: '1.7',
      tagged: true,
      lang: 'en-GB',
      displayTitle: true,
      info: {
        Title: sheet.title,
        ...(sheet.subject ? { Subject: sheet.subject } : {}),
        Creator: 'Bookweft',
        CreationDate: sheet.made,
      },
    });
    this.#doc.on('data', (chunk) => this.#chunks.push(chunk));
    this.#ended = new Promise((resolve, reject) => {
      this.#doc.on('end', resolve);
      this.#doc.on('error', reject);
    });
    for (const loaded of fonts.values())
      for (const { name, font } of loaded) this.#doc.registerFont(name, font);
    const root = this.#doc.struct('Document');
    this.#doc.addStructure(root);
    this.root = () => root;
  }

  newPage(): void {
    this.#doc.addPage();
  }

  bookmark(title: string): void {
    this.#doc.outline.addItem(title);
  }

  /** An element under `parent`, put there when it is first drawn in. */
  element(parent: Element, type: string, options: StructureOptions = {}): Element {
    let made: StructureElement | undefined;
    return () => {
      if (!made) {
        made = this.#doc.struct(type, options);
        parent().add(made);
      }
      return made;
    };
  }

  /** Draws what is read as a part of `element`. */
  inside(element: Element, draw: () => void): void {
    element().add(draw);
  }

  /** Draws what is not read aloud: rules, writing lines, the foot of the page. */
  aside(draw: () => void, how: { type?: string; attached?: string[] } = { type: 'Layout' }): void {
    this.#doc.markContent('Artifact', how);
    draw();
    this.#doc.endMarkedContent();
  }

  #filesOf({ face, weight, italic }: TypeStyle): readonly Loaded[] {
    const tries = [key(face, weight, italic), key(face, weight, false), key(face, 400, false)];
    for (const one of tries) {
      const files = this.#fonts.get(one);
      if (files) return files;
    }
    return [];
  }

  /** Ascent and descent of a style in points; descent is positive. */
  extent(style: TypeStyle): { ascent: number; descent: number } {
    const font = this.#filesOf(style)[0]?.font;
    if (!font) return { ascent: style.size * 0.8, descent: style.size * 0.2 };
    const scale = style.size / font.unitsPerEm;
    return { ascent: font.ascent * scale, descent: -font.descent * scale };
  }

  /** The text cut where the font file changes, each piece with its width in points. */
  pieces(text: string, style: TypeStyle): Piece[] {
    const files = this.#filesOf(style);
    const pieces: Piece[] = [];
    if (files[0] && PLAIN.test(text)) {
      const piece = { text, name: files[0].name, width: 0 };
      return [{ ...piece, width: this.#widthOf(piece, style, undefined) }];
    }
    for (const { segment } of GRAPHEMES.segment(text)) {
      const points = [...segment].map((letter) => letter.codePointAt(0) ?? 0);
      const has = ({ font }: Loaded): boolean =>
        points.every((point) => font.hasGlyphForCodePoint(point));
      const last = pieces.at(-1);
      const same = last && files.find(({ name }) => name === last.name);
      const name = same && has(same) ? same.name : files.find(has)?.name;
      if (last && last.name === name) last.text += segment;
      else pieces.push({ text: segment, name, width: 0 });
    }
    for (const piece of pieces) {
      if (piece.name === undefined)
        for (const { segment } of GRAPHEMES.segment(piece.text)) this.missing.add(segment);
      piece.width = this.#widthOf(piece, style, files[0]?.name);
    }
    return pieces;
  }

  /** Points from the beginning of a text to its end, with the extra space between its words. */
  widthOf(text: string, style: TypeStyle): number {
    const spaces = style.words === 0 ? 0 : text.split(' ').length - 1;
    const letters = this.pieces(text, style).reduce((sum, piece) => sum + piece.width, 0);
    return letters + spaces * style.words;
  }

  #widthOf({ text, name }: Piece, style: TypeStyle, usual: string | undefined): number {
    const font = name ?? usual;
    if (font === undefined) return 0;
    const id = `${font}|${style.size}|${style.figures}|${text}`;
    let width = this.#widths.get(id);
    if (width === undefined) {
      const features = featuresOf(style);
      width = this.#doc
        .font(font, style.size)
        .widthOfString(name ? text : hollow(text), features ? { features } : {});
      this.#widths.set(id, width);
    }
    return width + style.tracking * [...text].length;
  }

  /** Letters from x along the baseline y. Letters in no face show as empty frames and are still told as themselves. */
  text({ text, name }: Piece, x: number, y: number, style: TypeStyle, link?: string): void {
    const font = name ?? this.#filesOf(style)[0]?.name;
    if (font === undefined) return;
    const features = featuresOf(style);
    this.#doc.fillColor(style.colour).font(font, style.size);
    if (!name) this.#doc.markContent('Span', { actual: text });
    this.#doc.text(name ? text : hollow(text), x, y, {
      lineBreak: false,
      baseline: 'alphabetic',
      ...(features ? { features } : {}),
      ...(style.tracking ? { characterSpacing: style.tracking } : {}),
      ...(link ? { link } : {}),
    });
    if (!name) this.#doc.endMarkedContent();
  }

  /** A line; `dots` draws it as round dots so far apart. */
  rule(
    from: [number, number],
    to: [number, number],
    width: number,
    colour = '#000000',
    dots?: number,
  ): void {
    this.#doc.save().lineWidth(width).strokeColor(colour);
    if (dots) this.#doc.lineCap('round').dash(0.01, { space: dots });
    this.#doc
      .moveTo(...from)
      .lineTo(...to)
      .stroke()
      .restore();
  }

  frame(x: number, y: number, width: number, height: number, line: number): void {
    this.#doc.save().lineWidth(line).strokeColor('#000000');
    this.#doc.rect(x, y, width, height).stroke().restore();
  }

  bar(x: number, y: number, width: number, height: number): void {
    this.#doc.fillColor('#000000').rect(x, y, width, height).fill();
  }

  /** A mark in a square whose top left corner and side are given. */
  mark(strokes: readonly Stroke[], x: number, y: number, side: number): void {
    this.#doc
      .save()
      .translate(x, y)
      .scale(side / MARK_UNITS)
      .fillColor('#000000')
      .strokeColor('#000000');
    for (const { path, width, round, evenOdd } of strokes) {
      this.#doc.path(path);
      if (width)
        this.#doc
          .lineWidth(width)
          .lineJoin(round ? 'round' : 'miter')
          .stroke();
      else this.#doc.fill(evenOdd ? 'even-odd' : 'non-zero');
    }
    this.#doc.restore();
  }

  /** The file. Nothing can be drawn afterwards. */
  async end(): Promise<Uint8Array<ArrayBuffer>> {
    this.root().end();
    this.#doc.end();
    await this.#ended;
    const bytes = new Uint8Array(this.#chunks.reduce((sum, chunk) => sum + chunk.length, 0));
    let at = 0;
    for (const chunk of this.#chunks) {
      bytes.set(chunk, at);
      at += chunk.length;
    }
    return bytes;
  }
}

/** Letters every face has. */
const PLAIN = /^[\x20-\x7E\xA0-\xAC\xAE-\xFF‘’“”–—…]*$/;

const GRAPHEMES = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** As many signs that no font has as there are letters to be seen, so that each shows as one empty frame. */
function hollow(text: string): string {
  return '\uFFFF'.repeat([...GRAPHEMES.segment(text)].length);
}
