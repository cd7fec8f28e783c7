/**
 * The journal as a book in PDF: contents with their pages, entries under the book they come from with
 * their marks and places in a narrow margin, and the two indexes by page. What it can say is what a
 * `JournalBook` can hold.
 */
import type { FontData } from '../faces';
import { KIND_NAMES } from '../html-leader';
import type { BookEntry, Chapter, JournalBook } from '../journal-book';
import { counted } from '../../journal/labels';
import { quoted } from '../quoted';
import type { Paper, Preset } from '../sheet';
import { baselineOf, padded, plainBox, row, stack, textBox, type Box } from './boxes';
import { Ink, readFonts, type Element } from './ink';
import { indexPages } from './journal-index';
import { pagesOf, type Page } from './pages';
import { bookmarked, drawMark, PAPERS, setting, thickRule, white, type Setting } from './parts';
import { drawPages, roomOn, type Pdf } from './pdf';
import { MM, type TypeStyle } from './type';
import { wordsBoxes } from './words';

interface BookPdfHow {
  paper: Paper;
  fonts: readonly FontData[];
  preset?: Preset;
  made: Date;
}

/** The file. Throws where no face is handed in, because letters cannot be drawn without one. */
export async function bookPdf(book: JournalBook, how: BookPdfHow): Promise<Pdf> {
  const fonts = readFonts(how.fonts);
  if (fonts.size === 0) throw new Error('The typefaces a printing is set in could not be read.');
  const { width, height } = PAPERS[how.paper];
  const ink = new Ink(fonts, { title: book.title, width, height, made: how.made });
  const set = setting(ink, how.paper, how.preset ?? 'usual', 'plain');
  const room = roomOn(how.paper);
  const found = new Map<string, number>();
  const pageOf = (at: string): number => found.get(at) ?? 0;
  const text = pagesOf(
    [...headBoxes(book, set), ...contentsBoxes(book, set, pageOf), ...chaptersBoxes(book, set)],
    room,
  );
  findBoxes(text, 0, found);
  const index = indexPages(book, set, room, (entry) => pageOf(entryAt(entry)));
  findBoxes(index, text.length, found);
  const pages = [...text, ...index];
  drawPages(set, how.paper, pages, (page) => ({
    left: book.title,
    middle: String(page),
    right: '',
  }));
  return { bytes: await ink.end(), pages: pages.length, missing: [...ink.missing] };
}

const entryAt = (number: number): string => `e${number}`;
const chapterAt = (at: number): string => `c${at}`;

/** Notes on which page each box stands that is looked for. Pages count from 1 after `before`. */
function findBoxes(pages: readonly Page[], before: number, found: Map<string, number>): void {
  pages.forEach((page, at) => {
    for (const { box } of page) if (box.at !== undefined) found.set(box.at, before + at + 1);
  });
}

function placed(box: Box, at: string): Box {
  return {
    ...box,
    at,
    split(room) {
      const cut = box.split?.(room);
      return cut && [placed(cut[0], at), cut[1]];
    },
  };
}

function headBoxes(book: JournalBook, set: Setting): Box[] {
  const { ink, width } = set;
  const h1 = set.type({ face: 'serif', size: 34, weight: 500, leading: 1.08 });
  h1.tracking = -0.012 * h1.size;
  const sub = set.type({ face: 'serif', size: 15, leading: 1.32 });
  const small = set.type({ face: 'sans', size: 10.5, leading: 1.4, figures: 'lining' });
  const line = (text: string, style: TypeStyle): Box => ({
    ...textBox(ink, [{ text, style }], style, width, ink.element(ink.root, 'P'), {
      above: 2.6 * MM,
      balanced: style === sub,
    }),
    keep: true,
  });
  const title = textBox(
    ink,
    [{ text: book.title, style: h1 }],
    h1,
    width,
    ink.element(ink.root, 'H1'),
    { balanced: true },
  );
  return [
    { ...title, keep: true },
    ...(book.subtitle ? [line(book.subtitle, sub)] : []),
    line(`${counted(book.entries, 'entry')}.`, small),
    white(7 * MM),
  ];
}

/** Page numbers are known when the contents are drawn, not when their lines are measured. */
function contentsBoxes(book: JournalBook, set: Setting, pageOf: (at: string) => number): Box[] {
  const lines = book.chapters.map(({ title, book: work }, at) => ({
    title,
    work,
    at: chapterAt(at),
  }));
  if (book.index.length > 0) lines.push({ title: 'Index of headings', work: false, at: 'index' });
  if (book.classes.length > 0)
    lines.push({ title: 'Headings by commonplace classes', work: false, at: 'classes' });
  if (lines.length < 2) return [];
  const { ink, width } = set;
  const head = set.type({ face: 'serif', size: 19.2, weight: 500, leading: 1.15 });
  const style = set.type({ face: 'serif', size: 12, leading: 1.45 });
  const figure = set.type({ face: 'sans', size: 10.5, leading: 1.6, figures: 'tabular' });
  const section = ink.element(ink.root, 'Sect');
  const list = ink.element(section, 'L');
  const wide = ink.widthOf('00000', figure);
  const boxes = lines.map(({ title, work, at }): Box => {
    const item = ink.element(list, 'LI');
    const named = work ? { ...style, italic: set.slanting } : style;
    const words = textBox(
      ink,
      [{ text: title, style: named }],
      style,
      width - wide - 6 * MM,
      ink.element(item, 'LBody'),
    );
    const page = ink.element(item, 'LBody');
    const number: Box = {
      above: 0,
      height: figure.size * figure.leading,
      draw(x, y) {
        const text = String(pageOf(at));
        textBox(ink, [{ text, style: figure }], figure, wide, page, { align: 'right' }).draw(x, y);
      },
    };
    const down = baselineOf(ink, style) - baselineOf(ink, figure);
    return row(
      [
        { x: 0, box: words },
        { x: width - wide, down, box: number },
      ],
      0,
    );
  });
  return [
    bookmarked(set, thickRule(set, 0), 'Contents'),
    white(3.1 * MM - 2.5),
    {
      ...textBox(ink, [{ text: 'Contents', style: head }], head, width, ink.element(section, 'H2')),
      keep: true,
    },
    white(2.4 * MM),
    ...boxes,
    plainBox(4 * MM),
  ];
}

function chaptersBoxes({ chapters }: JournalBook, set: Setting): Box[] {
  return chapters.flatMap((chapter, at) => chapterBoxes(chapter, at, set));
}

function chapterBoxes(chapter: Chapter, at: number, set: Setting): Box[] {
  const { ink, width } = set;
  const section = ink.element(ink.root, 'Sect');
  const head = set.type({ face: 'serif', size: 21, weight: 500, leading: 1.15 });
  const by = set.type({ face: 'serif', size: 12, leading: 1.35 });
  const style = chapter.book ? { ...head, italic: set.slanting } : head;
  const boxes: Box[] = [
    placed(bookmarked(set, thickRule(set, 8 * MM), chapter.title), chapterAt(at)),
    white(3.1 * MM - 2.5),
    {
      ...textBox(ink, [{ text: chapter.title, style }], style, width, ink.element(section, 'H2')),
      keep: true,
    },
  ];
  if (chapter.by)
    boxes.push({
      ...textBox(ink, [{ text: chapter.by, style: by }], by, width, ink.element(section, 'P'), {
        above: 0.8 * MM,
      }),
      keep: true,
    });
  boxes.push(white(4.2 * MM));
  return [...boxes, ...chapter.entries.map((entry) => entryBox(entry, set, section))];
}

/** Marks and places in the margin, the words beside them; in large print above them, for want of room. */
function entryBox(entry: BookEntry, set: Setting, section: Element): Box {
  const { ink, width } = set;
  const item = ink.element(section, 'Art');
  const words = set.type({ face: 'serif', size: 13, leading: 1.42 });
  const above = set.preset === 'large';
  const sideWidth = above ? width : 34 * MM;
  const bodyAt = above ? 0 : 40 * MM;
  const side = sideBox(entry, set, sideWidth, item);
  const body = stack(bodyBoxes(entry, set, Math.min(132 * MM, width - bodyAt), item));
  const down = baselineOf(ink, words) - baselineOf(ink, sideType(set));
  const whole = above
    ? stack([{ ...side, keep: true }, body])
    : row(
        [
          { x: 0, down, box: side },
          { x: bodyAt, box: body },
        ],
        1,
      );
  return placed(padded(whole, 5.4 * MM), entryAt(entry.number));
}

const sideType = (set: Setting): TypeStyle =>
  set.type({ face: 'sans', size: 10.2, leading: 1.38, figures: 'lining' });

function sideBox(entry: BookEntry, set: Setting, width: number, item: Element): Box {
  const { ink } = set;
  const style = sideType(set);
  const side = style.size * 0.92;
  const kind = row(
    [
      {
        x: 0,
        down: baselineOf(ink, style) - side * 0.9,
        box: plainBox(side, (x, y) => drawMark(ink, entry.kind, x, y, side)),
      },
      {
        x: side * 1.45,
        box: textBox(
          ink,
          [{ text: KIND_NAMES[entry.kind], style }],
          style,
          width - side * 1.45,
          ink.element(item, 'P'),
        ),
      },
    ],
    1,
  );
  const lines = [entry.place, entry.written, entry.speaker].flatMap((text) =>
    text ? [textBox(ink, [{ text, style }], style, width, ink.element(item, 'P'))] : [],
  );
  return stack([kind, ...lines]);
}

function bodyBoxes(entry: BookEntry, set: Setting, width: number, item: Element): Box[] {
  const { ink } = set;
  const words = set.type({ face: 'serif', size: 13, leading: 1.42 });
  const themes = set.type({
    face: 'serif',
    size: 11,
    leading: 1.35,
    italic: true,
    colour: '#222222',
  });
  const boxes: Box[] = [];
  if (entry.title) {
    const style = { ...words, weight: 500 as const };
    boxes.push({
      ...textBox(ink, [{ text: entry.title, style }], style, width, ink.element(item, 'H3')),
      keep: true,
    });
  }
  const text = entry.kind === 'quote' ? quoted(entry.text) : entry.text;
  if (text.trim())
    boxes.push(
      ...wordsBoxes(ink, text, words, width, item, {
        slanting: set.slanting,
        ...(entry.language ? { lang: entry.language } : {}),
      }).map((box, at) => (at === 0 && boxes.length > 0 ? { ...box, above: 0.6 * MM } : box)),
    );
  for (const said of [
    entry.picture ? `A picture: ${entry.picture}` : '',
    entry.themes.join(', '),
  ]) {
    if (!said) continue;
    boxes.push(
      textBox(ink, [{ text: said, style: themes }], themes, width, ink.element(item, 'P'), {
        above: boxes.length > 0 ? 1 * MM : 0,
      }),
    );
  }
  return boxes;
}
