/**
 * A guide as a Word document, made to be edited: both copies from the one model, with Word's own
 * headings and numbered lists, named styles, tables, and page numbers in the foot.
 */
import { Document, Packer } from 'docx';
import { strFromU8, strToU8, unzipSync, zipSync, type Zippable } from 'fflate';
import { handoutOf } from '../document';
import type { GuideDocument } from '../model';
import { clean } from '../safe-text';
import type { Lines, Paper, Preset } from '../sheet';
import { handoutPieces } from './handout';
import { leaderPieces } from './leader';
import { foot } from './pieces';
import { mm, slants, stylesFor } from './styles';
import { Numbering } from './words';

export interface DocxHow {
  copy: 'leader' | 'handout';
  paper: Paper;
  preset?: Preset;
  /** What a writing space is ruled with; the usual is `ruled`. */
  lines?: Lines;
  /** When the file is said to be made. */
  made: Date;
}

/** Twentieths of a point: A4 (ISO 216) and Letter (ANSI A). */
const PAPERS: Record<Paper, { width: number; height: number }> = {
  A4: { width: mm(210), height: mm(297) },
  Letter: { width: 12240, height: 15840 },
};
const MARGIN = mm(18);

/** The file's bytes, the same for the same guide and time. */
export async function toDocx(doc: GuideDocument, how: DocxHow): Promise<Uint8Array<ArrayBuffer>> {
  const preset = how.preset ?? 'usual';
  const writing = { numbering: new Numbering(), slants: slants(preset) };
  const leader = how.copy === 'leader';
  const handout = handoutOf(doc);
  const children = leader
    ? leaderPieces(doc, writing)
    : handoutPieces(handout, writing, how.lines ?? 'ruled');
  const { width, height } = PAPERS[how.paper];
  const right = leader ? 'Leader’s copy' : (handout.day ?? '');
  const file = new Document({
    title: clean(`${doc.title}, ${leader ? 'leader’s copy' : 'handout'}`),
    creator: 'Bookweft',
    lastModifiedBy: 'Bookweft',
    styles: stylesFor(preset),
    numbering: writing.numbering.options(),
    sections: [
      {
        properties: {
          page: {
            size: { width, height },
            margin: { top: MARGIN, bottom: MARGIN, left: MARGIN, right: MARGIN, footer: mm(10) },
          },
        },
        footers: { default: foot(handout.circle ?? '', leader, right, width - 2 * MARGIN) },
        children,
      },
    ],
  });
  return dated(new Uint8Array(await Packer.toArrayBuffer(file)), how.made);
}

/** The library writes the clock's time into the file; the time handed in goes there instead. */
function dated(zip: Uint8Array, made: Date): Uint8Array<ArrayBuffer> {
  const time = made.toISOString().replace(/\.\d+Z$/, 'Z');
  const files: Zippable = {};
  for (const [name, bytes] of Object.entries(unzipSync(zip))) {
    const core = name === 'docProps/core.xml';
    const text = core
      ? strToU8(
          strFromU8(bytes).replace(/(<dcterms:(?:created|modified)[^>]*>)[^<]*/g, `$1${time}`),
        )
      : bytes;
    files[name] = [text, { mtime: made }];
  }
  return new Uint8Array(zipSync(files));
}
