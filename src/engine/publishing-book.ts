/** The journal printed as a book: all of it, a year, or what is tied to a heading; nothing of a sealed list. */
import type { Entry, Heading, HeadingId, Journal } from '../journal/records';
import { counted } from '../journal/labels';
import { yearOf } from '../language/dates';
import type { BookAsk } from '../publish/journal-book';
import { openRows, type OpenRows } from '../publish/open-rows';
import { tiedTo } from '../weave/tied';
import { fileName, type Faces } from './publishing';
import { leftSaid, type JournalFile, type JournalHow } from './publishing-journal';

/** What the book is made of; everything when neither is named. A theme takes the themes under it along. */
export interface BookOf {
  /** The year the entries were written in, or added in where it is not known when they were written. */
  year?: number;
  heading?: HeadingId;
}

export interface BookHow extends JournalHow {
  format: 'html' | 'pdf';
}

type BookMade =
  | { ok: true; file: JournalFile & { name: string } }
  | { ok: false; code: 'nothing' | 'sealed' | 'unknown-heading'; message: string };

interface BookAround {
  now: () => Date;
  faces: Faces;
}

/** The year an entry belongs to; none where only a span of years is known. */
export function yearOfEntry(entry: Pick<Entry, 'written' | 'added'>): number | undefined {
  return yearOf(entry.written ?? entry.added.slice(0, 10));
}

/** Years with entries that may be printed, the newest first. */
export function bookYears(journal: Journal): { year: number; entries: number }[] {
  const years = new Map<number, number>();
  for (const entry of openRows(journal).entries) {
    const year = yearOfEntry(entry);
    if (year !== undefined) years.set(year, (years.get(year) ?? 0) + 1);
  }
  return [...years].map(([year, entries]) => ({ year, entries })).sort((a, b) => b.year - a.year);
}

export async function publishBook(
  journal: Journal,
  of: BookOf,
  around: BookAround,
  how: BookHow,
): Promise<BookMade> {
  const rows = openRows(journal);
  const asked = askOf(journal, rows, of);
  if (!('title' in asked)) return asked;
  const { journalBook } = await import('../publish/journal-book');
  const book = journalBook(rows, asked);
  if (book.entries === 0)
    return { ok: false, code: 'nothing', message: 'There is nothing to print in that yet.' };
  const { paper = 'A4', preset } = how;
  const look = { paper, ...(preset ? { preset } : {}) };
  const name = fileName(asked.title, 'book', how.format);
  const holds = counted(book.entries, 'entry');
  const said = leftSaid(rows);
  if (how.format === 'html') {
    const { journalHtml } = await import('../publish/journal-html');
    const text = journalHtml(book, { ...look, fonts: await around.faces() });
    const bytes = new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;
    return { ok: true, file: { name, type: 'text/html', ending: 'html', bytes, holds, said } };
  }
  const { bookPdf } = await import('../publish/pdf/journal');
  const fonts = await around.faces();
  const made = around.now();
  let pdf = await bookPdf(book, { ...look, fonts, made });
  if (pdf.missing.length > 0) {
    const more = (await around.faces('more')).filter(
      ({ letters = 'latin' }) => letters !== 'latin',
    );
    if (more.length > 0) pdf = await bookPdf(book, { ...look, fonts: [...fonts, ...more], made });
  }
  const { bytes, pages, missing } = pdf;
  const file = {
    name,
    type: 'application/pdf',
    ending: 'pdf',
    bytes,
    holds: `${holds} on ${counted(pages, 'page')}`,
    said: [
      ...(missing.length > 0
        ? [
            `The typefaces have no ${missing.slice(0, 12).join(' ')}; empty frames stand for what is missing.`,
          ]
        : []),
      ...said,
    ],
  };
  return { ok: true, file };
}

type Refused = Extract<BookMade, { ok: false }>;

function askOf(journal: Journal, rows: OpenRows, { year, heading: id }: BookOf): BookAsk | Refused {
  const heading = id === undefined ? undefined : rows.headings.get(id);
  if (id !== undefined && !heading) {
    const held = journal.tables.headings.has(id);
    return held
      ? {
          ok: false,
          code: 'sealed',
          message: 'It belongs to a sealed list, which is never printed.',
        }
      : {
          ok: false,
          code: 'unknown-heading',
          message: 'That heading is no longer in the journal.',
        };
  }
  const tied = heading && new Set(tiedTo(journal, heading.id, { narrower: true }));
  const entries = rows.entries.filter(
    (entry) => (!tied || tied.has(entry.id)) && (year === undefined || yearOfEntry(entry) === year),
  );
  return {
    ...titled(rows, heading, year),
    entries,
    by: heading?.kind === 'book' ? heading : 'books',
  };
}

function titled(
  rows: OpenRows,
  heading: Heading | undefined,
  year: number | undefined,
): Pick<BookAsk, 'title' | 'subtitle'> {
  const of = year === undefined ? '' : String(year);
  if (!heading && !of) return { title: rows.name };
  const from = `from the journal ${rows.name}`;
  if (!heading) return { title: of, subtitle: `F${from.slice(1)}` };
  const authors =
    heading.kind === 'book'
      ? new Intl.ListFormat('en-GB').format(
          heading.authors.flatMap((id) => rows.headings.get(id)?.name ?? []),
        )
      : '';
  const said = [authors, of].filter(Boolean).join(', ');
  return {
    title: heading.name.trim(),
    subtitle: said ? `${said}; ${from}` : `F${from.slice(1)}`,
  };
}
