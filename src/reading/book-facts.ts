/** What is known of each book that a rule, a figure or a catalogue may ask about, read off the journal. */
import type { BookHeading, HeadingId, Journal, PersonHeading } from '../journal/records';
import { headingsCalled, rowsNaming } from '../journal/indexes';
import { entriesTiedTo } from '../journal/uses';
import { filingKey, nameKey } from '../language/filing';
import { invertedName } from '../language/inverted-name';

interface AuthorFacts {
  id: HeadingId;
  name: string;
  /** Files under: family name first. */
  filing: string;
  letter: string;
}

export interface BookFacts {
  id: HeadingId;
  name: string;
  /** Key of the title by the filing rules; compare as strings. */
  filing: string;
  /** The letter it files under, "A" to "Z" or another script's; "0–9" for a figure; '' for none. */
  letter: string;
  authors: AuthorFacts[];
  pages?: number;
  published?: string;
  language?: string;
  /** Themes that some entry is tied to together with the book, and the themes broader than those. */
  themes: ReadonlySet<HeadingId>;
  /** Its authors, its characters, and the people some entry is tied to together with it. */
  people: ReadonlySet<HeadingId>;
}

/** "A" to "Z", "0–9" for a figure, another script's capital, or '' where a key begins with neither. */
export function letterOf(key: string): string {
  const first = [...key][0] ?? '';
  if (/\p{Nd}/u.test(first)) return '0–9';
  return /\p{L}/u.test(first) ? first.toUpperCase() : '';
}

/**
 * The filing key of a book: an initial article is dropped in the language the book is marked with; a title that begins with "The" is English
 * whatever the book was first written in, as no other listed language has that word.
 */
function bookFiling({
  name,
  language,
  filing,
}: Pick<BookHeading, 'name' | 'language' | 'filing'>): string {
  const english = /^\W*the\s/i.test(name);
  return filingKey(name, {
    kind: 'title',
    ...(language && !english ? { language } : {}),
    ...(filing ? { filing } : {}),
  });
}

const personFiling = ({ name, filing }: Pick<PersonHeading, 'name' | 'filing'>): string =>
  filingKey(filing ?? invertedName(name), { kind: 'name' });

export function authorsOf(journal: Journal, book: BookHeading): AuthorFacts[] {
  return book.authors.flatMap((id) => {
    const person = journal.tables.headings.get(id);
    if (person?.kind !== 'person') return [];
    const filing = personFiling(person);
    return [{ id, name: person.name, filing, letter: letterOf(filing) }];
  });
}

/** Facts of one book. The cost is that of its own entries. */
export function factsOf(journal: Journal, book: BookHeading): BookFacts {
  const filing = bookFiling(book);
  const authors = authorsOf(journal, book);
  const themes = new Set<HeadingId>();
  const people = new Set<HeadingId>(book.authors);
  for (const entry of entriesTiedTo(journal, book.id)) {
    for (const { heading } of journal.tables.entries.get(entry)?.ties ?? []) {
      const kind = journal.tables.headings.get(heading)?.kind;
      if (kind === 'theme') addWithBroader(journal, heading, themes);
      else if (kind === 'person') people.add(heading);
    }
  }
  for (const id of rowsNaming(journal, 'headings', book.id, 'headings')) {
    const person = journal.tables.headings.get(id);
    if (person?.kind === 'person') people.add(person.id);
  }
  const facts: BookFacts = {
    id: book.id,
    name: book.name,
    filing,
    letter: letterOf(filing),
    authors,
    themes,
    people,
  };
  if (book.pages !== undefined) facts.pages = book.pages;
  if (book.published !== undefined) facts.published = book.published;
  if (book.language !== undefined) facts.language = book.language;
  return facts;
}

function addWithBroader(journal: Journal, id: HeadingId, into: Set<HeadingId>): void {
  const waiting = [id];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (into.has(next)) continue;
    into.add(next);
    const theme = journal.tables.headings.get(next);
    if (theme?.kind === 'theme') waiting.push(...theme.broader);
  }
}

/** Facts of every book of the journal, by id. */
export function allFacts(journal: Journal): Map<HeadingId, BookFacts> {
  const all = new Map<HeadingId, BookFacts>();
  for (const heading of journal.tables.headings.values()) {
    if (heading.kind === 'book') all.set(heading.id, factsOf(journal, heading));
  }
  return all;
}

/** Ids a rule's `is` may mean: the heading with that id, or every heading of the kinds with that name or alternate. */
export function headingsMeant(
  journal: Journal,
  is: string,
  kind: 'book' | 'theme' | 'person',
): ReadonlySet<HeadingId> {
  const known = journal.tables.headings.get(is);
  if (known?.kind === kind) return new Set([known.id]);
  return nameKey(is, kind) === '' ? new Set() : headingsCalled(journal, kind, is);
}
