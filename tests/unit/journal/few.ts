/** A few plain rows for tests that need to see each of them. */
import { emptyJournal } from '../../../src/journal/journal';
import type {
  BookHeading,
  Entry,
  EntryId,
  Heading,
  HeadingId,
  Journal,
  PersonHeading,
  ThemeHeading,
  Tie,
} from '../../../src/journal/records';

const WHEN = '2024-03-14T10:00:00.000Z';

export const entry = (id: string, more: Partial<Entry> = {}): Entry => ({
  id: id as EntryId,
  kind: 'note',
  text: `Text of ${id}`,
  ties: [],
  added: WHEN,
  changed: WHEN,
  ...more,
});

export const theme = (id: string, more: Partial<ThemeHeading> = {}): ThemeHeading => ({
  id: id as HeadingId,
  kind: 'theme',
  name: `Theme ${id}`,
  alternates: [],
  broader: [],
  related: [],
  ...more,
});

export const book = (id: string, more: Partial<BookHeading> = {}): BookHeading => ({
  id: id as HeadingId,
  kind: 'book',
  name: `Book ${id}`,
  alternates: [],
  authors: [],
  ...more,
});

export const person = (id: string, more: Partial<PersonHeading> = {}): PersonHeading => ({
  id: id as HeadingId,
  kind: 'person',
  name: `Person ${id}`,
  alternates: [],
  roles: [],
  ...more,
});

export const tieTo = (heading: string, more: Partial<Tie> = {}): Tie => ({
  heading: heading as HeadingId,
  role: 'about',
  by: 'reader',
  ...more,
});

/** A journal of these entries and headings. */
export function journalOf(...rows: (Entry | Heading)[]): Journal {
  const journal = emptyJournal('j1', 'Few', WHEN);
  for (const row of rows) {
    if ('text' in row) journal.tables.entries.set(row.id, row);
    else journal.tables.headings.set(row.id, row);
  }
  return journal;
}
