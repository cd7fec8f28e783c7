import type { BlockPlace } from '../../block';
import { type BlockList, plainProse } from './block-list';
import { listMark } from './line-kinds';
import { commonest, type PdfLine, type PdfPage } from './pdf-lines';
import { proseOf } from './safe-text';

/** Of the page's height at top and bottom, where running heads stand. */
const MARGIN = 0.12;
/** Times the size of ordinary text that makes a heading. */
const HEADING_SIZE = 1.15;
const LONGEST_HEADING = 120;
/** Points; lines beginning within one band or its neighbours share a column. */
const BAND = 24;

interface Measures {
  /** Of most letters, in points. */
  size: number;
  /** From line to line within a paragraph, in points. */
  leading: number;
  /** Sizes of headings, greatest first. */
  headings: number[];
  /** Words with a hyphen that stand unbroken somewhere in the file. */
  hyphened: ReadonlySet<string>;
}

interface Open {
  lines: PdfLine[];
  page: number;
  heading: number | undefined;
}

/** Puts the lines of a PDF together into headings, paragraphs and items, across pages where a sentence runs on. */
export function setDownPages(pages: readonly PdfPage[], list: BlockList): void {
  const kept = withoutRunningHeads(pages);
  const measures = measure(kept);
  let open: Open | undefined;
  for (const page of kept) {
    const edgeOf = rightEdges(page.lines);
    for (const [index, line] of page.lines.entries()) {
      const heading = headingLevel(line, measures);
      const before = open?.lines.at(-1);
      const samePage = open?.page === page.number || index > 0;
      const goesOn =
        open !== undefined &&
        before !== undefined &&
        open.heading === heading &&
        (samePage ? carriesOn(before, line, edgeOf(before), measures) : runsOver(before, line));
      if (goesOn) open?.lines.push(line);
      else {
        if (open) setDown(open, list, measures);
        open = { lines: [line], page: page.number, heading };
      }
    }
  }
  if (open) setDown(open, list, measures);
}

/** A line in the margin that stands on many pages but for its figures is a running head; a figure alone there is a page number. */
function withoutRunningHeads(pages: readonly PdfPage[]): PdfPage[] {
  const seen = new Map<string, number>();
  const keyOf = (line: PdfLine): string =>
    line.text.replace(/\d+|\b[ivxlc]+\b/gi, '#').toLowerCase();
  const atEdge = (page: PdfPage, line: PdfLine): boolean =>
    line.base > page.height * (1 - MARGIN) || line.base < page.height * MARGIN;
  for (const page of pages) {
    for (const key of new Set(page.lines.filter((line) => atEdge(page, line)).map(keyOf))) {
      seen.set(key, (seen.get(key) ?? 0) + 1);
    }
  }
  const often = Math.max(2, Math.min(pages.length * 0.4, 8));
  const isHead = (page: PdfPage, line: PdfLine): boolean =>
    atEdge(page, line) &&
    ((seen.get(keyOf(line)) ?? 0) >= often ||
      /^[-–—\s]*(?:page |p\. ?)?(?:\d{1,4}|[ivxlc]{1,6})(?: (?:of|\/) ?\d{1,4})?[-–—\s]*$/i.test(
        line.text,
      ));
  return pages.map((page) => ({
    ...page,
    lines: page.lines.filter((line) => !isHead(page, line)),
  }));
}

function measure(pages: readonly PdfPage[]): Measures {
  const sizes = new Map<number, number>();
  const leads = new Map<number, number>();
  const hyphened = new Set<string>();
  for (const { lines } of pages) {
    for (const [index, line] of lines.entries()) {
      sizes.set(line.size, (sizes.get(line.size) ?? 0) + line.text.length);
      const next = lines[index + 1];
      const lead = next && next.size === line.size ? Math.round(line.base - next.base) : 0;
      if (lead > 0 && lead < line.size * 3) leads.set(lead, (leads.get(lead) ?? 0) + 1);
      for (const match of line.text.matchAll(/\p{L}+-\p{L}+/gu))
        hyphened.add(match[0].toLowerCase());
    }
  }
  const size = commonest(sizes) ?? 10;
  const headings = [...sizes.keys()]
    .filter((each) => each >= size * HEADING_SIZE)
    .sort((a, b) => b - a);
  return { size, leading: commonest(leads) ?? size * 1.25, headings, hyphened };
}

function headingLevel(line: PdfLine, { size, headings }: Measures): number | undefined {
  if (line.size < size * HEADING_SIZE || line.text.length > LONGEST_HEADING) return undefined;
  return Math.min(headings.indexOf(line.size) + 1, 6) || undefined;
}

/** The right edge of the column a line stands in: how far lines reach that begin about where it does. */
function rightEdges(lines: readonly PdfLine[]): (line: PdfLine) => number {
  const bands = new Map<number, number>();
  const bandOf = (line: PdfLine): number => Math.floor(line.left / BAND);
  for (const line of lines) {
    const band = bandOf(line);
    bands.set(band, Math.max(bands.get(band) ?? 0, line.right));
  }
  return (line) => {
    const band = bandOf(line);
    return Math.max(...[band - 1, band, band + 1].map((each) => bands.get(each) ?? 0));
  };
}

/** Whether a line carries on the paragraph of the line before it on the same page. */
function carriesOn(before: PdfLine, line: PdfLine, edge: number, { leading }: Measures): boolean {
  const drop = before.base - line.base;
  const size = Math.max(before.size, line.size);
  if (
    Math.abs(before.size - line.size) > 1 ||
    drop < -size ||
    drop > Math.max(leading, size) * 1.45
  )
    return false;
  if (listMark(line.text)) return false;
  const setIn = line.left - before.left;
  if (setIn > size * 0.8 && !listMark(before.text)) return false;
  // A line that stops well short of the edge is the last of its paragraph, unless the next word would not have fitted.
  const word =
    ((line.right - line.left) * (/^\S+/.exec(line.text)?.[0].length ?? 1)) /
    Math.max(line.text.length, 1);
  const room = edge - before.right - word;
  return room < size * 1.5;
}

/** Whether a sentence runs over from the foot of one page to the head of the next. */
function runsOver(before: PdfLine, line: PdfLine): boolean {
  return (
    !/[.!?:]["”’')\]]*$/.test(before.text) &&
    !listMark(line.text) &&
    /^[\p{Ll}\p{N}“‘(]/u.test(line.text)
  );
}

function setDown(open: Open, list: BlockList, measures: Measures): void {
  const place: BlockPlace = { page: open.page, note: `page ${open.page}` };
  const text = joined(open.lines, measures.hyphened);
  if (open.heading !== undefined) {
    list.heading(plainProse(text), open.heading, place);
    return;
  }
  const mark = listMark(text);
  if (mark) list.item(proseOf([{ text: mark.rest }]), 1, mark.ordered, place);
  else list.paragraph(plainProse(text), place);
}

/** Lines as one text: a word parted by a hyphen is joined, unless the file has it with its hyphen elsewhere or both halves are names. */
function joined(lines: readonly PdfLine[], hyphened: ReadonlySet<string>): string {
  let text = '';
  for (const { text: line } of lines) {
    const half = /(\p{L}+)[-\u00ad\u2010]$/u.exec(text)?.[1];
    const other = /^\p{Ll}+/u.exec(line)?.[0];
    if (half && other) {
      const whole = hyphened.has(`${half}-${other}`.toLowerCase()) ? '-' : '';
      text = text.slice(0, -1) + whole + line;
    } else if (/[-\u2010—]$/.test(text) && text !== '') text += line;
    else text += text === '' ? line : ` ${line}`;
  }
  return text;
}
