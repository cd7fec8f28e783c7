/** Journals made of judged texts, so that they are searched as a reader's own entries are. */
import { Engine } from '../../../src/engine/engine';
import thesaurus from '../../../shared/thesaurus/related-words.json';
import { RelatedWords } from '../../../src/language/related-words';
import { emptyJournal } from '../../../src/journal/journal';
import type {
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

export const noteOf = (id: string, text: string, ties: Tie[] = []): Entry => ({
  id: id as EntryId,
  kind: 'note',
  text,
  ties,
  added: WHEN,
  changed: WHEN,
});

export const themeOf = (id: string, name: string): ThemeHeading => ({
  id: id as HeadingId,
  kind: 'theme',
  name,
  alternates: [],
  broader: [],
  related: [],
});

export const personOf = (id: string, name: string): PersonHeading => ({
  id: id as HeadingId,
  kind: 'person',
  name,
  alternates: [],
  roles: ['author'],
});

export const tieOf = (heading: string, role: Tie['role'] = 'about'): Tie => ({
  heading: heading as HeadingId,
  role,
  by: 'reader',
});

export function journalOf(entries: Iterable<Entry>, headings: Iterable<Heading> = []): Journal {
  const journal = emptyJournal('0190a000-0000-7000-8000-000000000000', 'Judged', WHEN);
  for (const heading of headings) journal.tables.headings.set(heading.id, heading);
  for (const entry of entries) journal.tables.entries.set(entry.id, entry);
  return journal;
}

/** The engine over a journal at a fixed moment. */
export function engineOver(journal: Journal): Engine {
  const engine = withoutRelatedWords(journal);
  engine.useRelatedWords(relatedWords);
  return engine;
}

export function withoutRelatedWords(journal: Journal): Engine {
  let next = 0;
  return new Engine(journal, {
    now: () => new Date('2026-01-05T12:00:00.000Z'),
    newId: () => `0190a000-0000-7000-9000-${String((next += 1)).padStart(12, '0')}`,
  });
}

const relatedWords = new RelatedWords(thesaurus);

export const numbered = (prefix: string, at: number): string =>
  `${prefix}${String(at).padStart(6, '0')}`;
