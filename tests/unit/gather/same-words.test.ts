import { describe, expect, test } from 'vitest';
import { acceptable } from '../../../src/gather/accept';
import { emptyJournal } from '../../../src/journal/journal';
import { checkJournal } from '../../../src/journal/rules';
import type { Entry, EntryId, Journal } from '../../../src/journal/records';
import { NOW } from './build';
import { gathered, keep } from './from-text';

const HEIDI = 'Heidi by Johanna Spyri\n\nQuestions:\n\n1. Who changes the most?\n';
const EMMA =
  'Emma by Jane Austen\n\nQuestions:\n\n1. Who changes the most?\nA: Emma herself, after Box Hill.\n';

const journal = (...entries: Partial<Entry>[]): Journal => {
  const own = emptyJournal('j', 'Test', NOW);
  entries.forEach((more, at) => {
    const id = `entry-${at}` as EntryId;
    const kind = 'question';
    own.tables.entries.set(id, { id, kind, text: '', ties: [], added: NOW, changed: NOW, ...more });
  });
  return own;
};

/** "Who changes the most? (Emma): Emma herself". */
const said = (own: Journal): string[] =>
  [...own.tables.entries.values()].map(({ text, ties, answer }) => {
    const names = ties.map(({ heading }) => own.tables.headings.get(heading)?.name);
    return `${text} (${names.join(', ')})${answer ? `: ${answer}` : ''}`;
  });

describe('pieces of the same words', () => {
  test('on two books are two, wait for the reader, and come once', async () => {
    const own = journal();
    const files = { 'Heidi.txt': HEIDI, 'Emma.txt': EMMA };
    const made = await gathered(own, files);
    expect(made.pieces.map(({ twinOf }) => (twinOf?.likeness ?? 0) < 1)).toEqual([true, true]);
    expect(acceptable(made.pieces, 'sure')).toHaveLength(1);
    keep(own, made);
    expect(said(own)).toEqual([
      'Who changes the most? (Heidi)',
      'Who changes the most? (Emma): Emma herself, after Box Hill.',
    ]);
    expect(checkJournal(own)).toEqual([]);
    const again = await gathered(own, files);
    expect(again.pieces.map(({ twinOf }) => twinOf?.likeness)).toEqual([1, 1]);
    expect(keep(own, again).edit.changes).toEqual([]);
  });

  test('answered otherwise are two', async () => {
    const own = journal({ text: 'Who changes the most?', answer: 'Clara' });
    const made = await gathered(own, {
      'q.txt': 'Questions:\n\n1. Who changes the most?\nA: Peter.\n',
    });
    expect(acceptable(made.pieces, 'sure')).toEqual([]);
    expect(keep(own, made).entries).toHaveLength(1);
  });

  test('give the one entry the answer, the ties and the page it lacks', async () => {
    const own = journal({ text: 'Who changes the most?' });
    const made = await gathered(own, { 'Emma.txt': EMMA });
    expect(keep(own, made, acceptable(made.pieces, 'likely')).entries).toEqual(['entry-0']);
    expect(said(own)).toEqual(['Who changes the most? (Emma): Emma herself, after Box Hill.']);
    expect(keep(own, await gathered(own, { 'Emma.txt': EMMA })).edit.changes).toEqual([]);
  });

  test('of one gathering give it to the first', async () => {
    const own = journal();
    const plain = 'Questions:\n\n1. Who changes the most?\n';
    keep(own, await gathered(own, { 'a.txt': plain, 'Emma.txt': EMMA }));
    expect(said(own)).toEqual(['Who changes the most? (Emma): Emma herself, after Box Hill.']);
  });

  test('of the file it came from tie nothing again that the reader took off', async () => {
    const own = journal();
    keep(own, await gathered(own, { 'Emma.txt': EMMA }));
    const [entry] = own.tables.entries.values();
    own.tables.entries.set(entry!.id, { ...entry!, ties: [] });
    const longer = `${EMMA}\n2. Why is she unkind to Miss Bates?\n`;
    keep(own, await gathered(own, { 'Emma.txt': longer }));
    expect(said(own)[0]).toBe('Who changes the most? (): Emma herself, after Box Hill.');
    expect(said(own)).toHaveLength(2);
  });
});
