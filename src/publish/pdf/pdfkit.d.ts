/** The parts of four untyped libraries that the setting of type uses. Lengths are in points, from the top left of the page. */
declare module 'fontkit' {
  export interface Font {
    /** In font units. */
    ascent: number;
    descent: number;
    unitsPerEm: number;
    hasGlyphForCodePoint(codePoint: number): boolean;
  }
  export function create(bytes: Uint8Array): Font;
}

declare module 'brotli/decompress.js' {
  /** `size` is that of the unpacked stream, in bytes. Throws where the stream is damaged. */
  export default function decompress(packed: Uint8Array, size: number): Uint8Array;
}

declare module 'linebreak' {
  /** Places where a line may end, by UAX #14. */
  export default class LineBreaker {
    constructor(text: string);
    nextBreak(): { position: number; required?: boolean } | null;
  }
}

declare module 'pdfkit' {
  import type { Font } from 'fontkit';

  export interface StructureElement {
    /** A function draws the element's own letters, at once when the element is in the document. */
    add(child: StructureElement | (() => void)): this;
    end(): void;
  }

  interface Outline {
    addItem(title: string, options?: { expanded?: boolean }): Outline;
  }

  interface TextOptions {
    lineBreak: false;
    baseline: 'alphabetic';
    features?: string[];
    characterSpacing?: number;
    link?: string;
  }

  interface DocumentOptions {
    size: [number, number];
    margin: number;
    font: null;
    autoFirstPage: false;
    pdfVersion: '1.7';
    tagged: true;
    lang: string;
    displayTitle: true;
    info: Record<string, string | Date>;
  }

  export default class PDFDocument {
    constructor(options: DocumentOptions);
    outline: Outline;
    on(event: 'data', listener: (chunk: Uint8Array) => void): this;
    on(event: 'end', listener: () => void): this;
    on(event: 'error', listener: (error: Error) => void): this;
    addPage(): this;
    end(): void;
    registerFont(name: string, font: Font): this;
    font(name: string, size: number): this;
    widthOfString(text: string, options?: { features?: string[] }): number;
    text(text: string, x: number, y: number, options: TextOptions): this;
    fillColor(colour: string): this;
    strokeColor(colour: string): this;
    lineWidth(width: number): this;
    lineCap(cap: 'butt' | 'round'): this;
    lineJoin(join: 'miter' | 'round'): this;
    dash(length: number, options: { space: number }): this;
    undash(): this;
    moveTo(x: number, y: number): this;
    lineTo(x: number, y: number): this;
    rect(x: number, y: number, width: number, height: number): this;
    path(svg: string): this;
    fill(rule?: 'non-zero' | 'even-odd'): this;
    stroke(): this;
    save(): this;
    restore(): this;
    translate(x: number, y: number): this;
    scale(factor: number): this;
    struct(type: string, options?: StructureOptions): StructureElement;
    addStructure(element: StructureElement): this;
    markContent(
      tag: 'Artifact' | 'Span',
      options?: { type?: string; attached?: string[]; actual?: string },
    ): this;
    endMarkedContent(): this;
  }

  export interface StructureOptions {
    alt?: string;
    lang?: string;
    scope?: 'Column' | 'Row';
    /** Left, top, right, bottom. */
    bbox?: [number, number, number, number];
    placement?: 'Block' | 'Inline';
  }
}
