import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { Engine } from '../../../src/engine/engine';
import {
  acceptablePieces,
  acceptPieces,
  type Accepted,
  gatherFiles,
  type FileOffered,
  type GatherPiece,
  type GatherResult,
} from '../../../src/engine/gathering';
import { emptyJournal } from '../../../src/journal/journal';
import { readJournalFile } from '../../../src/journal/file';
import { checkJournal } from '../../../src/journal/rules';
import { fold } from '../../../src/language/tokens';
import { plainText } from '../../../src/language/markdown';
import { ids, NOW } from './build';

const FOLDER = join(process.cwd(), 'demo-data/scattered');
const FILES: FileOffered[] = readdirSync(FOLDER, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map(({ parentPath, name }) => join(parentPath, name).slice(FOLDER.length + 1))
  .sort()
  .map((path) => ({ path, bytes: () => new Uint8Array(readFileSync(join(FOLDER, path))) }));

const around = (): { now: () => Date; newId: () => string } => ({
  now: () => new Date(NOW),
  newId: ids(),
});

function harbourLane(): Engine {
  const text = readFileSync(join(process.cwd(), 'demo-data/harbour-lane.bookweft.json'), 'utf8');
  const read = readJournalFile(text);
  if (!read.ok) throw new Error(read.message);
  return new Engine(read.journal, around());
}

const newJournal = (): Engine => new Engine(emptyJournal('j', 'New', NOW), around());

function one(result: GatherResult, start: string): GatherPiece {
  const found = result.pieces.filter(({ text }) => plainText(text).startsWith(start));
  if (found.length === 0) throw new Error(`No piece begins “${start}”.`);
  return found[0] as GatherPiece;
}

const tied = (piece: GatherPiece, kind = 'book'): string[] =>
  piece.ties
    .filter((tie) => tie.kind === kind && tie.certainty !== 'guess')
    .map(({ name }) => name)
    .sort();

let known: GatherResult;
let fresh: GatherResult;
beforeAll(async () => {
  known = await gatherFiles(harbourLane(), FILES);
  fresh = await gatherFiles(newJournal(), FILES);
}, 120_000);

describe('a family’s scattered notebooks', () => {
  test('are all read but the broken document and the one of an older kind, and each refusal says what to do', () => {
    const unread = known.files.filter(({ status }) => status === 'unreadable');
    expect(unread.map(({ path }) => path)).toEqual([
      '2012 letters.docx',
      'old laptop.zip/old letter.doc',
    ]);
    for (const { reason } of unread) expect(reason).toMatch(/gather that(?: one)?\.$/);
    expect(known.attachments).toEqual(["Aunt Con's book, scanned.pdf"]);
    expect(known.pieces.filter(({ picture }) => picture)).toHaveLength(1);
  });

  test('letters of every encoding come through', () => {
    expect(one(known, '“Rejoice in your youth,” said the sunbeams').kind).toBe('quote');
    expect(one(known, 'Market: candles £3').text).toContain('Gran — ask about the café chairs');
    expect(one(known, '20/5/21 Iris read a whole page').written).toBe('2021-05-20');
  });

  test.each([
    ['Q. What would have had to happen for the fir-tree', 'question', '2010-01-05'],
    ['"There is nothing - absolutely nothing', 'quote', '2012'],
    ['Boats that sink.', 'lesson', '2012'],
    ['Homework for Thursday: draw your own kitchen', 'assignment', '2012'],
    ['Portly. Nobody breathed.', 'note', '2012-06-15'],
    ['When did you first like Silver', 'question', '2014'],
    ['“Isn’t it nice to think that to-morrow', 'quote', '2015-01/2015-03'],
    ['Homework for 10 February: apologise', 'assignment', '2015-01/2015-03'],
    ['Toast cheese as the grandfather does', 'lesson', '2013-02/2013-03'],
    ['Why does the robin matter more than the key?', 'question', '2011-04-05'],
    ['Fezziwig spends a few pounds.', 'question', '2014-12-09'],
    ['Homework: keep a log of one ordinary day', 'assignment', '2025-08-24'],
    ['In the bleak mid-winter', 'quote', undefined],
    ['Beware; for I am fearless', 'quote', '2021-10-03'],
    ['He learns to speak by listening at a wall.', 'note', '2021-10-03'],
  ])('“%s…” is a %s written %s', (start, kind, written) => {
    for (const result of [known, fresh]) {
      const piece = one(result, start);
      expect([piece.kind, piece.written]).toEqual([kind, written]);
      expect(piece.certainty).not.toBe('guess');
    }
  });

  test('a document of questions gives each with its book, its answer beside it and its number left out', () => {
    const robin = one(known, 'Why does the robin matter more than the key?');
    expect(robin.answer).toBe('the key had been there for ten years; nobody had a reason to dig.');
    expect(tied(robin)).toEqual(['The Secret Garden']);
    expect(plainText(robin.text)).toBe('Why does the robin matter more than the key?');
    const silver = one(known, 'When did you first like Silver');
    expect(silver.text).not.toMatch(/^\d/);
  });

  test('the labelled parts of an object lesson are one lesson, tied to the book its heading names', () => {
    const slate = known.pieces.filter(({ title }) => title === 'A slate (Anne of Green Gables)');
    expect(slate).toHaveLength(1);
    expect(slate[0]).toMatchObject({ kind: 'lesson', certainty: 'sure' });
    expect(slate[0]?.text).toMatch(/Object:[^]*Observe:[^]*Leads to:/);
    expect(tied(slate[0] as GatherPiece)).toEqual(['Anne of Green Gables']);
    const magnets = known.pieces.filter(({ source }) => source.path.startsWith('Tuesdays/'));
    expect(magnets).toHaveLength(1);
    expect(magnets[0]).toMatchObject({ kind: 'lesson', written: '2024-03-12' });
    expect(magnets[0]?.title).toBe('Magnets and compasses');
  });

  test('what is to be bought is tied to nothing and sure of nothing', () => {
    for (const start of ['eggs, string, candles', 'Market: candles', 'eggs']) {
      const list = one(known, start);
      expect([list.kind, list.certainty, list.ties]).toEqual(['note', 'guess', []]);
    }
  });

  test('remarks in a table of quotations are notes that say what they are on, and the quotations the passages', () => {
    const remark = one(known, 'could not read it aloud');
    expect(remark).toMatchObject({ kind: 'note', title: 'On “Oh! my Daddy, my Daddy!”' });
    expect(tied(remark)).toEqual(['The Railway Children']);
    const storms = known.pieces.filter(({ text }) => text.includes('afraid of storms'));
    expect(storms.map(({ kind }) => kind)).toEqual(['quote', 'quote']);
  });

  test('the same quotation in several files is one entry, with its differences shown', () => {
    const mistakes = known.pieces.filter(
      ({ text, kind }) => kind === 'quote' && text.includes('no mistakes in it yet'),
    );
    expect(mistakes).toHaveLength(2);
    expect(mistakes.filter(({ twinOf }) => twinOf)).toHaveLength(1);
    expect(mistakes.find(({ twinOf }) => twinOf)?.twinOf?.differences.here.length).toBeGreaterThan(
      0,
    );
  });

  test('a journal with nothing in it learns its books from lists, tables and headings of all the files', () => {
    const note = one(fresh, 'Mole does not decide to leave home.');
    expect(note.ties).toMatchObject([
      { name: 'The Wind in the Willows', isNew: true, certainty: 'sure' },
    ]);
    expect(note.ties[0]?.heading).toBeUndefined();
    const box = one(fresh, 'Is Box Hill the worst thing she does');
    expect(box.ties[0]).toMatchObject({ name: 'Emma', authors: ['Jane Austen'] });
    expect(fresh.books.length).toBeGreaterThanOrEqual(20);
    // Nobody in a signature is taken for a book.
    expect(tied(one(fresh, '"There is nothing - absolutely nothing'))).toEqual([
      'The Wind in the Willows',
    ]);
  });

  test('of another journal’s entry everything it says is kept', () => {
    const flannel = one(known, 'Bobbie and Phyllis tear their petticoats');
    const text = readFileSync(join(FOLDER, "Ruth's journal.bookweft.json"), 'utf8');
    const theirs = readJournalFile(text);
    if (!theirs.ok) throw new Error(theirs.message);
    const entry = [...theirs.journal.tables.entries.values()].find(
      ({ title }) => title === 'Red flannel',
    );
    const engine = harbourLane();
    const accepted = acceptPieces(engine, known, [flannel]);
    engine.apply(accepted.edit);
    const kept = engine.journal.tables.entries.get(accepted.entries[0] as never);
    for (const field of [
      'kind',
      'text',
      'title',
      'written',
      'minutes',
      'materials',
      'lesson',
    ] as const)
      expect(kept?.[field]).toEqual(entry?.[field]);
  });
});

describe.each([
  ['Harbour Lane', harbourLane, 30],
  ['a new journal', newJournal, 60],
] as const)('gathered into %s', (_, make, least) => {
  test(
    'everything is kept once, the journal stays sound, and gathering again adds nothing',
    { timeout: 120_000 },
    async () => {
      const engine = make();
      const had = engine.journal.tables.entries.size;
      const first = await gatherFiles(engine, FILES);
      const sure = acceptPieces(engine, first, acceptablePieces(first.pieces, 'sure'));
      expect(engine.apply(sure.edit)).toMatchObject({ ok: true });
      expect(sure.entries.length).toBeGreaterThan(least);
      const whole = await gatherFiles(engine, FILES);
      const rest = acceptPieces(engine, whole, acceptablePieces(whole.pieces, 'all'));
      expect(engine.apply(rest.edit)).toMatchObject({ ok: true });
      expect(checkJournal(engine.journal)).toEqual([]);
      const entries = [...engine.journal.tables.entries.values()];
      expect(entries.length).toBe(had + madeBy(sure) + madeBy(rest));
      const again = await gatherFiles(engine, FILES);
      const nothing = acceptPieces(engine, again, acceptablePieces(again.pieces, 'all'));
      expect(nothing.edit.changes).toEqual([]);
      const texts = entries
        .filter(({ text }) => text !== '')
        .map(({ text }) => fold(plainText(text)));
      expect(new Set(texts).size).toBe(texts.length);
    },
  );
});

/** Entries that are new; others were given what a piece of their words brought. */
const madeBy = ({ edit }: Accepted): number =>
  edit.changes.filter(({ table, before }) => table === 'entries' && !before).length;

test('every word of the plain files stands in a piece, in a title over one, or in the name of a tie', () => {
  const words = (text: string): string[] => fold(text).match(/[\p{L}\d]{3,}/gu) ?? [];
  const decoder = (path: string): string => {
    const bytes = readFileSync(join(FOLDER, path));
    if (path.includes('phone')) return bytes.toString('utf16le');
    return path.includes('2010') ? bytes.toString('latin1') : bytes.toString('utf8');
  };
  for (const path of [
    '2010 first notebook.txt',
    '2012 river term.txt',
    'kitchen list.txt',
    'phone notes 2021.txt',
    'Secret Garden questions.md',
    'spring term reading.md',
    'sea lessons outline.txt',
  ]) {
    const own = known.pieces.filter(({ source }) => source.path === path);
    const said = own.flatMap(({ text, title = '', answer = '', written = '', ties, source }) => [
      text, title, answer, written, ...(source.under ?? []), ...ties.map(({ name }) => name),
    ]); // prettier-ignore
    const held = new Set(words([...said, path].join(' ')));
    // Headings that sort what stands under them, and dates, are kept as kinds and as dates; labels of answers go.
    const sorts = new Set(
      words(
        'questions lesson ideas discussion peter rabbit january february friday june listen for',
      ),
    );
    const lost = words(decoder(path)).filter((word) => !held.has(word) && !sorts.has(word));
    expect(lost, path).toEqual([]);
  }
});
