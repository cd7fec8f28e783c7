/** Citations in plain author-title form: "Frederick Douglass, *Narrative*, 1845, ch. 6". Every citation of a printing is made here. */
import type { BookHeading, Entry, Heading, Place, Tie } from '../journal/records';
import { sayDate } from '../language/dates';
import { pageSaid } from '../language/page-said';
import { escapeMarkdown } from './safe-text';

export type Headings = ReadonlyMap<string, Heading>;

/** Citations of one printing, which must know of each other: two works by one author are told apart. */
export interface Citing {
  /** What the list of works is called. */
  head: 'Sources' | 'Works Cited' | 'References';
  /** An entry's source where it stands, as CommonMark; undefined when it is tied to no book. */
  here(entry: Entry): string | undefined;
  /** The works of these entries, each once, in the order of the form, as CommonMark. */
  works(entries: readonly Entry[]): string[];
}

/** Citations for a printing; `all` is every entry that it may cite. */
export type Citer = (all: readonly Entry[], headings: Headings) => Citing;

const list = new Intl.ListFormat('en-GB', { type: 'conjunction' });

/** The book an entry comes from: the first tied as its source, or else the first it is about. */
export function bookTieOf(
  entry: Entry,
  headings: Headings,
): { tie: Tie; book: BookHeading } | undefined {
  for (const role of ['from', 'about', 'by', 'for'] as const) {
    for (const tie of entry.ties) {
      const book = headings.get(tie.heading);
      if (tie.role === role && book?.kind === 'book') return { tie, book };
    }
  }
  return undefined;
}

/** The title without what follows a colon or an "or", as short forms have it. */
export const shortTitle = (title: string): string =>
  title.replace(/\s*(?::|;\s+or\b|,\s+or,?\s).*$/iu, '').trim() || title;

/** "ch. 6, p. 61". The note of a place is the leader's own and is left out. */
export function sayPlace(place: Place | undefined): string {
  const said: string[] = [];
  if (place?.chapter)
    said.push(/^[\divxlc–-]+$/i.test(place.chapter) ? `ch.\u00A0${place.chapter}` : place.chapter);
  if (place?.page) said.push(pageSaid(place.page).replace(' ', '\u00A0'));
  return said.join(', ');
}

function authorsOf(book: BookHeading, headings: Headings): string {
  return list.format(book.authors.flatMap((id) => headings.get(id)?.name ?? []));
}

/** A book as CommonMark: author, title in italics, and the year where it is known and asked for. */
export function citeBook(book: BookHeading, headings: Headings, withYear = true): string {
  const parts = [
    escapeMarkdown(authorsOf(book, headings)),
    `*${escapeMarkdown(book.name.trim())}*`,
  ];
  if (withYear && book.published) parts.push(escapeMarkdown(sayDate(book.published)));
  return parts.filter(Boolean).join(', ');
}

/**
 * An entry's source as CommonMark, or undefined when it is tied to no book. Words spoken by a
 * character say so: "The Creature, in Mary Shelley, *Frankenstein*, ch. 13".
 */
export function citeEntry(entry: Entry, headings: Headings, withYear = true): string | undefined {
  const found = bookTieOf(entry, headings);
  if (!found) return undefined;
  const speaker = entry.ties
    .filter((tie) => tie.role === 'by')
    .map((tie) => headings.get(tie.heading))
    .find((person) => person?.kind === 'person' && person.roles.includes('character'));
  const place = sayPlace(found.tie.place);
  const book = citeBook(found.book, headings, withYear);
  const said = speaker ? `${escapeMarkdown(speaker.name)}, in ${book}` : book;
  return place ? `${said}, ${escapeMarkdown(place)}` : said;
}

/** The books of the entries, each once in the order first met. */
export function sourcesOf(entries: readonly Entry[], headings: Headings): string[] {
  const books = new Map<string, BookHeading>();
  for (const entry of entries) {
    const found = bookTieOf(entry, headings);
    if (found) books.set(found.book.id, found.book);
  }
  return [...books.values()].map((book) => citeBook(book, headings));
}
