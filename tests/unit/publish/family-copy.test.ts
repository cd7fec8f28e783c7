import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { publishJournal, type JournalKind } from '../../../src/engine/publishing-journal';
import type {
  BookHeading,
  Entry,
  EntryId,
  Guide,
  HeadingId,
  Journal,
  ListId,
  Meeting,
  MeetingId,
  PersonHeading,
  ReadingList,
  SealId,
} from '../../../src/journal/records';
import { journalBook } from '../../../src/publish/journal-book';
import { journalHtml } from '../../../src/publish/journal-html';
import { openRows } from '../../../src/publish/open-rows';
import { arbitraryJournal } from '../journal/arbitrary-journal';

const around = { now: () => new Date('2026-01-02T00:00:00Z'), faces: () => Promise.resolve([]) };

async function published(journal: Journal, kind: JournalKind): Promise<string> {
  const { bytes, said } = await publishJournal(journal, kind, around);
  return `${new TextDecoder().decode(bytes)}\n${said.join('\n')}`;
}

/** A word found nowhere else, for a place that is not for a family. */
const word = (place: string): string => `zq${place}zq`;

/** The same journal with a word of its own in every place that is the leader's or a circle's. */
function planted(journal: Journal): { words: string[] } {
  const words: string[] = [];
  const plant = (place: string): string => {
    if (!words.includes(word(place))) words.push(word(place));
    return word(place);
  };
  for (const entry of journal.tables.entries.values()) {
    entry.answer = plant('answer');
    entry.probes = [plant('probe'), `${plant('probe')}?`];
    entry.materials = [plant('material')];
    entry.ages = plant('ages');
    entry.source = { note: plant('source'), file: plant('file'), place: plant('spot') };
    entry.lesson = {
      objective: plant('objective'),
      preparation: plant('preparation'),
      object: plant('object'),
      observations: [plant('observation')],
      idea: plant('idea'),
      steps: [plant('step')],
      due: plant('due'),
    };
    entry.ties = entry.ties.map((tie) => ({
      ...tie,
      place: { ...tie.place, note: plant('placenote') },
    }));
  }
  for (const heading of journal.tables.headings.values()) {
    heading.note = plant('headnote');
    if (heading.kind === 'book') heading.flags = [plant('flag')];
  }
  for (const circle of journal.tables.circles.values()) circle.name = plant('circle');
  for (const guide of journal.tables.guides.values()) plantGuide(guide, plant);
  for (const meeting of journal.tables.meetings.values()) plantMeeting(meeting, plant);
  for (const reading of journal.tables.readings.values()) reading.note = plant('reading');
  for (const list of journal.tables.lists.values()) {
    list.name = plant('list');
    list.note = plant('listnote');
  }
  for (const seal of journal.tables.seals.values()) {
    seal.envelope = plant('envelope');
    seal.hint = plant('hint');
  }
  return { words };
}

function plantGuide(guide: Guide, plant: (place: string) => string): void {
  guide.title = plant('guide');
  guide.note = plant('guidenote');
  guide.objective = plant('aim');
  for (const part of guide.parts) {
    part.aim = plant('partaim');
    for (const item of part.items) {
      item.cue = plant('cue');
      item.text = plant('wording');
    }
  }
}

function plantMeeting(meeting: Meeting, plant: (place: string) => string): void {
  meeting.note = plant('meeting');
  for (const item of meeting.items) item.note = plant('went');
}

/** A sealed list with a book nobody else has, its author and character, an entry tied to it and a guide on it. */
function sealAway(journal: Journal): string[] {
  const book: BookHeading = {
    id: 'sealed-book' as HeadingId,
    kind: 'book',
    name: 'zqsealedtitlezq',
    alternates: ['zqsealedothernamezq'],
    authors: ['sealed-author' as HeadingId],
  };
  const person = (id: string, name: string, more: Partial<PersonHeading>): PersonHeading => ({
    id: id as HeadingId,
    kind: 'person',
    name,
    alternates: [],
    roles: ['author'],
    ...more,
  });
  const { headings, entries, lists, guides, meetings } = journal.tables;
  headings.set(book.id, book);
  const author = person('sealed-author', 'Ann zqsealedauthorzq', {});
  const character = person('sealed-character', 'zqsealedcharacterzq', {
    roles: ['character'],
    books: [book.id],
  });
  for (const one of [author, character]) headings.set(one.id, one);
  const entry: Entry = {
    id: 'sealed-entry' as EntryId,
    kind: 'quote',
    text: 'zqsealedwordszq',
    ties: [
      { heading: book.id, role: 'from', by: 'reader' },
      { heading: character.id, role: 'by', by: 'reader' },
    ],
    added: '2026-01-01T00:00:00.000Z',
    changed: '2026-01-01T00:00:00.000Z',
  };
  entries.set(entry.id, entry);
  const guide: Guide = {
    id: 'sealed-guide' as Guide['id'],
    title: 'zqsealedguidezq',
    shape: 'discussion',
    focus: { words: [], headings: [{ heading: book.id }], entries: [] },
    minutes: 60,
    starts: '2026-03-04T19:00',
    parts: [],
    made: '2026-01-01T00:00:00.000Z',
  };
  guides.set(guide.id, guide);
  const circle = [...journal.tables.circles.values()][0]?.id;
  if (circle)
    meetings.set('sealed-meeting', {
      id: 'sealed-meeting' as MeetingId,
      guide: guide.id,
      circle,
      on: '2026-03-04',
      items: [],
    });
  lists.set('sealed-list', {
    id: 'sealed-list' as ListId,
    name: 'zqsealedlistzq',
    note: 'zqsealednotezq',
    books: [book.id],
    seal: 'seal-of-it' as SealId,
  } as ReadingList);
  return ['zqsealed'];
}

describe('the family copy', () => {
  test('never holds an answer, follow-up, cue, note of the leader, a circle or a meeting, or anything of a sealed list', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryJournal(), async (journal) => {
        const { words } = planted(journal);
        const html = await published(journal, 'html');
        sealAway(journal);
        const sealed = await published(journal, 'html');
        for (const one of words) expect(html).not.toContain(one);
        for (const one of [...words, 'zqsealed']) expect(sealed).not.toContain(one);
      }),
      { numRuns: 80 },
    );
  });

  test('says what was left out for a seal by number alone', async () => {
    const [journal] = fc.sample(arbitraryJournal(), { numRuns: 1, seed: 7 });
    sealAway(journal!);
    const { said } = await publishJournal(journal!, 'html', around);
    expect(said.at(-1)).toBe(
      'Left out, because a list they belong to is sealed: 1 book, 1 entry and 1 guide.',
    );
  });

  test('does hold what is no secret: the same list without its seal', async () => {
    const [journal] = fc.sample(arbitraryJournal(), { numRuns: 1, seed: 7 });
    sealAway(journal!);
    delete journal!.tables.lists.get('sealed-list')!.seal;
    const html = await published(journal!, 'html');
    for (const shown of ['title', 'words', 'character'])
      expect(html).toContain(`zqsealed${shown}zq`);
    expect(html).not.toContain('zqsealedguidezq');
    expect(html).not.toContain('zqsealedlistzq');
  });

  test('runs nothing and fetches nothing, whatever is written in the journal', async () => {
    await fc.assert(
      fc.asyncProperty(
        arbitraryJournal(),
        fc.constantFrom(
          '<script>alert(1)</script>',
          '[a](javascript:alert(1))',
          '![a](https://example.org/a.png)',
          '<img src=x onerror=alert(1)>',
          '"><svg onload=alert(1)>',
        ),
        async (journal, text) => {
          for (const entry of journal.tables.entries.values()) {
            entry.text = text;
            entry.title = text;
          }
          for (const heading of journal.tables.headings.values()) heading.name = text;
          journal.name = text;
          const { bytes } = await publishJournal(journal, 'html', around);
          const html = new TextDecoder().decode(bytes);
          expect(html).not.toMatch(/<(?:script|img|iframe|object|link|form)\b/i);
          expect(html).not.toMatch(/<[a-z][^>]*\son\w+=/i);
          expect(html).not.toMatch(/(?:href|src)="(?!#|"|https?:|mailto:)/i);
          expect(html).not.toMatch(/<[a-z][^>]*\ssrc=/i);
          expect(html).toContain("default-src 'none'");
        },
      ),
      { numRuns: 40 },
    );
  });
});

describe.each(['csv', 'json-ld', 'bibtex', 'csl-json', 'skos', 'ics', 'graphml'] as const)(
  'the journal as %s',
  (kind) => {
    test('holds nothing of a sealed list', async () => {
      await fc.assert(
        fc.asyncProperty(arbitraryJournal(), async (journal) => {
          sealAway(journal);
          expect(await published(journal, kind)).not.toContain('zqsealed');
        }),
        { numRuns: 20 },
      );
    });
  },
);

describe('a journal as a book', () => {
  const entry = (id: string, ties: Entry['ties'], more: Partial<Entry> = {}): Entry => ({
    id: id as EntryId,
    kind: 'note',
    text: id,
    ties,
    added: '2026-01-01T00:00:00.000Z',
    changed: '2026-01-01T00:00:00.000Z',
    ...more,
  });
  const tie = (
    heading: string,
    role: 'from' | 'about' | 'by',
    chapter?: string,
    page?: string,
  ) => ({
    heading: heading as HeadingId,
    role,
    by: 'reader' as const,
    ...(chapter || page
      ? { place: { ...(chapter ? { chapter } : {}), ...(page ? { page } : {}) } }
      : {}),
  });
  function small(): Journal {
    const [journal] = fc.sample(arbitraryJournal(), { numRuns: 1, seed: 1 });
    for (const table of Object.values(journal!.tables)) table.clear();
    const { headings, entries } = journal!.tables;
    const base = { alternates: [] as string[] };
    const put = (heading: object): void =>
      void headings.set((heading as { id: string }).id as HeadingId, heading as BookHeading);
    put({ ...base, id: 'shelley', kind: 'person', name: 'Mary Shelley', roles: ['author'] });
    put({ ...base, id: 'snail', kind: 'person', name: 'The snail', roles: ['character'] });
    put({ ...base, id: 'frank', kind: 'book', name: 'Frankenstein', authors: ['shelley'] });
    put({ ...base, id: 'garden', kind: 'book', name: 'The Secret Garden', authors: [] });
    put({
      ...base,
      id: 'home',
      kind: 'theme',
      name: 'Home',
      broader: [],
      related: [],
      alternates: ['Dwelling'],
    });
    for (const one of [
      entry('c', [tie('garden', 'from', 'xii', '4'), tie('snail', 'by')]),
      entry('b', [tie('garden', 'from', '2', '61')]),
      entry('a', [tie('garden', 'about', '2', '9'), tie('home', 'about')]),
      entry('d', [tie('frank', 'from'), tie('home', 'about')], { written: '2014-21' }),
      entry('e', [tie('home', 'about')]),
    ])
      entries.set(one.id, one);
    return journal!;
  }

  test('puts books in filing order and entries in the order of places, what has no book last', () => {
    const journal = small();
    const book = journalBook(openRows(journal), {
      title: 'Ours',
      entries: [...journal.tables.entries.values()],
    });
    expect(
      book.chapters.map(({ title, entries }) => [title, entries.map(({ text }) => text)]),
    ).toEqual([
      ['Frankenstein', ['d']],
      ['The Secret Garden', ['a', 'b', 'c']],
      ['Beside the books', ['e']],
    ]);
    expect(book.chapters[1]!.entries.map(({ place }) => place)).toEqual([
      'ch.\u00A02, p.\u00A09',
      'ch.\u00A02, p.\u00A061',
      'ch.\u00A0xii, p.\u00A04',
    ]);
    expect(book.chapters[0]!.entries[0]).toMatchObject({ number: 1, written: 'spring 2014' });
    expect(book.chapters[1]!.entries[2]).toMatchObject({ speaker: 'The snail' });
  });

  test('has an index in filing order: articles dropped, people by family name, other names sent on', () => {
    const rows = openRows(small());
    const { index, classes } = journalBook(rows, { title: 'Ours', entries: rows.entries });
    expect(index.map(({ name, entries, see }) => [name, entries, see])).toEqual([
      ['Dwelling', [], ['Home']],
      ['Frankenstein', [1], []],
      ['Home', [1, 2, 5], []],
      ['The Secret Garden', [2, 3, 4], []],
      ['Shelley, Mary', [], ['Frankenstein']],
      ['The snail', [4], []],
    ]);
    expect(classes.map(({ name, lines }) => [name, lines.map((line) => line.name)])).toEqual([
      ['F a', ['Frankenstein']],
      ['H o', ['Home']],
      ['S a', ['The snail']],
      ['S e', ['The Secret Garden']],
    ]);
  });

  test('writes runs of numbers as the first and last', () => {
    const rows = openRows(small());
    const html = journalHtml(journalBook(rows, { title: 'Ours', entries: rows.entries }), {
      paper: 'A4',
    });
    const words = html.replace(/<[^>]*>/g, '');
    expect(words).toContain('The Secret Garden, 2–4');
    expect(words).toContain('Home, 1, 2, 5');
  });

  test('puts chapters no list knows in the order of their pages, each whole', () => {
    const rows = openRows(small());
    const garden = rows.headings.get('garden') as BookHeading;
    const { chapters } = journalBook(rows, {
      title: 'The Secret Garden',
      entries: [
        entry('who, 97', [tie('garden', 'from', 'Who', '97')]),
        entry('who', [tie('garden', 'from', 'Who')]),
        entry('12', [tie('garden', 'from', undefined, '12')]),
        entry('how, 150', [tie('garden', 'from', 'How', '150')]),
        entry('why, 9', [tie('garden', 'from', 'Why', '9')]),
        entry('who, 98', [tie('garden', 'from', 'Who', '98')]),
      ],
      by: garden,
    });
    expect(chapters.map(({ title, entries }) => [title, entries.map(({ text }) => text)])).toEqual([
      ['Why', ['why, 9']],
      ['Who', ['who, 97', 'who, 98', 'who']],
      ['How', ['how, 150']],
      ['On the whole book', ['12']],
    ]);
  });

  test('parts the entries of one book by its chapters', () => {
    const rows = openRows(small());
    const garden = rows.headings.get('garden') as BookHeading;
    const { chapters } = journalBook(rows, {
      title: 'The Secret Garden',
      entries: rows.entries.filter(({ ties }) => ties.some(({ heading }) => heading === 'garden')),
      by: { ...garden, chapters: [{ name: 'A' }, { name: 'Mistress Mary' }] },
    });
    expect(chapters.map(({ title, entries }) => [title, entries.length])).toEqual([
      ['Chapter 2, Mistress Mary', 2],
      ['Chapter xii', 1],
    ]);
  });
});
