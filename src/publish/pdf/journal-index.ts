/** The indexes at the end of a journal as a book: two columns a page, filled one after the other, even on the last. */
import type { JournalBook } from '../journal-book';
import { runs, type IndexLine } from '../journal-index';
import { heightOf, row, stack, textBox, type Box } from './boxes';
import type { Element } from './ink';
import type { StyledRun } from './lines';
import { bookmarked, thickRule, white, type Setting } from './parts';
import type { Page } from './pages';
import { MM, type TypeStyle } from './type';

const GAP = 10 * MM;

/** Each index on pages of its own, with `room` points of height. `pageOf` knows where an entry begins, by its number. */
export function indexPages(
  book: JournalBook,
  set: Setting,
  room: number,
  pageOf: (entry: number) => number,
): Page[] {
  const { ink, width } = set;
  const column = (width - GAP) / 2;
  const style = set.type({ face: 'serif', size: 11.4, leading: 1.4, figures: 'lining' });
  const line = (one: IndexLine, list: Element): Box => {
    const body = ink.element(ink.element(list, 'LI'), 'LBody');
    return textBox(ink, lineRuns(one, style, set.slanting, pageOf), style, column, body, {
      hang: 4 * MM,
    });
  };
  const pages: Page[] = [];
  if (book.index.length > 0) {
    const section = ink.element(ink.root, 'Sect');
    const head = headBoxes('Index of headings', 'index', set, section);
    const list = ink.element(section, 'L');
    const lines = book.index.map((one) => line(one, list));
    pages.push(...inColumns(head, lines, room, column));
  }
  if (book.classes.length > 0) {
    const section = ink.element(ink.root, 'Sect');
    const head = headBoxes('Headings by commonplace classes', 'classes', set, section);
    const name = set.type({ face: 'sans', size: 10.5, weight: 700, leading: 1.3 });
    const lines = book.classes.flatMap(({ name: text, lines: heads }): Box[] => {
      const list = ink.element(section, 'L');
      const title = textBox(
        ink,
        [{ text, style: name }],
        name,
        column,
        ink.element(section, 'H3'),
        {
          above: 3 * MM,
        },
      );
      const all = heads.map((one) => line(one, list));
      const first = all[0]!;
      return [{ ...title, keep: true }, { ...first, above: 0.8 * MM }, ...all.slice(1)];
    });
    pages.push(...inColumns(head, lines, room, column));
  }
  return pages;
}

function headBoxes(text: string, at: string, set: Setting, section: Element): Box[] {
  const { ink, width } = set;
  const style = set.type({ face: 'serif', size: 19.2, weight: 500, leading: 1.15 });
  return [
    { ...bookmarked(set, thickRule(set, 0), text), at },
    white(3.1 * MM - 2.5),
    textBox(ink, [{ text, style }], style, width, ink.element(section, 'H2')),
    white(2.4 * MM),
  ];
}

function lineRuns(
  { name, kind, entries, see }: IndexLine,
  style: TypeStyle,
  slanting: boolean,
  pageOf: (entry: number) => number,
): StyledRun[] {
  const pages = [...new Set(entries.map(pageOf))].sort((a, b) => a - b);
  const numbers = runs(pages).map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`));
  const sent = see.length > 0 ? `${numbers.length > 0 ? 'see also' : 'see'} ${see.join('; ')}` : '';
  const after = [...numbers, ...(sent ? [sent] : [])].join(', ');
  return [
    { text: name, style: kind === 'book' ? { ...style, italic: slanting } : style },
    { text: `, ${after}`, style },
  ];
}

/** Lines in two columns on as many pages as they need; on the last the columns are as even as can be. */
export function inColumns(
  head: readonly Box[],
  lines: readonly Box[],
  room: number,
  column: number,
): Page[] {
  const pages: Page[] = [];
  let rest = [...lines];
  let top = heightOf(head);
  while (rest.length > 0) {
    const most = room - top;
    const left = filled(rest, most);
    const right = filled(left.rest, most);
    let columns = [left.column, right.column];
    if (right.rest.length === 0) columns = evened(rest, most) ?? columns;
    const both = row(
      columns.map((boxes, at) => ({ x: at * (column + GAP), box: stack(boxes) })),
      0,
    );
    const page: Page = [];
    let y = 0;
    if (pages.length === 0)
      for (const box of head) {
        page.push({ box, y });
        y += box.height;
      }
    page.push({ box: both, y });
    pages.push(page);
    rest = right.rest;
    top = 0;
  }
  return pages;
}

/** As many boxes as have room, at least one; what must stay with the next goes with it. */
function filled(boxes: readonly Box[], room: number): { column: Box[]; rest: Box[] } {
  let used = 0;
  let end = 0;
  while (end < boxes.length) {
    const box = boxes[end]!;
    used += (end > 0 ? box.above : 0) + box.height;
    if (used > room + 0.01 && end > 0) break;
    end += 1;
  }
  let cut = end;
  while (cut < boxes.length && cut > 1 && boxes[cut - 1]?.keep) cut -= 1;
  return { column: boxes.slice(0, cut), rest: boxes.slice(cut) };
}

/** The lowest height at which two columns hold all. */
function evened(boxes: readonly Box[], most: number): [Box[], Box[]] | undefined {
  let [low, high] = [heightOf(boxes) / 2, most];
  let best: [Box[], Box[]] | undefined;
  for (let step = 0; step < 12; step += 1) {
    const height = step === 0 ? low : (low + high) / 2;
    const left = filled(boxes, height);
    const right = filled(left.rest, height);
    if (right.rest.length === 0) {
      best = [left.column, right.column];
      high = height;
      if (step === 0) break;
    } else low = height;
  }
  return best;
}
