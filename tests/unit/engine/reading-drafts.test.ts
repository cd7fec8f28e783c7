/** A sheet left open while another window changes the same row: what is kept from it is what was altered in it, and nothing more. */
import { describe, expect, test } from 'vitest';
import { putChallenge, type ChallengeDraft } from '../../../src/engine/reading-challenges';
import type { Asked, Core } from '../../../src/engine/core';
import { putList } from '../../../src/engine/reading-list-edits';
import { markDay, putReading } from '../../../src/engine/reading-log';
import { apply } from '../../../src/journal/edits';
import type {
  Challenge,
  ChallengeId,
  HeadingId,
  Journal,
  ListId,
  Reading,
  ReadingId,
} from '../../../src/journal/records';
import { at, book, challenge, journalOf, reading } from '../reading/few';

let revision = 0;
const coreOf = (journal: Journal): Core =>
  ({ journal, around: at('2025-11-06'), revision: (revision += 1) }) as unknown as Core;
const kept = (journal: Journal, ask: (core: Core) => Asked): void => {
  const asked = ask(coreOf(journal));
  if (!asked.ok || !apply(journal, asked.edit).ok) throw new Error('refused');
};

const R1 = 'r1' as ReadingId;
const inHand = (): Journal =>
  journalOf({
    headings: [book('emma', 'Emma')],
    readings: [reading('r1', 'emma', undefined, { started: '2025-11-01', days: ['2025-11-01'] })],
  });

test('a reading keeps the days and the rating that came meanwhile', () => {
  const journal = inHand();
  const base = { ...journal.tables.readings.get(R1)! };
  kept(journal, (core) => markDay(core, R1, '2025-11-03', true));
  const now = journal.tables.readings.get(R1)!;
  kept(journal, (core) => putReading(core, { ...now, rating: 4 }));
  kept(journal, (core) =>
    putReading(core, { ...base, rating: undefined, note: 'Slow to begin', base }),
  );
  const wanted: Partial<Reading> = { days: ['2025-11-01', '2025-11-03'], rating: 4 };
  expect(journal.tables.readings.get(R1)).toEqual({ ...base, ...wanted, note: 'Slow to begin' });
});

test('a reading whose end came meanwhile cannot be begun after it', () => {
  const journal = inHand();
  const base = { ...journal.tables.readings.get(R1)! };
  kept(journal, (core) => putReading(core, { ...base, finished: '2025-11-04' }));
  const asked = putReading(coreOf(journal), { ...base, started: '2025-11-05', base });
  expect(!asked.ok && asked.code).toBe('ends-first');
});

test('a list keeps the fields that are not sent', () => {
  const id = 'l1' as ListId;
  const journal = journalOf({
    headings: [book('emma', 'Emma')],
    lists: [{ id, name: 'Winter', books: ['emma' as HeadingId], schoolYear: '2025/26' }],
  });
  kept(journal, (core) => putList(core, { id, note: 'By the fire' }));
  expect(journal.tables.lists.get(id)).toEqual({
    id,
    name: 'Winter',
    books: ['emma'],
    schoolYear: '2025/26',
    note: 'By the fire',
  });
});

describe('a challenge', () => {
  const ID = 'challenge' as ChallengeId;
  const made = (): Journal =>
    journalOf({
      challenges: [challenge([{ by: 'free' }, { by: 'free' }, { by: 'title-letter', is: 'A' }])],
    });
  const now = (journal: Journal): Challenge => journal.tables.challenges.get(ID)!;
  /** Alters it in another window, then keeps the sheet that was opened before. */
  const both = (
    elsewhere: (opened: Challenge) => Partial<Challenge>,
    here: (opened: Challenge) => Partial<ChallengeDraft>,
  ): Challenge => {
    const journal = made();
    const base = structuredClone(now(journal));
    kept(journal, (core) => putChallenge(core, { ...base, ...elsewhere(base) }));
    kept(journal, (core) => putChallenge(core, { ...base, ...here(base), base }));
    return now(journal);
  };
  const said = ({ prompts }: Challenge): string[] => prompts.map(({ id, text }) => `${id} ${text}`);

  test('is changed only where it was altered', () => {
    const after = both(
      ({ prompts: [one, ...rest] }) => ({
        name: 'Named elsewhere',
        prompts: [{ ...one!, rule: { by: 'form', is: 'audio' } }, ...rest],
      }),
      ({ prompts: [one, ...rest] }) => ({
        to: '2026',
        prompts: [{ ...one!, text: 'Heard' }, ...rest],
      }),
    );
    expect(after).toMatchObject({ name: 'Named elsewhere', from: '2025', to: '2026' });
    expect(after.prompts[0]).toEqual({
      id: 'p1',
      text: 'Heard',
      rule: { by: 'form', is: 'audio' },
    });
  });

  test('keeps prompts that came elsewhere, and those taken out elsewhere stay out unless they were altered here', () => {
    const elsewhere = ({ prompts }: Challenge): Partial<Challenge> => ({
      prompts: [prompts[0]!, { id: '', text: 'From elsewhere', rule: { by: 'free' } }],
    });
    expect(
      said(
        both(elsewhere, ({ prompts: [one, two, three] }) => ({
          prompts: [one!, { ...two!, text: 'Altered' }, three!],
        })),
      ),
    ).toEqual(['p1 Prompt 1', 'p4 From elsewhere', 'p2 Altered']);
  });

  test('takes the order and the new prompts of the sheet, and every prompt keeps its id', () => {
    expect(
      said(
        both(
          ({ prompts }) => ({
            prompts: [...prompts, { id: '', text: 'From elsewhere', rule: { by: 'free' } }],
          }),
          ({ prompts: [one, two] }) => ({
            prompts: [{ id: '', text: 'New', rule: { by: 'free' } }, two!, one!],
          }),
        ),
      ),
    ).toEqual(['p5 New', 'p2 Prompt 2', 'p1 Prompt 1', 'p4 From elsewhere']);
  });
});
