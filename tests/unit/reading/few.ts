/** Small records for tests of the reading room. */
import { apply } from '../../../src/journal/edits';
import { emptyJournal } from '../../../src/journal/journal';
import type {
  BookHeading,
  Challenge,
  ChallengeId,
  Entry,
  EntryId,
  HeadingId,
  Journal,
  PersonHeading,
  PromptRule,
  Reading,
  ReadingId,
  Records,
  TableName,
  ThemeHeading,
} from '../../../src/journal/records';

export const book = (id: string, name: string, more: Partial<BookHeading> = {}): BookHeading => ({
  id: id as HeadingId,
  kind: 'book',
  name,
  alternates: [],
  authors: [],
  ...more,
});

export const person = (
  id: string,
  name: string,
  more: Partial<PersonHeading> = {},
): PersonHeading => ({
  id: id as HeadingId,
  kind: 'person',
  name,
  alternates: [],
  roles: [],
  ...more,
});

export const theme = (id: string, name: string, broader: string[] = []): ThemeHeading => ({
  id: id as HeadingId,
  kind: 'theme',
  name,
  alternates: [],
  broader: broader as HeadingId[],
  related: [],
});

export const entry = (id: string, headings: string[], more: Partial<Entry> = {}): Entry => ({
  id: id as EntryId,
  kind: 'note',
  text: `Entry ${id}`,
  ties: headings.map((heading) => ({ heading: heading as HeadingId, role: 'about', by: 'reader' })),
  added: '2020-01-01T00:00:00.000Z',
  changed: '2020-01-01T00:00:00.000Z',
  ...more,
});

export const reading = (
  id: string,
  bookId: string,
  finished?: string,
  more: Partial<Reading> = {},
): Reading => ({
  id: id as ReadingId,
  book: bookId as HeadingId,
  form: 'print',
  ...(finished ? { finished } : {}),
  ...more,
});

export const challenge = (
  rules: (PromptRule & { id?: string })[],
  more: Partial<Challenge> = {},
): Challenge => ({
  id: 'challenge' as ChallengeId,
  name: 'A challenge',
  from: '2025',
  to: '2025',
  perBook: 1,
  prompts: rules.map(({ id, ...rule }, index) => ({
    id: id ?? `p${index + 1}`,
    text: `Prompt ${id ?? index + 1}`,
    rule,
  })),
  ...more,
});

/** A journal with these rows, checked by the journal's own rules. */
export function journalOf(rows: Partial<{ [T in TableName]: Records[T][] }>): Journal {
  const journal = emptyJournal('journal', 'Test', '2020-01-01T00:00:00.000Z');
  const changes = (Object.keys(rows) as TableName[]).flatMap((table) =>
    rows[table]!.map((row) => ({ table, id: row.id, after: row })),
  );
  const done = apply(journal, { does: 'Fill', changes: changes as never });
  if (!done.ok) throw new Error(done.message);
  return journal;
}

export const at = (day: string): { now: () => Date; newId: () => string } => {
  let made = 0;
  return {
    now: () => new Date(`${day}T12:00:00`),
    newId: () => `new-${(made += 1)}`,
  };
};
