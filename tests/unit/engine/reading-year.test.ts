import { expect, test } from 'vitest';
import { nothingFinished } from '../../../src/app/read/nothing-finished';
import type { Core } from '../../../src/engine/core';
import { markDay } from '../../../src/engine/reading-log';
import { yearView } from '../../../src/engine/reading-year';
import { beginningOf } from '../../../src/engine/reading-words';
import { apply } from '../../../src/journal/edits';
import type { Journal, ReadingId } from '../../../src/journal/records';
import { daysOf } from '../../../src/reading/readings';
import { at, book, journalOf, reading } from '../reading/few';

const made = (...more: Parameters<typeof reading>[]): Journal =>
  journalOf({
    headings: [book('emma', 'Emma'), book('heidi', 'Heidi')],
    readings: more.map((each) => reading(...each)),
  });
let revision = 0;
const coreAt = (today: string, journal: Journal): Core =>
  ({ journal, around: at(today), revision: (revision += 1) }) as unknown as Core;

const kept = made(
  ['r1', 'emma', '2023-05-02'],
  ['r2', 'heidi', undefined, { started: '2024-10-02', abandoned: true, days: ['2024-10-03'] }],
);

test('a present year with nothing in it tells when the log was last kept', () => {
  expect(yearView(coreAt('2026-11-06', kept), {}).lastKept).toEqual({
    said: 'October 2024',
    year: '2024',
  });
  expect(yearView(coreAt('2026-11-06', kept), { school: '2026/27' }).lastKept).toEqual({
    said: 'October 2024',
    year: '2024/25',
  });
});

test('as vaguely as it is known', () => {
  const vague = made(['r1', 'emma', '2019~']);
  expect(yearView(coreAt('2026-11-06', vague), {}).lastKept).toEqual({
    said: 'about 2019',
    year: '2019',
  });
});

test('a year gone by with nothing in it tells when the log was last kept before it', () => {
  const between = made(['r1', 'emma', '2018-04-04'], ['r2', 'heidi', '2025-02-03']);
  const core = coreAt('2026-11-06', between);
  const last = { said: 'April 2018', year: '2018' };
  expect(yearView(core, { year: 2022 }).lastKept).toEqual(last);
  expect(yearView(core, { school: '2021/22' }).lastKept).toEqual({ ...last, year: '2017/18' });
  expect(yearView(core, { year: 2027 }).lastKept).toBeUndefined();
});

test('what is said where nothing was finished denies nothing that is kept', () => {
  const journal = made(
    ['r1', 'emma', '2018-04-04'],
    ['r2', 'heidi', '2023-03-03', { abandoned: true, days: ['2023-03-01'] }],
    ['r3', 'emma', '2025-02-03', { started: '2024-11', days: [] }],
    ['r4', 'heidi', '2016', { abandoned: true }],
  );
  const said = (year: number, of = journal): string =>
    nothingFinished(yearView(coreAt('2026-11-06', of), { year }));
  for (const year of [2016, 2023, 2024])
    expect(said(year)).toBe(`Nothing was finished in ${year}.`);
  expect(said(2022)).toBe(
    'Nothing is kept in 2022. Mark any day on which you remember reading, or look at what you kept last before it:',
  );
  expect(said(2026)).toBe(
    'Nothing is kept in 2026 yet. Mark any day on which you read, or look at what you kept last:',
  );
  expect(said(2015)).toBe(
    'Nothing is kept in 2015, nor before it. Mark any day on which you remember reading.',
  );
  const begun = 'Nothing is finished in it yet. Mark any day on which you read.';
  expect(said(2026, made(['r1', 'emma', undefined, { started: '2026-01-01' }]))).toBe(begun);
  expect(said(2027)).toBe(begun);
});

test('nothing is told before the first year, of a year with something in it, or of a journal never kept', () => {
  expect(yearView(coreAt('2026-11-06', kept), { year: 2022 }).lastKept).toBeUndefined();
  expect(yearView(coreAt('2024-11-06', kept), {}).lastKept).toBeUndefined();
  const inHand = made(['r1', 'emma', undefined, { started: '2020-01-01' }]);
  expect(yearView(coreAt('2026-11-06', inHand), {}).lastKept).toBeUndefined();
  expect(yearView(coreAt('2026-11-06', made()), {}).lastKept).toBeUndefined();
});

test('a school year set by hand counts before what the date says', () => {
  const journal = made(
    ['r1', 'emma', '2014', { schoolYear: '2013/14' }],
    ['r2', 'heidi', '2013-10-04', { schoolYear: '2014/15' }],
  );
  const finished = (school: string): string[] =>
    yearView(coreAt('2026-11-06', journal), { school }).finished.map(({ reading }) => reading);
  expect(finished('2013/14')).toEqual(['r1']);
  expect(finished('2014/15')).toEqual(['r2']);
});

test('a long text is shown by its beginning, ended at a word', () => {
  expect(beginningOf('Otter vanishes in the middle', 40)).toBe('Otter vanishes in the middle');
  expect(beginningOf('Otter vanishes in the middle', 17)).toBe('Otter vanishes in …');
  expect(beginningOf('Otter vanishes in the middle', 16)).toBe('Otter vanishes …');
  expect(beginningOf('Ottervanishes', 5)).toBe('Otter …');
});

test('a day that a beginning or an end says by itself is not said to be cleared', () => {
  const clear = (day: string, more: Parameters<typeof reading>[3], finished?: string): unknown => {
    const journal = made(['r1', 'emma', finished, more]);
    const asked = markDay(coreAt('2026-11-06', journal), 'r1' as ReadingId, day, false);
    if (!asked.ok) return asked.code;
    const applied = apply(journal, asked.edit);
    return applied.ok && daysOf(journal.tables.readings.get('r1' as ReadingId)!);
  };
  const begun = { started: '2026-11-01', days: ['2026-11-01'] };
  expect(clear('2026-11-01', begun)).toBe('an-end');
  expect(clear('2026-11-04', begun, '2026-11-04')).toBe('an-end');
  const gone = { ...begun, days: ['2026-11-01', '2026-11-03'] };
  expect(clear('2026-11-01', gone)).toEqual(['2026-11-03']);
  expect(clear('2026-11-03', gone)).toEqual(['2026-11-01']);
});
