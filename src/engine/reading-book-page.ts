/** A book's own page in the reading log: its readings, its entries by chapter, its people, guides and lists, its pictures. */
import { rowsNaming } from '../journal/indexes';
import {
  ENTRY_KINDS,
  type BookHeading,
  type Entry,
  type EntryId,
  type EntryKind,
  type GuideId,
  type HeadingId,
  type ListId,
  type Picture,
  type Reading,
  type ReadingId,
} from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { sayDate } from '../language/dates';
import { readIsbn } from '../language/isbn';
import { plainText } from '../language/markdown';
import { isInHand, sortDay } from '../reading/readings';
import { schoolYearOfReading } from '../reading/school-years';
import type { Core } from './core';
import { bookOf } from './reading';
import { readingsOf, timesUsed } from './reading-books';
import { beginningOf, readingSaid } from './reading-words';

interface ReadingLine {
  id: ReadingId;
  form: Reading['form'];
  /** "5 Jan 2010 to 20 Feb 2010", "in hand since …", "put down 3 May 2014". */
  said: string;
  /** Pages, minutes and days in words; '' where nothing is known. */
  measure: string;
  rating?: number;
  school?: string;
  note?: string;
  inHand: boolean;
  abandoned: boolean;
  /** Not the first reading of the book. */
  again: boolean;
}

interface EntryLine {
  id: EntryId;
  kind: EntryKind;
  text: string;
  page?: string;
  picture?: Picture;
}

export interface BookPage {
  book: BookHeading;
  authors: { id: HeadingId; name: string }[];
  isbn?: string;
  published?: string;
  readings: ReadingLine[];
  counts: Partial<Record<EntryKind, number>>;
  used: number;
  /** Entries under the chapter they are tied to, chapters as the book has them; those without one last, with no name. */
  chapters: { name: string; entries: EntryLine[] }[];
  people: { id: HeadingId; name: string; entries: number }[];
  guides: { id: GuideId; title: string }[];
  lists: { id: ListId; name: string }[];
  /** Entries that have a picture: sketch pages and photographs. */
  sketches: { id: EntryId; picture: Picture; text: string }[];
}

const counted = (value: number, one: string): string => `${value} ${one}${value === 1 ? '' : 's'}`;

export function bookPage(core: Core, id: HeadingId, schoolStart?: string): BookPage | undefined {
  const { journal } = core;
  const book = bookOf(journal, id);
  if (!book) return undefined;
  const entries = [...entriesTiedTo(journal, id)].flatMap(
    (entry) => journal.tables.entries.get(entry) ?? [],
  );
  const counts: BookPage['counts'] = {};
  for (const { kind } of entries) counts[kind] = (counts[kind] ?? 0) + 1;
  const isbn = book.isbn ? readIsbn(book.isbn) : undefined;
  return {
    book,
    authors: book.authors.flatMap((author) => {
      const person = journal.tables.headings.get(author);
      return person ? [{ id: author, name: person.name }] : [];
    }),
    ...(isbn?.ok ? { isbn: isbn.hyphenated } : book.isbn ? { isbn: book.isbn } : {}),
    ...(book.published ? { published: sayDate(book.published) } : {}),
    readings: linesOf(core, id, schoolStart),
    counts,
    used: timesUsed(core, id),
    chapters: byChapter(entries, id, book),
    people: peopleIn(core, entries, id),
    guides: [...rowsNaming(journal, 'headings', id, 'guides')].flatMap((guide) => {
      const row = journal.tables.guides.get(guide);
      return row ? [{ id: row.id, title: row.title }] : [];
    }),
    lists: [...rowsNaming(journal, 'headings', id, 'lists')].flatMap((list) => {
      const row = journal.tables.lists.get(list);
      return row && !row.seal ? [{ id: row.id, name: row.name }] : [];
    }),
    sketches: entries.flatMap(({ id: entry, picture, text }) =>
      picture ? [{ id: entry, picture, text: beginningOf(plainText(text), 120) }] : [],
    ),
  };
}

function linesOf(core: Core, id: HeadingId, schoolStart?: string): ReadingLine[] {
  const inOrder = readingsOf(core, id).sort((a, b) => (sortDay(a) < sortDay(b) ? -1 : 1));
  return inOrder
    .map((reading, at): ReadingLine => {
      const school = schoolYearOfReading(reading, schoolStart);
      const measure = [
        reading.pages === undefined ? '' : counted(reading.pages, 'page'),
        reading.minutes === undefined ? '' : counted(reading.minutes, 'minute'),
        reading.days?.length ? counted(reading.days.length, 'day') : '',
      ];
      return {
        id: reading.id,
        form: reading.form,
        said: readingSaid(reading),
        measure: measure.filter(Boolean).join(', '),
        ...(reading.rating === undefined ? {} : { rating: reading.rating }),
        ...(school ? { school } : {}),
        ...(reading.note ? { note: reading.note } : {}),
        inHand: isInHand(reading),
        abandoned: reading.abandoned === true,
        again: at > 0,
      };
    })
    .reverse();
}

/** Numbers of chapters in their order, roman ones too; names by the chapters the book has, then as they are first met. */
function byChapter(
  entries: readonly Entry[],
  book: HeadingId,
  { chapters = [] }: BookHeading,
): BookPage['chapters'] {
  const groups = new Map<string, { entry: Entry; page?: string }[]>();
  for (const entry of entries) {
    const place = entry.ties.find(({ heading }) => heading === book)?.place;
    const name = place?.chapter?.trim() ?? '';
    const group = groups.get(name) ?? [];
    group.push({ entry, ...(place?.page ? { page: place.page } : {}) });
    groups.set(name, group);
  }
  const order = (name: string): number => {
    if (name === '') return Infinity;
    const listed = chapters.findIndex((chapter) => chapter.name === name);
    return chapterNumber(name) ?? (listed >= 0 ? listed + 1 : 1e6);
  };
  const pageOf = (page: string | undefined): number => Number(/\d+/.exec(page ?? '')?.[0] ?? 1e6);
  return [...groups]
    .sort(([a], [b]) => order(a) - order(b) || (a < b ? -1 : 1))
    .map(([name, group]) => ({
      name,
      entries: group
        .sort(
          (a, b) =>
            pageOf(a.page) - pageOf(b.page) ||
            ENTRY_KINDS.indexOf(a.entry.kind) - ENTRY_KINDS.indexOf(b.entry.kind) ||
            (a.entry.id < b.entry.id ? -1 : 1),
        )
        .map(({ entry, page }) => ({
          id: entry.id,
          kind: entry.kind,
          text: entry.title ?? beginningOf(plainText(entry.text), 240),
          ...(page ? { page } : {}),
          ...(entry.picture ? { picture: entry.picture } : {}),
        })),
    }));
}

const ROMAN: Record<string, number> = { i: 1, v: 5, x: 10, l: 50, c: 100 };

/** 13 for "13", "xiii" or "13: The Golden Touch"; undefined for a name alone. */
function chapterNumber(name: string): number | undefined {
  const digits = /^\d+/.exec(name)?.[0];
  if (digits) return Number(digits);
  const roman = /^[ivxlc]+(?![\p{L}])/iu.exec(name)?.[0].toLowerCase();
  if (!roman) return undefined;
  const values = [...roman].map((letter) => ROMAN[letter] ?? 0);
  return values.reduce(
    (sum, value, at) => sum + (value < (values[at + 1] ?? 0) ? -value : value),
    0,
  );
}

function peopleIn(core: Core, entries: readonly Entry[], book: HeadingId): BookPage['people'] {
  const counts = new Map<HeadingId, number>();
  for (const id of rowsNaming(core.journal, 'headings', book, 'headings')) {
    if (core.journal.tables.headings.get(id)?.kind === 'person') counts.set(id as HeadingId, 0);
  }
  for (const { ties } of entries) {
    for (const heading of new Set(ties.map((tie) => tie.heading)))
      if (core.journal.tables.headings.get(heading)?.kind === 'person')
        counts.set(heading, (counts.get(heading) ?? 0) + 1);
  }
  const authors = new Set(bookOf(core.journal, book)?.authors ?? []);
  return [...counts]
    .filter(([id]) => !authors.has(id))
    .sort((a, b) => b[1] - a[1])
    .map(([id, count]) => ({
      id,
      name: core.journal.tables.headings.get(id)?.name ?? '',
      entries: count,
    }));
}
