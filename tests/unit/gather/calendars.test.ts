import { strToU8 } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { MeetingFound, ReadWhole } from '../../../src/gather/block';
import { acceptEdit } from '../../../src/gather/accept';
import { gatherAtOnce } from '../../../src/gather/gathering';
import { readFile } from '../../../src/gather/read-file';
import { apply } from '../../../src/journal/edits';
import type { CircleId, GatheringId, Journal } from '../../../src/journal/records';
import { file, ids, NOW, smallJournal } from './build';

/** A calendar of events, each a list of lines; `zone` is what the whole says of itself. */
const calendar = (events: string[][], zone?: string): string =>
  [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    ...(zone ? [`X-WR-TIMEZONE:${zone}`] : []),
    ...events.flatMap((lines) => ['BEGIN:VEVENT', ...lines, 'END:VEVENT']),
    'END:VCALENDAR',
    '',
  ].join('\r\n');

async function read(text: string): Promise<ReadWhole> {
  for await (const { result } of readFile({ path: 'c.ics', bytes: strToU8(text) })) {
    if (result.ok) return result;
    throw new Error(result.message);
  }
  throw new Error('nothing was read');
}

const when = async (text: string): Promise<string[]> =>
  ((await read(text)).meetings ?? []).map(({ on, starts }) => `${on} ${starts}`);

const SERIES = ['UID:1', 'SUMMARY:Tuesday circle', 'RRULE:FREQ=WEEKLY;COUNT=3'];

test('an evening cancelled in a series is no meeting', async () => {
  const zoned = (time: string): string => `TZID=America/Chicago:${time}`;
  const text = calendar([
    [...SERIES, `DTSTART;${zoned('20240305T190000')}`],
    [
      'UID:1',
      'STATUS:CANCELLED',
      `RECURRENCE-ID;${zoned('20240312T190000')}`,
      `DTSTART;${zoned('20240312T190000')}`,
    ],
  ]);
  expect(await when(text)).toEqual(['2024-03-05 19:00', '2024-03-19 19:00']);
  expect((await read(text)).notes).toEqual(['One event was cancelled and left out.']);
});

describe('a series told in universal time', () => {
  // 01:00 of 6 March is 19:00 of the day before in Chicago, and 20:00 once summer time has begun there on 10 March 2024.
  const series = [...SERIES, 'DTSTART:20240306T010000Z'];

  test('falls on the days of the place of its calendar, at the hours of each', async () => {
    expect(await when(calendar([series], 'America/Chicago'))).toEqual([
      '2024-03-05 19:00',
      '2024-03-12 20:00',
      '2024-03-19 20:00',
    ]);
  });

  test('loses the evening that was moved, and has the other', async () => {
    const moved = [
      'UID:1',
      'SUMMARY:Tuesday circle',
      'RECURRENCE-ID:20240313T010000Z',
      'DTSTART:20240315T010000Z',
    ];
    expect(await when(calendar([series, moved], 'America/Chicago'))).toEqual([
      '2024-03-05 19:00',
      '2024-03-14 20:00',
      '2024-03-19 20:00',
    ]);
  });

  test('keeps its own days where no place is known', async () => {
    expect(await when(calendar([series]))).toEqual([
      '2024-03-06 undefined',
      '2024-03-13 undefined',
      '2024-03-20 undefined',
    ]);
  });
});

describe('meetings of one circle on one day', () => {
  const circle = 'c1' as CircleId;
  const withCircle = (): Journal => {
    const journal = smallJournal();
    journal.tables.circles.set(circle, { id: circle, name: 'Tuesday circle' });
    return journal;
  };
  let gatherings = 0;
  const bring = (journal: Journal, meetings: Omit<MeetingFound, 'place' | 'on'>[]): void => {
    const place = { line: 1, note: 'line 1' };
    const found = meetings.map((each) => ({ ...each, on: '2024-03-05', place }));
    const files = [file('c.ics', [], { meetings: found })];
    const id = `g${(gatherings += 1)}`;
    const made = gatherAtOnce(journal, files);
    const { edit } = acceptEdit(journal, made.pieces, {
      newId: ids(id),
      now: NOW,
      gathering: { id: id as GatheringId, on: NOW, files: [] },
      books: made.books,
      meetings: made.meetings,
    });
    if (edit.changes.length > 0) expect(apply(journal, edit)).toMatchObject({ ok: true });
  };
  const notes = (journal: Journal): (string | undefined)[] =>
    [...journal.tables.meetings.values()].map(({ note }) => note);
  const heidi = { title: 'Tuesday circle: Heidi', starts: '10:00', note: 'Bring cheese' };
  const emma = { title: 'Tuesday circle: Emma', starts: '19:00', note: 'Ask for the map' };
  const BOTH = ['Tuesday circle: Heidi\nBring cheese', 'Tuesday circle: Emma\nAsk for the map'];

  test('are both kept where they tell different things, and brought once', () => {
    const journal = withCircle();
    bring(journal, [heidi, emma]);
    expect(notes(journal)).toEqual(BOTH);
    bring(journal, [heidi, emma]);
    expect(notes(journal)).toEqual(BOTH);
  });

  test('are the one that is there where that was written here, or the calendar tells no more', () => {
    const planned = withCircle();
    bring(planned, [heidi]);
    const [first] = planned.tables.meetings.values();
    planned.tables.meetings.set(first!.id, {
      ...first!,
      note: 'We laughed',
      items: [{ used: true, text: 'Why?' }],
    });
    bring(planned, [emma]);
    expect(notes(planned)).toEqual(['We laughed']);
    const added = withCircle();
    bring(added, [heidi]);
    const [own] = added.tables.meetings.values();
    added.tables.meetings.set(own!.id, { ...own!, note: `${own!.note}\nAll came` });
    bring(added, [heidi, { title: 'Tuesday circle' }]);
    expect(notes(added)).toHaveLength(1);
  });
});
