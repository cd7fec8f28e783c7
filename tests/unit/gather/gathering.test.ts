import { describe, expect, test } from 'vitest';
import { acceptEdit } from '../../../src/gather/accept';
import type { BookFound } from '../../../src/gather/block';
import { gatherAtOnce, type FileGathered, type GatheringMade } from '../../../src/gather/gathering';
import type { GatherPiece } from '../../../src/gather/piece';
import { apply } from '../../../src/journal/edits';
import type { BookHeading, Gathering, GatheringId, Journal } from '../../../src/journal/records';
import { checkJournal } from '../../../src/journal/rules';
import { block, file, ids, NOW, smallJournal } from './build';

function gathering(files: readonly FileGathered[], id = 'g1'): Gathering {
  return {
    id: id as GatheringId,
    on: NOW,
    files: files.map(({ path, digest, result }) => ({
      path,
      digest,
      status: result.ok ? 'read' : 'unreadable',
    })),
  };
}

function keepAll(
  journal: Journal,
  made: GatheringMade,
  files: readonly FileGathered[],
  id = 'g1',
): number {
  const { edit, entries } = acceptEdit(journal, made.pieces, {
    newId: ids(id),
    now: NOW,
    gathering: gathering(files, id),
    books: made.books,
    meetings: made.meetings,
  });
  const done = apply(journal, edit);
  expect(done).toMatchObject({ ok: true });
  return entries.length;
}

const tiesSaid = (piece: GatherPiece | undefined): string[] =>
  (piece?.ties ?? []).map(
    (tie) => `${tie.heading ?? `new ${tie.name}`} ${tie.role} ${tie.certainty}`,
  );

describe('what governs pieces', () => {
  const notebook = file(
    'Avonlea.docx',
    [
      block('Anne of Green Gables', { as: 'title', level: 0 }),
      block('14 March 2015', { as: 'heading', level: 2, under: ['Anne of Green Gables'] }),
      block('Marilla is the one who is changed most.', {
        under: ['Anne of Green Gables', '14 March 2015'],
      }),
      block('Questions', { as: 'heading', level: 2, under: ['Anne of Green Gables'] }),
      block('Why does Anne confess to losing the brooch?', {
        as: 'item',
        level: 1,
        under: ['Anne of Green Gables', 'Questions'],
      }),
      block('The last word on Matthew', {
        as: 'item',
        level: 1,
        under: ['Anne of Green Gables', 'Questions'],
      }),
      block('Chapter 14', { as: 'heading', level: 2, under: ['Anne of Green Gables'] }),
      block('She says she is sorry on p. 103 and is not.', {
        under: ['Anne of Green Gables', 'Chapter 14'],
      }),
    ],
    { title: 'Anne of Green Gables' },
  );
  const { pieces } = gatherAtOnce(smallJournal(), [notebook]);

  test('headings are no pieces where they are understood', () => {
    expect(pieces.map(({ text }) => text)).toEqual([
      'Marilla is the one who is changed most.',
      'Why does Anne confess to losing the brooch?',
      'The last word on Matthew',
      'She says she is sorry on p. 103 and is not.',
    ]);
  });

  test('the title of the file is the book of all below it', () => {
    for (const piece of pieces) expect(tiesSaid(piece)).toContain('anne about sure');
    expect(tiesSaid(pieces[0])).toContain('marilla about sure');
  });

  test('a heading that is a date dates what stands under it, and nothing else', () => {
    expect(pieces.map(({ written }) => written)).toEqual([
      '2015-03-14',
      undefined,
      undefined,
      undefined,
    ]);
  });

  test('a list called questions holds questions', () => {
    expect(pieces.map(({ kind }) => kind)).toEqual(['note', 'question', 'question', 'note']);
    expect(pieces[1]?.certainty).toBe('sure');
  });

  test('a chapter over a piece and a page in it are its place in the book', () => {
    expect(pieces[3]?.ties[0]?.place).toEqual({ chapter: '14', page: '103' });
  });

  test('a title line in running text governs until the next', () => {
    const lines = file('notes.txt', [
      block('The Wind in the Willows by Kenneth Grahame'),
      block('The river is the first adult in the book.'),
      block('Emma by Jane Austen'),
      block('Everybody walks and nobody arrives.'),
    ]);
    const made = gatherAtOnce(smallJournal(), [lines]);
    expect(made.pieces.map((piece) => tiesSaid(piece)[0])).toEqual([
      'willows about sure',
      'emma about sure',
    ]);
  });

  test('a file called notes holds questions as well', () => {
    const lines = file('notes.md', [
      block('Why does Mole leave his house in the middle of spring cleaning?'),
      block('Is it a lie to write that in a web?'),
    ]);
    const made = gatherAtOnce(smallJournal(), [lines]);
    expect(made.pieces.map(({ kind, certainty }) => [kind, certainty])).toEqual([
      ['question', 'sure'],
      ['question', 'sure'],
    ]);
  });

  test('a heading with nothing under it is kept as a piece, and one not understood as a title', () => {
    const loose = file('loose.txt', [
      block('A thought about doors', { as: 'heading', level: 2 }),
      block('Rooms again', { as: 'heading', level: 2 }),
      block('They are all locked from the outside.', { under: ['Rooms again'] }),
    ]);
    const made = gatherAtOnce(smallJournal(), [loose]);
    expect(made.pieces.map(({ text, title }) => [text, title])).toEqual([
      ['A thought about doors', undefined],
      ['They are all locked from the outside.', 'Rooms again'],
    ]);
  });

  test('title lines with nothing under them are pieces: a list of books', () => {
    const list = file('to read.txt', [
      block('Emma by Jane Austen'),
      block('The Long Field by Ellen Marsh'),
    ]);
    const made = gatherAtOnce(smallJournal(), [list]);
    expect(made.pieces.map((piece) => [piece.text, tiesSaid(piece)[0]])).toEqual([
      ['Emma by Jane Austen', 'emma about sure'],
      ['The Long Field by Ellen Marsh', 'new The Long Field about sure'],
    ]);
  });

  test('what stands under one lesson idea is one piece, with its materials', () => {
    const under = ['Lesson ideas', 'The two stones'];
    const lesson = file('lessons.docx', [
      block('Lesson ideas', { as: 'heading', level: 1 }),
      block('The two stones', { as: 'heading', level: 2, under: ['Lesson ideas'] }),
      block('You will need: two stones, a bowl of water, a cloth', { under }),
      block('Wet one stone.', { as: 'item', level: 1, ordered: true, under }),
      block('Ask which is heavier.', { as: 'item', level: 1, ordered: true, under }),
    ]);
    const [piece, ...others] = gatherAtOnce(smallJournal(), [lesson]).pieces;
    expect(others).toEqual([]);
    expect(piece).toMatchObject({ kind: 'lesson', certainty: 'sure', title: 'The two stones' });
    expect(piece?.text).toBe(
      'You will need: two stones, a bowl of water, a cloth\n\n1. Wet one stone.\n1. Ask which is heavier.',
    );
    expect(piece?.materials).toEqual(['two stones', 'a bowl of water', 'a cloth']);
  });

  test('an answer belongs to its question, for the leader alone', () => {
    const asked = file('q.txt', [
      block('Who opens the door?'),
      block('Answer: nobody; it was never shut.'),
    ]);
    const [piece, ...others] = gatherAtOnce(smallJournal(), [asked]).pieces;
    expect(others).toEqual([]);
    expect(piece).toMatchObject({ kind: 'question', answer: 'nobody; it was never shut.' });
  });
});

describe('ties proposed anew', () => {
  test('a signature under a quotation names author, book and page', () => {
    const quote = file('quotes.txt', [
      block(
        '“I had not lived there long before I knew the way.” — Ellen Marsh, The Long Field, p. 12',
      ),
    ]);
    const [piece] = gatherAtOnce(smallJournal(), [quote]).pieces;
    expect(piece?.kind).toBe('quote');
    expect(tiesSaid(piece)).toEqual(['new The Long Field from sure', 'new Ellen Marsh by likely']);
    expect(piece?.ties[0]).toMatchObject({
      place: { page: '12' },
      authors: ['Ellen Marsh'],
      isNew: true,
    });
  });

  test('a title in italics by somebody is a new book', () => {
    const text = 'Borrowed *The Long Field* by Ellen Marsh from Ruth.';
    const note = file('n.txt', [block(text, { italics: [[10, 24]] })]);
    const [piece] = gatherAtOnce(smallJournal(), [note]).pieces;
    expect(piece?.ties).toEqual([
      {
        name: 'The Long Field',
        kind: 'book',
        role: 'about',
        certainty: 'sure',
        isNew: true,
        authors: ['Ellen Marsh'],
        told: true,
      },
    ]);
  });

  test('an unknown title over pages and questions is proposed as a book, over anything else not', () => {
    const over = (title: string, texts: string[]): string[] => {
      const blocks = texts.map((text) => block(text, { under: [title] }));
      const titled = file('x.txt', [block(title, { as: 'title', level: 0 }), ...blocks], { title });
      return gatherAtOnce(smallJournal(), [titled]).pieces.flatMap(tiesSaid);
    };
    const likely = 'new The Long Field about likely';
    expect(over('THE LONG FIELD', ['The gate (p. 3) is open.', 'It shuts on p. 90.'])).toEqual([
      likely,
      likely,
    ]);
    const asked = ['Q. Why is the gate open?', 'Q. Who shut it, and what for?'];
    const guess = 'new The Long Field about guess';
    expect(over('THE LONG FIELD', asked)).toEqual([guess, guess]);
    expect(over('THE LONG FIELD', [asked[0]!, 'Rain again.'])).toEqual([]);
    expect(over('Autumn Papers', ['Rain again.', 'More rain.'])).toEqual([]);
  });

  test('a row of a table is tied by its columns', () => {
    const cells = {
      Words: 'All this he saw.',
      Book: 'Wind in the Willows',
      Page: '7',
      Theme: 'courage; weather',
      Extra: 'x',
    };
    const rows = file(
      'q.csv',
      [block('All this he saw. · Wind in the Willows · 7', { as: 'row', cells })],
      {
        columns: { Words: 'quote', Book: 'title', Page: 'page', Theme: 'theme' },
      },
    );
    const [piece] = gatherAtOnce(smallJournal(), [rows]).pieces;
    expect(piece).toMatchObject({
      kind: 'quote',
      certainty: 'sure',
      text: 'All this he saw.',
      cells,
    });
    expect(tiesSaid(piece)).toEqual([
      'willows from sure',
      'courage about sure',
      'new weather about sure',
    ]);
    expect(piece?.ties[0]?.place).toEqual({ page: '7' });
  });
});

describe('keeping what is accepted', () => {
  const files = [
    file('a.txt', [
      block(
        '“A first sentence that is long enough to compare.” — Ellen Marsh, The Long Field, p. 12',
      ),
      block('“Another sentence altogether, which says less.” — Ellen Marsh, The Long Field, p. 14'),
      block('I read it twice.'),
    ]),
    file('b.txt', [block('“A first sentence, that is long enough to compare!”')]),
  ];

  test('headings of the same name are made once, and every tie holds', () => {
    const journal = smallJournal();
    const before = journal.tables.headings.size;
    expect(keepAll(journal, gatherAtOnce(journal, files), files)).toBe(3);
    const made = [...journal.tables.headings.values()].slice(before);
    expect(made.map(({ name }) => name).sort()).toEqual(['Ellen Marsh', 'The Long Field']);
    expect(checkJournal(journal)).toEqual([]);
  });

  test('the same files gathered again add nothing at all', () => {
    const journal = smallJournal();
    keepAll(journal, gatherAtOnce(journal, files), files);
    const again = gatherAtOnce(journal, files);
    expect(again.files.every(({ before }) => before === 'g1')).toBe(true);
    const { edit } = acceptEdit(journal, again.pieces, {
      newId: ids('x'),
      now: NOW,
      gathering: gathering(files, 'g2'),
    });
    expect(edit.changes).toEqual([]);
  });

  test('an entry altered since is not brought again', () => {
    const journal = smallJournal();
    keepAll(journal, gatherAtOnce(journal, files), files);
    const entry = [...journal.tables.entries.values()].find(
      ({ text }) => text === 'I read it twice.',
    );
    if (!entry) throw new Error('not kept');
    journal.tables.entries.set(entry.id, {
      ...entry,
      text: 'Once was enough, on reflection, and more than enough.',
    });
    const again = gatherAtOnce(journal, files);
    expect(keepAll(journal, again, files, 'g2')).toBe(0);
  });

  test('taking the other wording changes the entry, keeping both adds one', () => {
    const journal = smallJournal();
    const first = [
      file('one.txt', [block('“Is it not nice to think that to-morrow is a new day?”')]),
    ];
    keepAll(journal, gatherAtOnce(journal, first), first);
    const second = [
      file('two.txt', [block('“Isn’t it nice to think that tomorrow is a new day?”')]),
    ];
    const [piece] = gatherAtOnce(journal, second).pieces;
    if (!piece?.twinOf?.entry) throw new Error('no twin found');
    const options = { newId: ids('x'), now: NOW, gathering: gathering(second, 'g2') };
    expect(acceptEdit(journal, [{ ...piece, choice: 'keep-ours' }], options).edit.changes).toEqual(
      [],
    );
    const taken = acceptEdit(journal, [{ ...piece, choice: 'take-wording' }], options).edit.changes;
    expect(taken.filter(({ table }) => table === 'entries')).toMatchObject([
      { id: piece.twinOf.entry, after: { text: piece.text } },
    ]);
    expect(acceptEdit(journal, [{ ...piece, choice: 'keep-both' }], options).entries).toEqual([
      'x-1',
    ]);
  });

  test('a table of books brings books, authors, readings and lists, and brings them once', () => {
    const journal = smallJournal();
    const place = { row: 2, note: 'row 2' };
    const books = [
      {
        title: 'Emma',
        authors: ['Austen, Jane'],
        rating: 4.5,
        finished: '2014-03-02',
        pages: 474,
        place,
      },
      { title: 'The Long Field', authors: ['Ellen Marsh'], list: 'Autumn term', place },
    ];
    const table = [file('books.csv', [], { books })];
    keepAll(journal, gatherAtOnce(journal, table), table);
    const rows = [...journal.tables.readings.values()];
    expect(rows).toMatchObject([{ book: 'emma', rating: 4.5, finished: '2014-03-02', pages: 474 }]);
    expect([...journal.tables.lists.values()]).toMatchObject([{ name: 'Autumn term' }]);
    expect(journal.tables.headings.get('emma')).toMatchObject({ pages: 474, authors: ['austen'] });
    keepAll(journal, gatherAtOnce(journal, table), table, 'g2');
    expect(journal.tables.readings.size).toBe(1);
    expect(checkJournal(journal)).toEqual([]);
  });

  test('a book read at a time that is no date brings a reading, its words in the note, and brings it once', () => {
    const journal = smallJournal();
    const books = [
      {
        title: 'Emma',
        authors: ['Jane Austen'],
        undated: 'Date read: summer holidays 2012',
        note: 'Aloud',
        place: { row: 2, note: 'row 2' },
      },
    ];
    const table = [file('books.csv', [], { books })];
    keepAll(journal, gatherAtOnce(journal, table), table);
    const [reading] = journal.tables.readings.values();
    expect(reading).toMatchObject({
      book: 'emma',
      note: 'Date read: summer holidays 2012\nAloud',
    });
    expect(reading?.finished).toBeUndefined();
    keepAll(journal, gatherAtOnce(journal, table), table, 'g2');
    expect(journal.tables.readings.size).toBe(1);
    expect(checkJournal(journal)).toEqual([]);
  });

  describe('two books of one name', () => {
    const place = { row: 2, note: 'row 2' };
    const poems = (author: string, finished: string): BookFound => ({
      title: 'Selected Poems',
      authors: [author],
      finished,
      place,
    });
    const [clares, keatss] = [poems('John Clare', '2024-03-01'), poems('John Keats', '2024-05-01')];
    const bring = (journal: Journal, books: BookFound[], id: string): void => {
      const table = [file(`${id}.csv`, [], { books })];
      keepAll(journal, gatherAtOnce(journal, table), table, id);
    };
    const read = (journal: Journal): string[] =>
      [...journal.tables.readings.values()].map(({ book, finished }) => {
        const heading = journal.tables.headings.get(book) as BookHeading;
        const authors = heading.authors.map((id) => journal.tables.headings.get(id)?.name);
        return `${heading.name}, ${authors.join(' and ')}, ${finished}`;
      });
    const BOTH = [
      'Selected Poems, John Clare, 2024-03-01',
      'Selected Poems, John Keats, 2024-05-01',
    ];

    test('are told apart by who wrote them, in one table', () => {
      const journal = smallJournal();
      bring(journal, [clares, keatss], 'g1');
      expect(read(journal)).toEqual(BOTH);
      expect(checkJournal(journal)).toEqual([]);
      const { size } = journal.tables.headings;
      bring(journal, [clares, keatss], 'g2');
      expect(read(journal)).toEqual(BOTH);
      expect(journal.tables.headings.size).toBe(size);
    });

    test('are told apart also when the journal has the one, and then both', () => {
      const journal = smallJournal();
      bring(journal, [clares], 'g1');
      bring(journal, [keatss], 'g2');
      expect(read(journal)).toEqual(BOTH);
      const { size } = journal.tables.headings;
      bring(journal, [poems('Keats, John', '2025-01-01')], 'g3');
      expect(read(journal)[2]).toBe('Selected Poems, John Keats, 2025-01-01');
      expect(journal.tables.headings.size).toBe(size);
    });

    test('a book already tied to the other one is still told apart when it is kept', () => {
      const journal = smallJournal();
      bring(journal, [clares], 'g1');
      const table = [file('more.csv', [], { books: [clares] })];
      const made = gatherAtOnce(journal, table);
      const books = made.books.map((book) => ({ ...book, ...keatss }));
      keepAll(journal, { ...made, books }, table, 'g2');
      expect(read(journal)).toEqual(BOTH);
    });

    test('a book of which nobody says who wrote it is the one that is there', () => {
      const journal = smallJournal();
      bring(journal, [clares], 'g1');
      bring(journal, [{ title: 'Selected Poems', authors: [], finished: '2025', place }], 'g2');
      expect(read(journal)[1]).toBe('Selected Poems, John Clare, 2025');
    });
  });
});

describe('files that cannot be read', () => {
  test('say why and leave the others alone', () => {
    const bad: FileGathered = {
      path: 'letters.wps',
      digest: 'f'.repeat(64),
      result: { ok: false, code: 'unknown-format', message: 'Cannot be read. Save it as .docx.' },
    };
    const made = gatherAtOnce(smallJournal(), [bad, file('ok.txt', [block('I read it twice.')])]);
    expect(made.files.map(({ status, reason, pieces }) => [status, reason, pieces])).toEqual([
      ['unreadable', 'Cannot be read. Save it as .docx.', 0],
      ['read', undefined, 1],
    ]);
  });
});
