import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Engine } from '../../../src/engine/engine';
import { guideView } from '../../../src/engine/guide-view';
import { guideSaid } from '../../../src/engine/lists';
import { publishGuide } from '../../../src/engine/publishing';
import { publishSchedule } from '../../../src/engine/series-schedule';
import { seriesMade, seriesOfGuide } from '../../../src/engine/series-made';
import type { SeriesAsk } from '../../../src/engine/series';
import { copyOf, fromTemplate, templateOf } from '../../../src/engine/templates';
import { readJournalFile } from '../../../src/journal/file';
import { putHeading, putRow } from '../../../src/journal/make-edits';
import type {
  BookHeading,
  CircleId,
  Guide,
  GuideId,
  GuideItem,
  ListId,
  SealId,
} from '../../../src/journal/records';
import { MemoryStore } from '../../../src/keep/memory-store';
import { usualFaces } from '../publish/faces-on-disk';
import { must, opened } from './desk-setup';

const text = readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8');

function engine(): Engine {
  const read = readJournalFile(text);
  if (!read.ok) throw new Error(read.message);
  let made = 0;
  return new Engine(read.journal, {
    now: () => new Date('2026-11-25T12:00:00Z'),
    newId: () => `018f0000-0000-7000-8000-${String((made += 1)).padStart(12, '0')}`,
  });
}

/** A book of 300 pages that lists no chapters. */
function plainBook(core: Engine): BookHeading {
  const found = [...core.journal.tables.headings.values()].find(
    (heading) => heading.kind === 'book' && heading.name === 'Frankenstein',
  ) as BookHeading;
  const { chapters: _chapters, ...rest } = found;
  const book = { ...rest, pages: 300 };
  expect(core.apply(putHeading(core.journal, book)).ok).toBe(true);
  return book;
}

function made(core: Engine, ask: Partial<SeriesAsk> = {}): Guide[] {
  const circle = [...core.journal.tables.circles.keys()][0] as CircleId;
  const whole: SeriesAsk = {
    book: plainBook(core).id,
    first: '2027-01-07',
    meetings: 3,
    chapters: 24,
    circle,
    ...ask,
  };
  const series = seriesMade(core, whole);
  if (!series.ok) throw new Error(series.message);
  expect(core.apply(series.edit).ok).toBe(true);
  return series.guides.map((id) => core.journal.tables.guides.get(id)!);
}

const printed = async (core: Engine, guide: Guide): Promise<string> => {
  const file = await publishGuide(
    core,
    guide,
    { format: 'text', copy: 'handout', paper: 'A4' },
    async () => usualFaces(),
  );
  return new TextDecoder().decode(new Uint8Array(file.bytes)).replace(/\s+/g, ' ');
};

describe('guides made as a series', () => {
  test('stay together, apart from another series over the same book with the same circle', () => {
    const core = engine();
    const one = made(core).map(({ id }) => id);
    const other = made(core, { first: '2027-01-10' }).map(({ id }) => id);
    expect(seriesOfGuide(core.journal, one[1]!)!.guides).toEqual(one);
    expect(seriesOfGuide(core.journal, other[0]!)!.guides).toEqual(other);
    const listed = guideSaid(core.journal).map(({ id }) => id);
    for (const ids of [one, other]) {
      const at = listed.indexOf(ids[0]!);
      expect(listed.slice(at, at + 3)).toEqual(ids);
    }
  });

  test('say which meeting they are, and lead to their neighbours', () => {
    const core = engine();
    const guides = made(core);
    const told = guides.map((guide) => guideView(core, guide).series);
    const book = 'Frankenstein';
    expect(told).toEqual([
      { at: 1, of: 3, book, after: guides[1]!.id },
      { at: 2, of: 3, book, before: guides[0]!.id, after: guides[2]!.id },
      { at: 3, of: 3, book, before: guides[1]!.id },
    ]);
  });

  test('tell what to read next, saying where pages are worked out', async () => {
    const core = engine();
    const [first, , last] = made(core);
    expect(await printed(core, first!)).toContain(
      'Frankenstein, chapters 9 to 16 (about pages 101 to 200), for Thursday 14 January 2027.',
    );
    expect(await printed(core, last!)).not.toContain('for Thursday');
  });

  test('a guide whose day was taken away tells nothing to read next', async () => {
    const core = engine();
    const { starts: _starts, ...undated } = made(core)[1]!;
    expect(core.apply(putRow(core.journal, 'guides', undated)).ok).toBe(true);
    expect(await printed(core, undated)).not.toContain('Until we meet again');
  });

  test('stay together where a book is parted by pages alone', () => {
    const core = engine();
    const book = plainBook(core);
    const guides = made(core, { book: book.id, chapters: undefined } as Partial<SeriesAsk>);
    expect(guides[0]!.title).toBe('Frankenstein, pages 1 to 100');
    const kept = seriesOfGuide(core.journal, guides[2]!.id)!;
    expect(kept.guides).toEqual(guides.map(({ id }) => id));
  });

  test('share no entry, neither placed nor to spare', () => {
    const guides = made(engine());
    const ids = guides.flatMap((guide) => {
      const items = [...guide.parts.flatMap((part) => part.items), ...(guide.spare ?? [])];
      return items.flatMap(({ entry }) => entry ?? []);
    });
    expect(guides.some(({ spare }) => (spare ?? []).length > 0)).toBe(true);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test('a schedule of a book parted by pages names what is read for each meeting', async () => {
    const core = engine();
    const book = plainBook(core);
    const [guide] = made(core, { book: book.id, chapters: undefined } as Partial<SeriesAsk>);
    const { series, guides } = seriesOfGuide(core.journal, guide!.id)!;
    const file = await publishSchedule(core.journal, series, { guides }, core.around.now());
    const calendar = new TextDecoder().decode(file.bytes).replace(/\r?\n /g, '');
    expect(calendar).not.toContain('the whole book');
    for (const pages of ['1 to 100', '101 to 200', '201 to 300']) {
      expect(calendar).toContain(`SUMMARY:Read Frankenstein\\, pages ${pages}`);
      expect(calendar).toContain(`: Frankenstein\\, pages ${pages}`);
    }
  });

  test('a schedule tells each meeting at its own hour', async () => {
    const core = engine();
    const guides = made(core);
    const moved = { ...guides[1]!, starts: '2027-01-14T16:30' };
    expect(core.apply(putRow(core.journal, 'guides', moved)).ok).toBe(true);
    const { series, guides: ids } = seriesOfGuide(core.journal, moved.id)!;
    const now = core.around.now();
    const file = await publishSchedule(core.journal, series, { guides: ids }, now);
    const calendar = new TextDecoder().decode(file.bytes);
    const hours = [...calendar.matchAll(/DTSTART[^:]*:(\d{8}T\d{4})/g)].map(([, hour]) => hour);
    expect(hours).toEqual(['20270107T1000', '20270114T1630', '20270121T1000']);
  });

  test('nothing is scheduled over a book of a sealed list', async () => {
    const { desk } = await opened(new MemoryStore(), { demo: async () => text });
    await must(desk.begin('demo'));
    const [frankenstein] = await desk.headings('Frankenstein', 'book');
    const ask: SeriesAsk = {
      book: frankenstein!.id,
      first: '2027-01-07',
      meetings: 3,
      chapters: 24,
    };
    expect((await desk.printing.schedule(ask)).ok).toBe(true);
    const seal = 'seal' as SealId;
    const sealed = { id: seal, envelope: 'AAAA' };
    expect(desk.engine.apply(putRow(desk.engine.journal, 'seals', sealed)).ok).toBe(true);
    const list = { id: 'locked' as ListId, name: 'Later', books: [frankenstein!.id], seal };
    expect(desk.engine.apply(putRow(desk.engine.journal, 'lists', list)).ok).toBe(true);
    expect(await desk.printing.schedule(ask)).toMatchObject({ ok: false, code: 'sealed' });
  });

  test('a copy and a guide begun from one of them are of no series', () => {
    const core = engine();
    const [guide] = made(core);
    const as = { id: 'other' as GuideId, made: '2026-11-26T00:00:00Z' };
    expect(copyOf(guide!, as).series).toBeUndefined();
    expect(fromTemplate(guide!, as).series).toBeUndefined();
  });

  test('a guide copied at the desk is of no series and has no day yet', async () => {
    const { desk } = await opened(new MemoryStore(), { demo: async () => text });
    await must(desk.begin('demo'));
    const [held] = await desk.guides();
    const guide = (await desk.guide(held!.id))!;
    const series = { id: 'a-series' };
    await must(desk.saveGuide({ ...guide, starts: '2027-01-07T19:00', series }));
    const { id } = await must(desk.planning.copyGuide(guide.id));
    const copy = await desk.guide(id as GuideId);
    expect(copy!.title).toBe(`${guide.title}, again`);
    expect(copy!.starts).toBeUndefined();
    expect(copy!.series).toBeUndefined();
  });
});

describe('what is to be read, for chapters named by hand', () => {
  const CHAPTERS = Array.from({ length: 10 }, (_, at) => ({
    name: `Chapter ${at + 1}`,
    page: at * 10 + 1,
  }));
  const next = async (from: string, to: string): Promise<string> => {
    const core = engine();
    const { words: _words, ...book } = { ...plainBook(core), pages: 100, chapters: CHAPTERS };
    expect(core.apply(putHeading(core.journal, book)).ok).toBe(true);
    const guides = [
      { starts: '2027-01-07T19:00', from: '1', to: '3' },
      { starts: '2027-01-14T19:00', from, to },
    ].map((one, at): Guide => ({
      id: `g${at}` as GuideId,
      title: 'A guide',
      shape: 'discussion',
      focus: {
        words: [],
        headings: [{ heading: book.id, from: one.from, to: one.to }],
        entries: [],
      },
      minutes: 30,
      starts: one.starts,
      parts: [{ name: 'Closing', minutes: 30, items: [] }],
      made: '2026-11-25T12:00:00Z',
    }));
    for (const guide of guides)
      expect(core.apply(putRow(core.journal, 'guides', guide)).ok).toBe(true);
    return printed(core, guides[0]!);
  };

  test.each([
    ['4', '6', 'chapters 4 to 6 (pages 31 to 60), for'],
    ['9', '6', 'chapters 6 to 9 (pages 51 to 90), for'],
    ['0', '4', 'chapters 0 to 4, for'],
    ['9', '12', 'chapters 9 to 12, for'],
  ])('from %s to %s', async (from, to, said) => {
    expect(await next(from, to)).toContain(said);
  });
});

describe('when an assignment is due', () => {
  const core = engine();
  const task = [...core.journal.tables.entries.values()].find(
    ({ kind, lesson }) => kind === 'assignment' && !lesson?.due,
  )!;
  const guideWith = (due?: string): Guide => {
    const item: GuideItem = {
      entry: task.id,
      minutes: 5,
      must: false,
      ...(due ? { due } : {}),
    };
    return {
      id: 'g' as GuideId,
      title: 'A guide',
      shape: 'lesson',
      focus: { words: [], headings: [], entries: [] },
      minutes: 30,
      parts: [{ name: 'Closing', minutes: 30, items: [item] }],
      made: '2026-11-25T12:00:00Z',
    };
  };

  test('it is said by this guide alone, on both copies, and the journal stays as it is', async () => {
    const guide = guideWith('next Tuesday');
    expect(await printed(core, guide)).toContain('Due next Tuesday.');
    expect(await printed(core, guideWith())).not.toContain('Due');
    const [item] = guideView(core, guide).parts[0]!.items;
    expect(item!.due).toBe('next Tuesday');
    expect(item!.cues).toContainEqual({ lead: 'Due', text: 'next Tuesday' });
    expect(core.journal.tables.entries.get(task.id)!.lesson?.due).toBeUndefined();
  });

  test('a guide for another time says nothing of this time', () => {
    const own: GuideItem = {
      kind: 'assignment',
      text: 'Draw the hut.',
      minutes: 5,
      must: false,
      due: 'Thursday 12 March',
    };
    const guide = guideWith('Thursday 12 March');
    guide.parts[0]!.items.push(own);
    guide.spare = [own];
    const as = { id: 'other' as GuideId, made: '2026-11-26T00:00:00Z' };
    const copy = copyOf(guide, as);
    expect(copy.parts[0]!.items).toHaveLength(2);
    expect(copy.spare).toHaveLength(1);
    for (const other of [copy, templateOf(guide, as), fromTemplate(guide, as)])
      expect(JSON.stringify(other)).not.toContain('March');
    expect(guide.parts[0]!.items[0]!.due).toBe('Thursday 12 March');
  });

  test('composing again leaves it where it was set', () => {
    const { due } = guideWith('1 March').parts[0]!.items[0]!;
    const again = guideWith();
    again.parts[0]!.items[0] = { ...again.parts[0]!.items[0]!, due, fixed: true } as GuideItem;
    const { guide } = core.compose({ focus: again.focus, minutes: 30, shape: 'lesson', again });
    const items = guide.parts.flatMap((part) => part.items);
    expect(items.find(({ entry }) => entry === task.id)?.due).toBe('1 March');
    expect(core.apply(putRow(core.journal, 'guides', guide)).ok).toBe(true);
  });
});
