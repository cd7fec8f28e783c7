import type { Block, BookFound, ReadWhole } from '../../../src/gather/block';
import type { FileGathered } from '../../../src/gather/gathering';
import { emptyJournal } from '../../../src/journal/journal';
import type {
  BookHeading,
  HeadingId,
  Journal,
  PersonHeading,
  ThemeHeading,
} from '../../../src/journal/records';

export const NOW = '2026-11-25T10:00:00.000Z';

/** Ids in order, so that tests may name them. */
export function ids(prefix = 'new'): () => string {
  let count = 0;
  return () => `${prefix}-${++count}`;
}

const hid = (id: string): HeadingId => id as HeadingId;

/** A journal of a few books, their people and three themes. */
export function smallJournal(): Journal {
  const journal = emptyJournal('j', 'Test', NOW);
  const person = (id: string, name: string, more: Partial<PersonHeading> = {}): PersonHeading => ({
    id: hid(id),
    kind: 'person',
    name,
    alternates: [],
    roles: ['character'],
    ...more,
  });
  const book = (id: string, name: string, more: Partial<BookHeading> = {}): BookHeading => ({
    id: hid(id),
    kind: 'book',
    name,
    alternates: [],
    authors: [],
    ...more,
  });
  const theme = (id: string, name: string): ThemeHeading => ({
    id: hid(id),
    kind: 'theme',
    name,
    alternates: [],
    broader: [],
    related: [],
  });
  const rows = [
    person('grahame', 'Kenneth Grahame', { roles: ['author'] }),
    person('austen', 'Jane Austen', { roles: ['author'] }),
    person('bronte', 'Charlotte Brontë', { roles: ['author'], alternates: ['Currer Bell'] }),
    book('willows', 'The Wind in the Willows', { authors: [hid('grahame')] }),
    book('emma', 'Emma', { authors: [hid('austen')] }),
    book('holes', 'Holes'),
    book('it', 'It'),
    book('jane-eyre', 'Jane Eyre', { authors: [hid('bronte')] }),
    book('anne', 'Anne of Green Gables', { alternates: ['Green Gables'] }),
    book('frankenstein', 'Frankenstein; or, The Modern Prometheus', {
      alternates: ['Frankenstein'],
    }),
    person('mole', 'Mole', { alternates: ['the Mole'], books: [hid('willows')] }),
    person('jane', 'Jane Eyre', { alternates: ['Jane'], books: [hid('jane-eyre')] }),
    person('marilla', 'Marilla Cuthbert', { alternates: ['Marilla'], books: [hid('anne')] }),
    theme('courage', 'Courage'),
    theme('home', 'Home'),
    theme('truth', 'Truth and stories'),
  ];
  for (const row of rows) journal.tables.headings.set(row.id, row);
  return journal;
}

export function block(text: string, more: Partial<Block> = {}): Block {
  return { as: 'paragraph', text, place: { line: 1, note: 'line 1' }, ...more };
}

let digests = 0;

/** A file as a reader would hand it on; line numbers by the order of blocks. */
export function file(
  path: string,
  blocks: Block[],
  more: Partial<ReadWhole> & { books?: BookFound[] } = {},
): FileGathered {
  digests += 1;
  const digest = `${digests}`.padStart(64, 'a');
  const placed = blocks.map((each, at) => ({
    ...each,
    place: { line: at + 1, note: `line ${at + 1}` },
  }));
  return { path, digest, result: { ok: true, blocks: placed, notes: [], ...more } };
}
