/**
 * A book parted among meetings, and its schedule read back by another reader of calendars (ical.js).
 * RFC 5545: whole days 3.3.4 and 3.6.1 (DTEND not in it), TRANSP 3.8.2.7, DTSTAMP 3.8.7.2, UID 3.8.4.7.
 */
import ICAL from 'ical.js';
import { describe, expect, test } from 'vitest';
import { Engine } from '../../src/engine/engine';
import { seriesPlan, type Series, type SeriesAsk } from '../../src/engine/series';
import { seriesMade, seriesOfGuide } from '../../src/engine/series-made';
import { publishSchedule } from '../../src/engine/series-schedule';
import { emptyJournal } from '../../src/journal/journal';
import type { BookHeading, Circle, Entry, EntryId, Journal } from '../../src/journal/records';
import { splitEvenly } from '../../src/plan/series';

/* Lewis Carroll, Alice's Adventures in Wonderland (Macmillan, 1866), its table of contents and last page; from memory. */
const ALICE = [1, 15, 29, 41, 59, 77, 95, 112, 130, 147, 162, 176];
const LAST = 192;

const BOOK = '018f0000-0000-7000-8000-000000000001' as BookHeading['id'];
const CIRCLE = '018f0000-0000-7000-8000-000000000002' as Circle['id'];

function alice(book: Partial<BookHeading> = {}): Journal {
  const journal = emptyJournal(
    '018f0000-0000-7000-8000-000000000000',
    'Test',
    '2026-01-01T00:00:00Z',
  );
  journal.tables.headings.set(BOOK, {
    id: BOOK,
    kind: 'book',
    name: 'Alice’s Adventures in Wonderland',
    alternates: [],
    authors: [],
    pages: LAST,
    chapters: ALICE.map((page) => ({ page })),
    ...book,
  });
  journal.tables.circles.set(CIRCLE, { id: CIRCLE, name: 'Thursday circle', starts: '19:30' });
  return journal;
}

const ASK: SeriesAsk = { book: BOOK, meetings: 4, first: '2027-01-14', every: 7, circle: CIRCLE };

function planned(journal: Journal, ask: Partial<SeriesAsk> = {}): Series {
  const series = seriesPlan(journal, { ...ASK, ...ask });
  if (!series.ok) throw new Error(series.message);
  return series;
}

const NOW = new Date('2026-11-02T03:04:05Z');

async function eventsOf(journal: Journal, series: Series): Promise<ICAL.Event[]> {
  const circle = journal.tables.circles.get(CIRCLE)!;
  const file = await publishSchedule(journal, series, { circle, minutes: 90 }, NOW);
  const text = new TextDecoder().decode(file.bytes);
  return new ICAL.Component(ICAL.parse(text))
    .getAllSubcomponents('vevent')
    .map((each) => new ICAL.Event(each));
}

test('nine books of 100 to 900 pages fall to three readers with 1,700 pages at most and 1,300 at least (Skiena, The Algorithm Design Manual, the linear partition problem)', () => {
  const sizes = Array.from({ length: 9 }, (_, at) => (at + 1) * 100);
  const split = splitEvenly(sizes, 3);
  expect(split.map(({ from, to }) => [from, to])).toEqual([
    [1, 5],
    [6, 7],
    [8, 9],
  ]);
  expect(split.map(({ size }) => size)).toEqual([1500, 1300, 1700]);
});

describe('a series over a book with a table of contents', () => {
  test('has each stretch from the page its first chapter begins on to the page before the next', () => {
    const { meetings, pages } = planned(alice());
    expect(pages).toBe('listed');
    for (const { chapters, pages: stretch } of meetings) {
      expect(stretch!.from).toBe(ALICE[Number(chapters!.from) - 1]);
      expect(stretch!.to).toBe((ALICE[Number(chapters!.to)] ?? LAST + 1) - 1);
    }
    expect(meetings[0]!.chapters!.from).toBe('1');
    expect(meetings.at(-1)!.chapters!.to).toBe('12');
    expect(meetings.map(({ on }) => on)).toEqual([
      '2027-01-14',
      '2027-01-21',
      '2027-01-28',
      '2027-02-04',
    ]);
  });

  test('follows from pages a day: six a day from week to week is 42 for a meeting at most', () => {
    const { meetings } = planned(alice(), { meetings: undefined, pagesADay: 6 });
    for (const { pages } of meetings) expect(pages!.to - pages!.from + 1).toBeLessThanOrEqual(42);
    const fewer = planned(alice(), { meetings: meetings.length - 1 }).meetings;
    expect(Math.max(...fewer.map(({ pages }) => pages!.to - pages!.from + 1))).toBeGreaterThan(42);
  });

  test('says that pages are worked out where only the number of chapters is told, and names none where none are known', () => {
    const estimated = planned(alice({ chapters: [] }), { chapters: 12 });
    expect(estimated.pages).toBe('estimated');
    expect(estimated.meetings.map(({ pages }) => [pages!.from, pages!.to])).toEqual([
      [1, 48],
      [49, 96],
      [97, 144],
      [145, 192],
    ]);
    const bare = planned(alice({ chapters: [], pages: undefined }), { chapters: 12 });
    expect(bare.pages).toBe('unknown');
    expect(bare.meetings.every(({ pages }) => pages === undefined)).toBe(true);
  });

  test.each<[string, Partial<SeriesAsk>, Partial<BookHeading>]>([
    ['no-length', {}, { chapters: [], pages: undefined }],
    [
      'no-pages',
      { meetings: undefined, pagesADay: 5, chapters: 9 },
      { chapters: [], pages: undefined },
    ],
    ['no-pace', { meetings: undefined }, {}],
    ['too-many', { meetings: 13 }, {}],
    ['bad-meetings', { meetings: 0 }, {}],
    ['bad-date', { first: '2027-02-30' }, {}],
    ['bad-date', { begin: '2027-01-14' }, {}],
    ['bad-days', { every: 0 }, {}],
    ['unknown-book', { book: CIRCLE as unknown as BookHeading['id'] }, {}],
  ])('is refused with %s for %j', (code, ask, book) => {
    const answer = seriesPlan(alice(book), { ...ASK, ...ask });
    expect(answer).toMatchObject({ ok: false, code });
  });
});

describe('its schedule', () => {
  test('has what to read on each day, every page once, and the meetings at their time', async () => {
    const journal = alice();
    const series = planned(journal);
    const events = await eventsOf(journal, series);
    const readings = events.filter(({ summary }) => summary.startsWith('Read '));
    const meetings = events.filter(({ summary }) => !summary.startsWith('Read '));
    let page = 1;
    for (const { summary, startDate, component } of readings) {
      const [, from, to = from] = /pages? (\d+)(?: to (\d+))?$/.exec(summary)!;
      expect(Number(from)).toBe(page);
      page = Number(to) + 1;
      expect(startDate.isDate).toBe(true);
      expect(component.getFirstPropertyValue('transp')).toBe('TRANSPARENT');
    }
    expect(page).toBe(LAST + 1);
    expect(readings[0]!.startDate.toString()).toBe('2027-01-07');
    expect(readings.at(-1)!.startDate.toString()).toBe('2027-02-03');
    expect(meetings.map(({ startDate, endDate }) => `${startDate} ${endDate}`)).toEqual(
      series.meetings.map(({ on }) => `${on}T19:30:00 ${on}T21:00:00`),
    );
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(events.length);
    for (const { component } of events)
      expect(component.getFirstPropertyValue('dtstamp')?.toString()).toBe('2026-11-02T03:04:05Z');
  });

  test('has one stretch of whole days for each meeting where pages are not known, to the day before it', async () => {
    const journal = alice({ chapters: [], pages: undefined });
    const events = await eventsOf(journal, planned(journal, { chapters: 12 }));
    const [first] = events.filter(({ summary }) => summary.startsWith('Read '));
    expect(first!.summary).toBe('Read Alice’s Adventures in Wonderland, chapters 1 to 3');
    expect([first!.startDate.toString(), first!.endDate.toString()]).toEqual([
      '2027-01-07',
      '2027-01-14',
    ]);
  });

  test('writes the same events under the same names when it is written again', async () => {
    const journal = alice();
    const names = async (): Promise<string[]> =>
      (await eventsOf(journal, planned(journal))).map(({ uid }) => uid);
    expect(await names()).toEqual(await names());
  });
});

describe('the guides of a series', () => {
  function withEntries(): Engine {
    const journal = alice();
    for (let chapter = 1; chapter <= 12; chapter += 1)
      for (let at = 0; at < 6; at += 1) {
        const id =
          `018f0000-0000-7000-8000-0000001${String(chapter).padStart(2, '0')}${String(at).padStart(3, '0')}` as EntryId;
        const entry: Entry = {
          id,
          kind: at === 0 ? 'quote' : 'question',
          text: `Why does thing ${chapter}.${at} happen to Alice ${['first', 'then', 'again', 'at last', 'too', 'here'][at]}?`,
          ties: [
            { heading: BOOK, role: 'from', by: 'reader', place: { chapter: String(chapter) } },
          ],
          added: '2026-01-01T00:00:00Z',
          changed: '2026-01-01T00:00:00Z',
        };
        journal.tables.entries.set(id, entry);
      }
    let next = 0;
    return new Engine(journal, {
      now: () => NOW,
      newId: () => `018f0000-0000-7000-8000-0000009${String((next += 1)).padStart(5, '0')}`,
    });
  }

  test('are kept by one edit, ask only of their own chapters, and share no entry', () => {
    const engine = withEntries();
    const made = seriesMade(engine, ASK);
    if (!made.ok) throw new Error(made.message);
    expect(made.empty).toBe(0);
    expect(engine.apply(made.edit)).toMatchObject({ ok: true });
    const { guides, entries } = engine.journal.tables;
    const seen = new Set<string>();
    made.guides.forEach((id, at) => {
      const guide = guides.get(id)!;
      const { on, chapters } = made.series.meetings[at]!;
      expect(guide.starts).toBe(`${on}T19:30`);
      expect(guide.circle).toBe(CIRCLE);
      expect(guide.refused).toBeUndefined();
      const placed = guide.parts.flatMap(({ items }) => items.flatMap(({ entry }) => entry ?? []));
      expect(placed.length).toBeGreaterThan(0);
      for (const entry of placed) {
        expect(seen.has(entry)).toBe(false);
        seen.add(entry);
        const chapter = Number(entries.get(entry)!.ties[0]!.place!.chapter);
        expect(chapter).toBeGreaterThanOrEqual(Number(chapters!.from));
        expect(chapter).toBeLessThanOrEqual(Number(chapters!.to));
      }
    });
    expect(engine.undo()).toMatchObject({ ok: true });
    expect(guides.size).toBe(0);
  });

  test('tell their series again, with the pages of the table of contents and their own ids', async () => {
    const engine = withEntries();
    const made = seriesMade(engine, ASK);
    if (!made.ok) throw new Error(made.message);
    engine.apply(made.edit);
    const again = seriesOfGuide(engine.journal, made.guides[2]!)!;
    expect(again.guides).toEqual(made.guides);
    const told = ({ on, chapters, pages }: Series['meetings'][number]): unknown => ({
      on,
      chapters,
      pages,
    });
    expect(again.series.meetings.map(told)).toEqual(made.series.meetings.map(told));
    const file = await publishSchedule(engine.journal, again.series, { guides: again.guides }, NOW);
    const text = new TextDecoder().decode(file.bytes);
    for (const id of made.guides) expect(text).toContain(`UID:${id}`);
  });
});
