import { describe, expect, it } from 'vitest';
import type { Core } from '../../../src/engine/core';
import { guideView } from '../../../src/engine/guide-view';
import { publishGuide } from '../../../src/engine/publishing';
import { apply } from '../../../src/journal/edits';
import { readJournalFile, writeJournalFile } from '../../../src/journal/file';
import { removeEntries } from '../../../src/journal/make-edits';
import type {
  Entry,
  EntryId,
  Guide,
  GuideId,
  GuideItem,
  Journal,
} from '../../../src/journal/records';
import { at, book, entry, journalOf } from '../reading/few';

const CARE = 'Something here is hot';
const candles = (more: Partial<Entry> = {}): Entry =>
  entry('candles', ['heidi'], {
    kind: 'assignment',
    title: 'Candles',
    text: 'Pour the wax.',
    minutes: 40,
    cautions: ['heat'],
    answer: 'The leader’s answer.',
    lesson: { due: 'Friday' },
    ...more,
  });

function kept(one: Entry, more: Partial<GuideItem> = {}): Journal {
  const item = { entry: one.id, minutes: 3, must: false, ...more };
  const guide: Guide = {
    id: 'g' as GuideId,
    title: 'An afternoon',
    shape: 'lesson',
    focus: { words: [], headings: [], entries: [] },
    minutes: 60,
    parts: [{ name: 'Practice', minutes: 60, items: [item] }],
    spare: [item],
    made: '2026-01-01T00:00:00.000Z',
  };
  return journalOf({ headings: [book('heidi', 'Heidi')], entries: [one], guides: [guide] });
}

function removed(journal: Journal): ReturnType<typeof removeEntries> {
  const done = apply(journal, removeEntries(journal, ['candles' as EntryId]));
  if (!done.ok) throw new Error(done.message);
  return done.inverse;
}

const coreOf = (journal: Journal): Core =>
  ({ journal, around: at('2026-03-01'), nowIso: () => '2026-03-01T00:00:00.000Z' }) as Core;
const guideOf = (journal: Journal): Guide => journal.tables.guides.get('g' as GuideId)!;

async function printed(journal: Journal, copy: 'leader' | 'handout'): Promise<string> {
  const how = { format: 'text', copy, paper: 'A4' } as const;
  const { bytes } = await publishGuide(coreOf(journal), guideOf(journal), how, async () => []);
  return new TextDecoder().decode(bytes);
}

describe('words left in a guide by an entry that was removed', () => {
  it('print with their cautions, title and due day as before', async () => {
    const journal = kept(candles());
    const handout = await printed(journal, 'handout');
    expect(handout).toContain(CARE);
    expect(handout).toContain('Due Friday.');
    removed(journal);
    expect(await printed(journal, 'handout')).toBe(handout);
    const leaders = await printed(journal, 'leader');
    for (const said of [CARE, 'Candles', 'Friday']) expect(leaders).toContain(said);
    expect(leaders).not.toContain('answer');
  });

  it('are homework still where no day is said, and done at the meeting where time is kept for it', async () => {
    const { lesson: _due, title: _title, ...plain } = candles();
    for (const minutes of [3, 20]) {
      const journal = kept(plain, { minutes });
      const handout = await printed(journal, 'handout');
      expect(handout.includes('Until we meet again')).toBe(minutes === 3);
      removed(journal);
      expect(await printed(journal, 'handout')).toBe(handout);
    }
  });

  it.each(['note', 'question', 'lesson'] as const)(
    'of a %s give the handout what they gave it before, and no more',
    async (kind) => {
      const text = 'Try this.\n\n| seen | heard |\n| - | - |\n| | |';
      const journal = kept(candles({ kind, text }));
      const handout = await printed(journal, 'handout');
      expect(handout.includes('Candles')).toBe(kind === 'lesson');
      removed(journal);
      expect(await printed(journal, 'handout')).toBe(handout);
      expect(await printed(journal, 'leader')).toContain(CARE);
    },
  );

  it('are shown on the workbench with the same care, title and day', () => {
    const journal = kept(candles());
    const before = guideView(coreOf(journal), guideOf(journal));
    removed(journal);
    const { parts, spare, remarks } = guideView(coreOf(journal), guideOf(journal));
    for (const item of [...parts[0]!.items, ...spare])
      expect(item).toMatchObject({ title: 'Candles', kind: 'assignment', due: 'Friday' });
    const care = before.remarks.filter(({ code }) => code === 'hazard');
    expect(care).toHaveLength(1);
    expect(remarks.filter(({ code }) => code === 'hazard')).toEqual(care);
  });

  it('keep the day that the guide itself had said', () => {
    const journal = kept(candles(), { due: 'Monday' });
    removed(journal);
    expect(guideOf(journal).parts[0]?.items[0]?.due).toBe('Monday');
  });

  it('are in the journal’s file, and the entry comes back whole', async () => {
    const journal = kept(candles());
    const before = writeJournalFile(journal);
    const inverse = removed(journal);
    const read = await readJournalFile(writeJournalFile(journal));
    if (!read.ok) throw new Error(read.message);
    expect(guideOf(read.journal)).toEqual(guideOf(journal));
    expect(guideOf(read.journal).spare?.[0]?.cautions).toEqual(['heat']);
    apply(journal, inverse);
    expect(writeJournalFile(journal)).toBe(before);
  });
});
