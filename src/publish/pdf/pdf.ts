/**
 * A guide as a PDF file: both copies from the one model, with embedded typefaces, a structure for
 * reading aloud, a language, a title and bookmarks. The same in a browser's worker and in Node.
 */
import { handoutOf } from '../document';
import type { FontData } from '../faces';
import type { GuideDocument } from '../model';
import type { Lines, Paper, Preset } from '../sheet';
import type { Box } from './boxes';
import { handoutBoxes } from './handout';
import { Ink, readFonts } from './ink';
import { leaderBoxes } from './leader';
import { pagesOf, type Page } from './pages';
import { foot, PAPERS, setting, type Setting } from './parts';

export interface PdfHow {
  copy: 'leader' | 'handout';
  paper: Paper;
  /** The faces of `FACES` with their bytes; those of `MORE_FACES` add the letters of other languages. */
  fonts: readonly FontData[];
  preset?: Preset;
  /** What a writing space is ruled with; the usual is `ruled`. */
  lines?: Lines;
  /** When the file is said to be made. */
  made: Date;
}

export interface Pdf {
  bytes: Uint8Array<ArrayBuffer>;
  pages: number;
  /** Letters that no face handed in has: shown as empty frames, and kept as text. */
  missing: string[];
}

/** The file. Throws where no face is handed in, because letters cannot be drawn without one. */
export async function toPdf(doc: GuideDocument, how: PdfHow): Promise<Pdf> {
  const fonts = readFonts(how.fonts);
  if (fonts.size === 0) throw new Error('The typefaces a printing is set in could not be read.');
  const { width, height } = PAPERS[how.paper];
  const leader = how.copy === 'leader';
  const name = leader ? 'leader’s copy' : 'handout';
  const ink = new Ink(fonts, { title: `${doc.title}, ${name}`, width, height, made: how.made });
  const set = setting(ink, how.paper, how.preset ?? 'usual', how.lines ?? 'ruled');
  const handout = handoutOf(doc);
  const boxes = leader ? leaderBoxes(doc, set) : handoutBoxes(handout, set);
  const left = handout.circle ?? '';
  const pages = print(set, how.paper, boxes, (page, of) =>
    leader
      ? { left, middle: `${page} of ${of}`, right: 'Leader’s copy' }
      : { left, middle: '', right: handout.day ?? '' },
  );
  return { bytes: await ink.end(), pages, missing: [...ink.missing] };
}

/** Lays the boxes on pages and draws them. Answers how many pages there are. */
function print(
  set: Setting,
  paper: Paper,
  boxes: readonly Box[],
  footOf: (page: number, of: number) => { left: string; middle: string; right: string },
): number {
  const pages = pagesOf(boxes, roomOn(paper));
  drawPages(set, paper, pages, footOf);
  return pages.length;
}

/** Points of height between the margins. */
export function roomOn(paper: Paper): number {
  const { height, top, bottom } = PAPERS[paper];
  return height - top - bottom;
}

export function drawPages(
  set: Setting,
  paper: Paper,
  pages: readonly Page[],
  footOf: (page: number, of: number) => { left: string; middle: string; right: string },
): void {
  const { top, side } = PAPERS[paper];
  pages.forEach((page, at) => {
    set.ink.newPage();
    page.forEach(({ box, y }, n) => box.draw(side, top + y, n === page.length - 1));
    foot(set, paper, footOf(at + 1, pages.length));
  });
}
