/** Small random journals over few words, so that words, phrases and names meet often. For property tests of finding. */
import fc from 'fast-check';
import { emptyJournal } from '../../../src/journal/journal';
import type {
  BookHeading,
  Entry,
  EntryId,
  Heading,
  HeadingId,
  Journal,
  ThemeHeading,
} from '../../../src/journal/records';
import { ENTRY_KINDS } from '../../../src/journal/records';

/** Forms of one word, a near spelling, an accent, a possessive and small words stand side by side on purpose. */
export const SOME_WORDS = [
  'storm',
  'Storms',
  'stormy',
  'garden',
  'gardens',
  'the',
  'of',
  'river',
  'rivers',
  'café',
  'courage',
  'brave',
  'Mary’s',
  'can’t',
  'sea',
  'narration',
  'narrating',
];

const idAt = (n: number): string => `0190a000-0000-7000-8000-${n.toString(16).padStart(12, '0')}`;

const words = (most: number): fc.Arbitrary<string> =>
  fc
    .array(
      fc.tuple(
        fc.constantFrom(...SOME_WORDS),
        fc.constantFrom(' ', ', ', '. ', '\n\n', ' — '),
        fc.constantFrom('', '', '', '*', '**'),
      ),
      { minLength: 1, maxLength: most },
    )
    .map((list) =>
      list
        .map(([word, gap, mark]) => `${mark}${word}${mark}${gap}`)
        .join('')
        .trim(),
    );

/** Headings of every small journal: a theme with another name, one narrower, one related, and two books. */
export function someHeadings(): Heading[] {
  const theme = (n: number, name: string, more: Partial<ThemeHeading>): ThemeHeading => ({
    id: idAt(n) as HeadingId,
    kind: 'theme',
    name,
    alternates: [],
    broader: [],
    related: [],
    ...more,
  });
  const book = (n: number, name: string): BookHeading => ({
    id: idAt(n) as HeadingId,
    kind: 'book',
    name,
    alternates: [],
    authors: [],
  });
  return [
    theme(1, 'Courage', {
      alternates: ['bravery', 'moral courage'],
      related: [idAt(3) as HeadingId],
    }),
    theme(2, 'Endurance', { broader: [idAt(1) as HeadingId] }),
    theme(3, 'Fear', { related: [idAt(1) as HeadingId] }),
    book(4, 'The Storm Garden'),
    book(5, 'Another Sea'),
  ];
}

export const someEntry = (n: number): fc.Arbitrary<Entry> =>
  fc
    .record(
      {
        kind: fc.constantFrom(...ENTRY_KINDS),
        text: words(12),
        title: words(3),
        answer: words(3),
        probes: fc.array(words(3), { maxLength: 2 }),
        lesson: fc.record({ objective: words(3), preparation: words(3) }, { requiredKeys: [] }),
        alt: words(3),
        note: words(2),
        ties: fc.uniqueArray(fc.integer({ min: 1, max: 5 }), { maxLength: 2 }),
        written: fc.constantFrom('2012', '2013-05', '2013-05-02', '201X', '2011/2014', '2012/..'),
      },
      { requiredKeys: ['kind', 'text', 'ties'] },
    )
    .map(({ ties, alt, note, ...rest }): Entry => ({
      id: idAt(100 + n) as EntryId,
      added: '2020-01-01T00:00:00.000Z',
      changed: '2020-01-01T00:00:00.000Z',
      ...rest,
      ...(alt ? { picture: { digest: 'd', type: 'image/png', alt } } : {}),
      ...(note ? { source: { note } } : {}),
      ties: ties.map((heading) => ({
        heading: idAt(heading) as HeadingId,
        role: 'about',
        by: 'reader',
      })),
    }));

export function journalOf(entries: readonly Entry[]): Journal {
  const journal = emptyJournal(idAt(0), 'Small', '2020-01-01T00:00:00.000Z');
  for (const heading of someHeadings()) journal.tables.headings.set(heading.id, heading);
  for (const entry of entries) journal.tables.entries.set(entry.id, entry);
  return journal;
}

/** An entry with a text, at a place in the order of adding. */
export const entryWith = (n: number, more: Partial<Entry>): Entry => ({
  id: idAt(100 + n) as EntryId,
  kind: 'note',
  text: '',
  added: '2020-01-01T00:00:00.000Z',
  changed: '2020-01-01T00:00:00.000Z',
  ties: [],
  ...more,
});

export const tiedTo = (n: number): Entry['ties'] => [
  { heading: idAt(n) as HeadingId, role: 'about', by: 'reader' },
];

export const someJournal: fc.Arbitrary<Journal> = fc
  .integer({ min: 1, max: 12 })
  .chain((count) => fc.tuple(...Array.from({ length: count }, (_, n) => someEntry(n))))
  .map((entries) => journalOf(entries));
