/**
 * What of a journal may leave it in another form: everything but what is sealed. A list with a seal
 * goes with all that is of it: its books, the entries and guides tied to those, and the people known
 * only through them. Envelopes are never opened here.
 */
import type {
  BookHeading,
  Circle,
  Entry,
  Guide,
  Heading,
  Journal,
  Meeting,
  PersonHeading,
  ThemeHeading,
} from '../journal/records';

export interface OpenRows {
  id: string;
  name: string;
  headings: ReadonlyMap<string, Heading>;
  /** In the order of adding. */
  entries: readonly Entry[];
  circles: ReadonlyMap<string, Circle>;
  guides: ReadonlyMap<string, Guide>;
  meetings: readonly Meeting[];
  /** What was left out because a list is sealed. */
  left: { books: number; entries: number; guides: number };
}

export const booksOf = ({ headings }: Pick<OpenRows, 'headings'>): BookHeading[] =>
  [...headings.values()].filter((heading) => heading.kind === 'book');

export const themesOf = ({ headings }: Pick<OpenRows, 'headings'>): ThemeHeading[] =>
  [...headings.values()].filter((heading) => heading.kind === 'theme');

/** The headings of sealed lists. */
export function closedHeadings({ tables }: Journal): ReadonlySet<string> {
  const closed = new Set<string>();
  for (const list of tables.lists.values())
    if (list.seal) for (const book of list.books) closed.add(book);
  return closed;
}

/** The open rows, with no reference left in them to a row that is not open. */
export function openRows(journal: Journal): OpenRows {
  const { tables } = journal;
  const closed = closedHeadings(journal);
  const tiedToClosed = (entry: Entry): boolean => entry.ties.some((tie) => closed.has(tie.heading));
  const inOrder = [...tables.entries.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
  const entries = inOrder.filter((entry) => !tiedToClosed(entry));
  const known = peopleElsewhere(journal, entries, closed);
  const headings = new Map<string, Heading>();
  for (const heading of tables.headings.values()) {
    if (closed.has(heading.id)) continue;
    if (heading.kind !== 'person') headings.set(heading.id, heading);
    else if (known(heading)) headings.set(heading.id, withoutClosed(heading, closed));
  }
  const guides = new Map<string, Guide>();
  for (const guide of tables.guides.values())
    if (!guide.focus.headings.some(({ heading }) => closed.has(heading)))
      guides.set(guide.id, guide);
  const meetings = [...tables.meetings.values()].filter(
    ({ guide }) => !guide || guides.has(guide) || !tables.guides.has(guide),
  );
  return {
    id: journal.id,
    name: journal.name,
    headings,
    entries,
    circles: tables.circles,
    guides,
    meetings,
    left: {
      books: [...closed].filter((id) => tables.headings.has(id as Heading['id'])).length,
      entries: inOrder.length - entries.length,
      guides: tables.guides.size - guides.size,
    },
  };
}

/** Whether a person is known by more than a closed book: tied to an open entry, or of an open book, or of none at all. */
function peopleElsewhere(
  journal: Journal,
  entries: readonly Entry[],
  closed: ReadonlySet<string>,
): (person: PersonHeading) => boolean {
  const open = new Set<string>();
  const shut = new Set<string>();
  for (const { ties } of entries) for (const { heading } of ties) open.add(heading);
  for (const heading of journal.tables.headings.values()) {
    if (heading.kind !== 'book') continue;
    for (const author of heading.authors) (closed.has(heading.id) ? shut : open).add(author);
  }
  return ({ id, books = [] }) =>
    open.has(id) ||
    books.some((book) => !closed.has(book)) ||
    !(shut.has(id) || books.some((book) => closed.has(book)));
}

function withoutClosed(person: PersonHeading, closed: ReadonlySet<string>): PersonHeading {
  if (!person.books?.some((book) => closed.has(book))) return person;
  return { ...person, books: person.books.filter((book) => !closed.has(book)) };
}
