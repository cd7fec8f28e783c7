import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { circleView, headingUsed } from '../../../src/engine/circle-history';
import { Engine } from '../../../src/engine/engine';
import { framesFor } from '../../../src/engine/frames';
import { guideView } from '../../../src/engine/guide-view';
import { strandChoices } from '../../../src/engine/strand-choices';
import { readJournalFile } from '../../../src/journal/file';
import { NOT_HERE } from '../../../src/journal/labels';
import type { Circle, EntryId, Guide, GuideItem, HeadingId } from '../../../src/journal/records';
import { LEVELS } from '../../../src/journal/records';
import { MemoryStore } from '../../../src/keep/memory-store';
import { entry, journalOf, theme, tieTo } from '../journal/few';
import { must, opened } from './desk-setup';

const text = readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8');

function engine(): Engine {
  const read = readJournalFile(text);
  if (!read.ok) throw new Error(read.message);
  return new Engine(read.journal, {
    now: () => new Date('2026-11-25T12:00:00Z'),
    newId: () => 'made',
  });
}

const core = engine();
const { tables } = core.journal;
const circles = [...tables.circles.values()];
const grown = circles.find((circle) => (circle.size ?? 0) > 8)!;
const children = circles.find((circle) => circle.ages === '7-11')!;

const guideWith = (items: GuideItem[], circle?: Circle): Guide => ({
  id: 'g' as Guide['id'],
  title: 'A guide',
  shape: 'discussion',
  focus: { words: [], headings: [], entries: [] },
  ...(circle ? { circle: circle.id } : {}),
  minutes: 60,
  parts: [{ name: 'Opening', minutes: 60, items }],
  made: '2026-11-25T12:00:00Z',
});

describe('the history of a circle', () => {
  const view = circleView(core.journal, grown.id)!;
  const own = [...tables.meetings.values()].filter(({ circle }) => circle === grown.id);

  test('tells every meeting of its own, the newest first, and none of another circle', () => {
    expect(view.meetings).toHaveLength(own.length);
    expect(view.meetings.map(({ on }) => on)).toEqual(
      own.map(({ on }) => on).sort((a, b) => (a < b ? 1 : -1)),
    );
  });

  test('counts what was asked from each book by going through the meetings', () => {
    for (const book of view.books) {
      const asked = own.flatMap(({ items }) =>
        items.filter(
          ({ used, entry }) =>
            used && entry && tables.entries.get(entry)?.ties.some((tie) => tie.heading === book.id),
        ),
      );
      expect(book.asked).toBe(asked.length);
      expect(book.flat).toBe(asked.filter(({ went }) => went === 'flat').length);
    }
    expect(view.books.length).toBeGreaterThan(2);
  });

  test('a note on something asked stands with each book it is tied to, the newest first', () => {
    const fresh = engine().journal;
    const mine = [...fresh.tables.meetings.values()]
      .filter(({ circle }) => circle === grown.id)
      .sort((a, b) => (a.on < b.on ? 1 : -1));
    const tied = (entry: string | undefined): boolean =>
      Boolean(
        entry &&
        tables.entries.get(entry)?.ties.some(({ heading }) => heading === view.books[0]!.id),
      );
    let noted = 0;
    for (const meeting of mine) {
      const item = meeting.items.find(({ used, entry }) => used && tied(entry));
      if (item) item.note = `note ${(noted += 1)}`;
    }
    expect(noted).toBeGreaterThan(0);
    const [book] = circleView(fresh, grown.id)!.books;
    expect(book!.notes.map(({ note }) => note)).toEqual(
      Array.from({ length: noted }, (_, at) => `note ${at + 1}`),
    );
  });

  test('brings together the notes made for next time', () => {
    const notes = own.flatMap(({ items, note }) => [
      ...(note ? [note] : []),
      ...items.flatMap((item) => item.note ?? []),
    ]);
    expect(view.notes.map(({ note }) => note).sort()).toEqual(notes.sort());
  });

  test('a heading tells how much of it was asked, and nothing where nothing was', () => {
    const [book] = view.books;
    expect(headingUsed(core.journal, book!.id)).toMatch(
      /^\d+ items? asked in \d+ meetings?, last /,
    );
    expect(headingUsed(core.journal, 'nowhere' as HeadingId)).toBeUndefined();
  });

  test('there is no history of a circle that is not there', () => {
    expect(circleView(core.journal, 'nobody' as Circle['id'])).toBeUndefined();
  });
});

describe('what a guide is told with', () => {
  const question = [...tables.entries.values()].find(
    (entry) => entry.kind === 'question' && entry.answer && entry.probes?.length,
  )!;

  test('a leader sees what to listen for and the follow-ups', () => {
    const [item] = guideView(core, guideWith([{ entry: question.id, minutes: 5, must: false }]))
      .parts[0]!.items;
    const cues = new Map(item!.cues.map((cue) => [cue.lead, cue.text]));
    expect(cues.get('Listen for')).toBe(question.answer!.trim());
    expect(cues.get('If it stalls')).toContain(question.probes![0]!.trim());
  });

  test('a frame writes a theme within its sentence as the entries of the theme do', () => {
    const said = (name: string, text: string): string => {
      const about = journalOf(theme('t', { name }), entry('e', { text, ties: [tieTo('t')] }));
      const focus = { words: [], headings: [{ heading: 't' as HeadingId }], entries: [] };
      return framesFor(
        new Engine(about, core.around),
        { ...guideWith([]), focus },
        'analyse',
      ).join();
    };
    expect(said('The First World War', 'What a war does')).toContain('for the First World War,');
    expect(said('Ireland and exile', 'Leaving Ireland.')).toContain('for Ireland and exile,');
    expect(said('Grief', 'Every grief is another.')).toContain('for grief,');
    expect(said('May', 'They may go in May.')).toContain('for May,');
    expect(said('Grief', 'Nobody named it')).toContain('for Grief,');
    expect(said('DNA', 'A strand of dna')).toContain('for DNA,');
  });

  test('an entry that is not there is told as that, for it may only not have come yet', () => {
    const id = 'nowhere' as EntryId;
    const [item] = guideView(core, guideWith([{ entry: id, minutes: 5, must: false }])).parts[0]!
      .items;
    expect(item).toMatchObject({ text: NOT_HERE, kind: 'free', minutes: 5 });
    expect(NOT_HERE).not.toContain('removed');
  });

  test('a frame stays marked as one until its gaps are filled', () => {
    const frames = LEVELS.flatMap((level) => framesFor(core, guideWith([]), level));
    const open = frames.filter((frame) => frame.includes('…'));
    expect(open.length).toBeGreaterThan(12);
    for (const frame of open) {
      const view = guideView(
        core,
        guideWith([{ free: 'other', text: frame, minutes: 5, must: false }]),
      );
      expect(view.parts[0]!.items[0]!.frame, frame).toBe(true);
      expect(view.remarks.map(({ code }) => code)).toContain('frames');
    }
    const done = guideView(
      core,
      guideWith([
        { free: 'other', text: 'Was Mary right to wait… and why?', minutes: 5, must: false },
      ]),
    );
    expect(done.parts[0]!.items[0]!.frame).toBe(false);
  });

  test('a circle of more than eight is offered a step in pairs, until it has one', () => {
    const item: GuideItem = { entry: question.id, minutes: 5, must: false };
    const remark = guideView(core, guideWith([item], grown)).remarks.find(
      ({ code }) => code === 'pairs',
    );
    expect(remark?.offer).toMatchObject({ free: 'pair' });
    const codes = guideView(core, guideWith([item, remark!.offer!], grown)).remarks.map(
      ({ code }) => code,
    );
    expect(codes).not.toContain('pairs');
  });

  test('a lesson for children is pointed out to a circle of adults, and not to children', () => {
    const own = [...tables.entries.values()].find((entry) => entry.ages === '8-11')!;
    const items: GuideItem[] = [{ entry: own.id, minutes: 9, must: false }];
    const codes = (circle: Circle): string[] =>
      guideView(core, guideWith(items, circle)).remarks.map(({ code }) => code);
    expect(codes(grown)).toContain('ages');
    expect(codes(children)).not.toContain('ages');
  });

  test('spares and what was put aside are told apart from what is in it', () => {
    const view = guideView(core, {
      ...guideWith([]),
      spare: [{ entry: question.id, minutes: 5, must: false, fixed: true }],
      refused: [question.id],
    });
    expect(view.spare).toHaveLength(1);
    expect(view.refused).toMatchObject([{ entry: question.id, kind: 'question' }]);
    expect(view.planned).toBe(0);
  });
});

test('a strand is offered with the headings that make it out', () => {
  const choices = strandChoices(core);
  expect(choices.length).toBeGreaterThan(2);
  for (const { headings, entries } of choices) {
    expect(headings.length).toBeGreaterThan(0);
    expect(headings.length).toBeLessThanOrEqual(40);
    expect(entries).toBeGreaterThan(0);
    const kinds = headings.map((id) => tables.headings.get(id)?.kind);
    expect(kinds).toEqual([...kinds].sort((a, b) => ORDER.indexOf(a!) - ORDER.indexOf(b!)));
  }
});

const ORDER = ['theme', 'person', 'book'];

test('a meeting kept while it runs is taken back as one thing', async () => {
  const { desk } = await opened(new MemoryStore());
  const circle = await must(desk.saveCircle({ name: 'Tuesday' }));
  const meeting = {
    circle: circle.id as Circle['id'],
    on: '2026-11-25',
    items: [{ text: 'One', used: true }],
  };
  const first = await must(desk.saveMeeting(meeting));
  for (const note of ['a', 'b', 'c']) {
    await must(desk.saveMeeting({ ...meeting, id: first.id!, note }));
  }
  expect((await desk.meeting(first.id!))?.note).toBe('c');
  await must(desk.undo());
  expect(await desk.meeting(first.id!)).toBeUndefined();
  expect(await desk.circles()).toHaveLength(1);
  await must(desk.redo());
  expect((await desk.meeting(first.id!))?.note).toBe('c');
});
