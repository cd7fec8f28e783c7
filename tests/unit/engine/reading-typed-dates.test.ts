/** Dates typed in the reading place: books added, many books changed, challenges and their prompts. */
import { describe, expect, test } from 'vitest';
import type { Asked, Core } from '../../../src/engine/core';
import { addBooks } from '../../../src/engine/reading-add';
import { changeBooks } from '../../../src/engine/reading-bulk';
import { sayRule } from '../../../src/engine/challenge-rules';
import { presetDraft, putChallenge } from '../../../src/engine/reading-challenges';
import { apply } from '../../../src/journal/edits';
import type { Challenge, HeadingId, Journal, PromptRule } from '../../../src/journal/records';
import { at, book, challenge, journalOf, person } from '../reading/few';

let revision = 0;
const coreOf = (journal: Journal): Core =>
  ({ journal, around: at('2025-11-06'), revision: (revision += 1) }) as unknown as Core;
function kept(journal: Journal, asked: Asked): void {
  if (!asked.ok) throw new Error(asked.said);
  const done = apply(journal, asked.edit);
  if (!done.ok) throw new Error(done.message);
}
const saidOf = (asked: Asked): string => (asked.ok ? '' : asked.said);
const NO_DATE = '“last Tuesday” is no date that can be kept.';

describe('a book added', () => {
  test('takes its dates in words', () => {
    const journal = journalOf({});
    kept(
      journal,
      addBooks(coreOf(journal), [
        {
          title: 'Emma',
          authors: [],
          published: 'December 1815',
          started: 'spring 2014',
          finished: '14 March 2024',
        },
      ]),
    );
    expect([...journal.tables.headings.values()][0]).toMatchObject({ published: '1815-12' });
    expect([...journal.tables.readings.values()][0]).toMatchObject({
      started: '2014-21',
      finished: '2024-03-14',
    });
  });

  test('is refused with the sentence of the other sheets where a date cannot be read', () => {
    const asked = addBooks(coreOf(journalOf({})), [
      { title: 'Emma', authors: [], finished: 'last Tuesday' },
    ]);
    expect(saidOf(asked)).toContain(`Emma: ${NO_DATE}`);
  });
});

describe('a reading added to many books', () => {
  const journal = (): Journal => journalOf({ headings: [book('emma', 'Emma')] });
  const change = (core: Core, on: string): Asked =>
    changeBooks(core, ['emma' as HeadingId], {
      what: 'finished',
      on,
      form: 'print',
    });

  test('takes its date in words', () => {
    const held = journal();
    const asked = change(coreOf(held), 'March 2024');
    kept(held, asked);
    expect([...held.tables.readings.values()][0]).toMatchObject({ finished: '2024-03' });
    expect(asked.ok && asked.edit.does).toBe('Add a reading finished Mar 2024 to 1 book');
  });

  test('is refused with the sentence of the other sheets where it cannot be read', () => {
    expect(saidOf(change(coreOf(journal()), 'last Tuesday'))).toContain(NO_DATE);
  });
});

describe('a challenge', () => {
  const put = (
    more: Partial<Challenge>,
    rule: PromptRule = { by: 'free' },
  ): [Journal, Challenge] => {
    const journal = journalOf({});
    const { id: _id, ...draft } = challenge([rule], more);
    kept(journal, putChallenge(coreOf(journal), draft));
    return [journal, [...journal.tables.challenges.values()][0]!];
  };

  test('takes its days, and those of its prompts, in words', () => {
    const [, row] = put(
      { from: '1 September 2026', to: 'August 2027' },
      { by: 'finished', from: '1 March 2027', to: 'spring 2027' },
    );
    expect(row).toMatchObject({ from: '2026-09-01', to: '2027-08' });
    expect(row.prompts[0]!.rule).toEqual({ by: 'finished', from: '2027-03-01', to: '2027-21' });
  });

  test('keeps a span that a prompt holds as it is', () => {
    const rule: PromptRule = { by: 'published', is: '1890/1899' };
    expect(put({}, rule)[1].prompts[0]!.rule).toEqual(rule);
    expect(put({}, { by: 'published', is: '1890 to 1899' })[1].prompts[0]!.rule).toEqual(rule);
  });

  test('that was opened and not altered stays as it was kept', () => {
    const [journal, row] = put({ from: '2026-09-01', to: '2027-08' });
    const base = structuredClone(row);
    const sent = { ...base, from: '1 September 2026', to: 'August 2027', base };
    const asked = putChallenge(coreOf(journal), sent);
    expect(asked.ok && asked.edit.changes).toEqual([]);
  });

  test('is refused with the sentence of the other sheets where a day cannot be read', () => {
    const { id: _id, ...draft } = challenge([{ by: 'finished', from: 'last Tuesday' }]);
    expect(saidOf(putChallenge(coreOf(journalOf({})), draft))).toContain(`“Prompt 1”: ${NO_DATE}`);
    const core = coreOf(journalOf({}));
    expect(saidOf(putChallenge(core, { ...draft, from: 'last Tuesday' }))).toContain(NO_DATE);
    expect(saidOf(putChallenge(core, { ...draft, to: 'last Tuesday' }))).toContain(NO_DATE);
  });

  test('that is ready made takes its days in words', () => {
    const draft = presetDraft(coreOf(journalOf({})), {
      kind: 'pages',
      perDay: 10,
      from: '1 September 2026',
      to: '10 September 2026',
    });
    expect(draft).toMatchObject({ from: '2026-09-01', to: '2026-09-10' });
    expect(draft.prompts[0]!.rule).toMatchObject({ atLeast: 100 });
  });
});

describe('a rule while it is made', () => {
  const core = coreOf(journalOf({ headings: [person('austen', 'Jane Austen')] }));
  const said = (rule: PromptRule): string => sayRule(core, rule);

  test('asks for what it lacks', () => {
    for (const by of ['decade', 'person', 'language', 'author', 'book', 'theme', 'form'] as const)
      expect(said({ by })).toBe(`Say which ${by} is meant.`);
    expect(said({ by: 'title-letter', is: ' ' })).toBe('Say which letter is meant.');
    expect(said({ by: 'author-letter' })).toBe('Say which letter is meant.');
    expect(said({ by: 'rating' })).toBe('Say at least or at most how many.');
    expect(said({ by: 'pages' })).toBe('Say at least or at most how many.');
    expect(said({ by: 'pages-in-all' })).toBe('Say how many pages.');
    // No pages are no challenge: any reading would meet it.
    expect(said({ by: 'pages-in-all', atLeast: 0 })).toBe('Say how many pages.');
  });

  test('is told in words once it is whole', () => {
    expect(said({ by: 'author', is: 'austen' })).toBe('a book that is by Jane Austen');
    expect(said({ by: 'free' })).toBe('a book that was chosen for it by hand');
    expect(said({ by: 'finished', from: '1 March 2026' })).toBe(
      'a book that was finished on 1 Mar 2026 or later',
    );
  });

  test('says of a date that cannot be read how dates are written', () => {
    expect(said({ by: 'finished', from: 'last Tuesday' })).toContain(NO_DATE);
  });
});
