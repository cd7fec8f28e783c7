/**
 * The journal as a book for anybody's hands: entries under the book they come from, and an index of
 * headings in filing order and by commonplace classes. Its shapes have no field for an answer,
 * follow-up, cue, level, time, source or note of the leader or a circle, so none can be printed.
 */
import type { BookHeading, Entry, EntryKind, Heading, Place } from '../journal/records';
import { sayDate } from '../language/dates';
import { compareFiling, filingKey } from '../language/filing';
import { bookTieOf, sayPlace } from './cite';
import type { OpenRows } from './open-rows';
import { classesOf, indexOf, type IndexClass, type IndexLine } from './journal-index';
import { comparePlaces, figureOf, isNumbered } from '../journal/place-order';
import { clean } from './safe-text';

export interface BookEntry {
  /** From 1 through the whole book; the index of a web page goes by it. */
  number: number;
  kind: EntryKind;
  title?: string;
  /** CommonMark. */
  text: string;
  /** BCP 47, where the words are in the language of their book. */
  language?: string;
  /** "ch. 6, p. 61". */
  place?: string;
  /** Who speaks, where it is not the author. */
  speaker?: string;
  themes: string[];
  /** In words: "spring 2014". */
  written?: string;
  /** What its picture shows. */
  picture?: string;
}

export interface Chapter {
  title: string;
  /** Whether the title is that of a book. */
  book: boolean;
  /** Authors and year, in a line. */
  by?: string;
  entries: BookEntry[];
}

export interface JournalBook {
  title: string;
  subtitle?: string;
  chapters: Chapter[];
  index: IndexLine[];
  /** Classes in the order of their letters; heads of no class are left to the index. */
  classes: IndexClass[];
  entries: number;
}

export interface BookAsk {
  title: string;
  subtitle?: string;
  /** The entries it is made of, of the open rows. */
  entries: readonly Entry[];
  /** By books; or, for the entries of one book, by its chapters. */
  by?: 'books' | BookHeading;
}

/** The book. Entries with no words, title or picture are left out. */
export function journalBook(rows: OpenRows, ask: BookAsk): JournalBook {
  const shown = ask.entries.filter(
    ({ text, title, picture }) => text.trim() || title?.trim() || picture?.alt.trim(),
  );
  const by = ask.by ?? 'books';
  const groups = by === 'books' ? byBooks(shown, rows) : byChapters(shown, by);
  const numbers = new Map<string, number>();
  let number = 0;
  const chapters = groups.map(({ entries, book, ...chapter }): Chapter => ({
    ...chapter,
    book: book !== undefined,
    entries: entries.map((entry) => {
      number += 1;
      numbers.set(entry.id, number);
      return entryOf(entry, number, rows, by === 'books' ? book?.id : by.id);
    }),
  }));
  const index = indexOf(shown, numbers, rows);
  return {
    title: clean(ask.title),
    ...(ask.subtitle ? { subtitle: clean(ask.subtitle) } : {}),
    chapters,
    index,
    classes: classesOf(index),
    entries: number,
  };
}

interface Group {
  title: string;
  book?: BookHeading;
  by?: string;
  entries: Entry[];
}

const list = new Intl.ListFormat('en-GB', { type: 'conjunction' });

const titleKey = ({ name, filing, language }: BookHeading): string =>
  filingKey(name, {
    kind: 'title',
    ...(language ? { language } : {}),
    ...(filing ? { filing } : {}),
  });

/** Books in filing order, what is tied to none at the end. */
function byBooks(entries: readonly Entry[], { headings }: OpenRows): Group[] {
  const groups = new Map<string, Group & { key: string; places: Map<string, Place | undefined> }>();
  for (const entry of entries) {
    const found = bookTieOf(entry, headings);
    const id = found?.book.id ?? '';
    let group = groups.get(id);
    if (!group) {
      group = {
        title: found?.book.name.trim() ?? 'Beside the books',
        ...(found ? { book: found.book, by: bookLine(found.book, headings) } : {}),
        key: found ? titleKey(found.book) : '',
        entries: [],
        places: new Map(),
      };
      groups.set(id, group);
    }
    group.entries.push(entry);
    group.places.set(entry.id, found?.tie.place);
  }
  return [...groups.values()]
    .sort((a, b) => Number(!a.book) - Number(!b.book) || compareFiling(a.key, b.key))
    .map(({ places, key: _, ...group }) => ({
      ...group,
      entries: inPlace(group.entries, places, group.book),
    }));
}

function bookLine(book: BookHeading, headings: OpenRows['headings']): string {
  const authors = list.format(book.authors.flatMap((id) => headings.get(id)?.name ?? []));
  return [authors, book.published && sayDate(book.published)].filter(Boolean).join(', ');
}

/** The chapters of one book that have entries, in their order; what names no chapter comes after. */
function byChapters(entries: readonly Entry[], book: BookHeading): Group[] {
  const places = new Map(
    entries.map((entry) => [
      entry.id as string,
      entry.ties.find((tie) => tie.heading === book.id && tie.place)?.place,
    ]),
  );
  const groups = new Map<string, Group>();
  for (const entry of inPlace(entries, places, book)) {
    const chapter = places.get(entry.id)?.chapter?.trim() ?? '';
    const group = groups.get(chapter) ?? { title: chapterTitle(chapter, book), entries: [] };
    group.entries.push(entry);
    groups.set(chapter, group);
  }
  const all = [...groups];
  return [...all.filter(([chapter]) => chapter), ...all.filter(([chapter]) => !chapter)].map(
    ([, group]) => group,
  );
}

function chapterTitle(chapter: string, book: BookHeading): string {
  if (!chapter) return 'On the whole book';
  if (!isNumbered(chapter)) return chapter;
  const name = book.chapters?.[(figureOf(chapter)?.value ?? 0) - 1]?.name?.trim();
  return `Chapter ${chapter}${name ? `, ${name}` : ''}`;
}

/** As the book goes; what has no place after that, in the order it was written down. */
function inPlace(
  entries: readonly Entry[],
  places: ReadonlyMap<string, Place | undefined>,
  book?: BookHeading,
): Entry[] {
  return [...entries].sort(
    (a, b) =>
      comparePlaces(places.get(a.id), places.get(b.id), book) ||
      compareFiling(a.written ?? a.added, b.written ?? b.added) ||
      compareFiling(a.id, b.id),
  );
}

function entryOf(
  entry: Entry,
  number: number,
  { headings }: OpenRows,
  under: string | undefined,
): BookEntry {
  const tie =
    entry.ties.find(({ heading, place }) => heading === under && place) ??
    entry.ties.find(({ heading }) => heading === under);
  const book = under === undefined ? undefined : headings.get(under);
  const place = sayPlace(tie?.place);
  const speaker = entry.ties
    .filter(({ role }) => role === 'by')
    .flatMap(({ heading }) => headings.get(heading) ?? [])
    .find((person) => person.kind === 'person' && !isAuthor(person, book));
  const themes = entry.ties.flatMap(({ heading }) => {
    const theme = headings.get(heading);
    return theme?.kind === 'theme' ? [clean(theme.name)] : [];
  });
  const language = entry.kind === 'quote' && book?.kind === 'book' ? book.language : undefined;
  return {
    number,
    kind: entry.kind,
    ...(entry.title?.trim() ? { title: clean(entry.title.trim()) } : {}),
    text: entry.text,
    ...(language ? { language } : {}),
    ...(place ? { place: clean(place) } : {}),
    ...(speaker ? { speaker: clean(speaker.name) } : {}),
    themes: [...new Set(themes)],
    ...(entry.written ? { written: sayDate(entry.written) } : {}),
    ...(entry.picture?.alt.trim() ? { picture: clean(entry.picture.alt.trim()) } : {}),
  };
}

const isAuthor = (person: Heading, book: Heading | undefined): boolean =>
  book?.kind === 'book' && book.authors.some((id) => id === person.id);
