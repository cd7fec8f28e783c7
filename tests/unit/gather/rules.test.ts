import { describe, expect, test } from 'vitest';
import { gatherAtOnce } from '../../../src/gather/gathering';
import { applyRules, learn, titleRules, type Correction } from '../../../src/gather/rules';
import { block, file, smallJournal } from './build';

const under = ['Tuesday log'];
const log = file('log.txt', [
  block('LK Everybody wanted the wolf again.', { under }),
  block('LK The rope held.', { under }),
  block('LK Nobody slept.', { under }),
  block('A fine evening and little said.', { under }),
  block('Rain on the roof all through chapter two.', { under }),
  block('Tea at four.', { under }),
]);
const { pieces } = gatherAtOnce(smallJournal(), [log]);
const idOf = (at: number): string => pieces[at]?.id ?? '';
const kinds = (corrections: Correction[], revoked?: Set<string>): string[] =>
  applyRules(pieces, learn(pieces, corrections, revoked), corrections).map(({ kind }) => kind);

describe('rules learnt from corrections', () => {
  test('one correction of a labelled line teaches what the label means', () => {
    const corrections: Correction[] = [{ piece: idOf(0), kind: 'lesson' }];
    const [rule, ...others] = learn(pieces, corrections);
    expect(others).toEqual([]);
    expect(rule).toMatchObject({ says: 'Lines that begin LK are lesson ideas.', pieces: 3 });
    expect(kinds(corrections)).toEqual(['lesson', 'lesson', 'lesson', 'note', 'note', 'note']);
  });

  test('what the rule settles is likely, what the reader settled sure', () => {
    const corrections: Correction[] = [{ piece: idOf(0), kind: 'lesson' }];
    const sorted = applyRules(pieces, learn(pieces, corrections), corrections);
    expect(sorted.slice(0, 2).map(({ certainty }) => certainty)).toEqual(['sure', 'likely']);
    expect(sorted[1]?.rule).toBe(learn(pieces, corrections)[0]?.id);
  });

  test('a heading teaches only with a second correction that agrees', () => {
    expect(learn(pieces, [{ piece: idOf(3), kind: 'quote' }])).toEqual([]);
    const rules = learn(pieces, [
      { piece: idOf(3), kind: 'quote' },
      { piece: idOf(4), kind: 'quote' },
    ]);
    expect(rules.map(({ says }) => says)).toEqual(['What stands under “Tuesday log” are quotes.']);
  });

  test('corrections that contradict each other teach nothing', () => {
    expect(
      learn(pieces, [
        { piece: idOf(0), kind: 'lesson' },
        { piece: idOf(1), kind: 'question' },
      ]),
    ).toEqual([]);
  });

  test('a revoked rule bears on nothing, and the correction itself stays', () => {
    const corrections: Correction[] = [{ piece: idOf(0), kind: 'lesson' }];
    const revoked = new Set(learn(pieces, corrections).map(({ id }) => id));
    expect(kinds(corrections, revoked)).toEqual(['lesson', 'note', 'note', 'note', 'note', 'note']);
  });

  test('a tie given twice under one heading is proposed for the rest, and can be taken off one piece', () => {
    const tie = {
      heading: 'home',
      name: 'Home',
      kind: 'theme',
      role: 'about',
      certainty: 'sure',
      isNew: false,
    };
    const corrections = [
      { piece: idOf(3), tied: [tie] },
      { piece: idOf(4), tied: [tie] },
      { piece: idOf(5), untied: ['home'] },
    ] as Correction[];
    const sorted = applyRules(pieces, learn(pieces, corrections), corrections);
    expect(sorted.map(({ ties }) => ties.map(({ certainty }) => certainty))).toEqual([
      ['likely'],
      ['likely'],
      ['likely'],
      ['sure'],
      ['sure'],
      [],
    ]);
  });

  test('that a title is the book for all below it is a rule too, and can be revoked', () => {
    const titled = file(
      'a.docx',
      [
        block('Emma by Jane Austen', { as: 'title', level: 0 }),
        block('Nobody arrives.', { under: ['Emma by Jane Austen'] }),
      ],
      { title: 'Emma by Jane Austen' },
    );
    const made = gatherAtOnce(smallJournal(), [titled]).pieces;
    const [rule] = titleRules(made);
    expect(rule?.says).toBe('The title of a.docx is the book for all below it: Emma.');
    const without = applyRules(made, [], [], new Set([rule?.id ?? '']));
    expect(without[0]?.ties).toEqual([]);
  });
});
