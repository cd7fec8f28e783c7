/** The catalogue of books asked over a journal: rows worked out once for each state of it, then sorted and narrowed. */
import { usesOf, entriesTiedTo } from '../journal/uses';
import { rowsNaming } from '../journal/indexes';
import type { HeadingId, Reading, ReadingId } from '../journal/records';
import { sayDate } from '../language/dates';
import {
  catalogue,
  rowFrom,
  type CatalogueAsk,
  type CatalogueRow,
  type BookState,
} from '../reading/catalogue';
import { sortDay, spanOf } from '../reading/readings';
import { isYearStart, USUAL_START } from '../reading/school-years';
import type { Core } from './core';
import { bookOf } from './reading';
import { factsIn, keptFor } from './reading-cache';
import { authorsShort } from './reading-words';

export type { CatalogueAsk, CatalogueOrder, BookState } from '../reading/catalogue';

/** A book as a line of the catalogue. */
export interface BookLine {
  id: HeadingId;
  title: string;
  author: string;
  state: BookState;
  /** In hand, perhaps not for the first time. */
  inHand: boolean;
  times: number;
  /** Year or date of the last reading, short; '' where there is none. */
  last: string;
  school: string;
  forms: Reading['form'][];
  pages?: number;
  /** Year of publication in words. */
  published: string;
  rating?: number;
  entries: number;
  used: number;
}

export interface CatalogueView {
  lines: BookLine[];
  /** All books of the journal. */
  of: number;
  /** What can be chosen to narrow by. */
  years: number[];
  schools: string[];
  themes: { id: HeadingId; name: string; books: number }[];
  lists: string[];
}

export const readingsOf = (core: Pick<Core, 'journal'>, book: HeadingId): Reading[] =>
  [...rowsNaming(core.journal, 'headings', book, 'readings')].flatMap(
    (id) => core.journal.tables.readings.get(id as ReadingId) ?? [],
  );

/** Times entries tied to a book were used in meetings. */
export function timesUsed(core: Pick<Core, 'journal'>, book: HeadingId): number {
  let used = 0;
  for (const entry of entriesTiedTo(core.journal, book)) used += usesOf(core.journal, entry).times;
  return used;
}

function catalogueRows(core: Core, schoolStart: string): CatalogueRow[] {
  return keptFor(core, `catalogue ${schoolStart}`, () => {
    const { journal } = core;
    const rows: CatalogueRow[] = [];
    for (const facts of factsIn(core).values()) {
      const lists = [...rowsNaming(journal, 'headings', facts.id, 'lists')].flatMap((id) => {
        const list = journal.tables.lists.get(id);
        return list && !list.seal ? [list.name] : [];
      });
      const more = {
        author: facts.authors.map(({ name }) => name).join(' '),
        entries: entriesTiedTo(journal, facts.id).size,
        used: timesUsed(core, facts.id),
        lists,
        publishedDay: spanOf(facts.published)?.earliest ?? '',
      };
      rows.push(rowFrom(facts, readingsOf(core, facts.id), more, schoolStart));
    }
    return rows;
  });
}

export function catalogueView(
  core: Core,
  ask: CatalogueAsk & { schoolStart?: string },
): CatalogueView {
  const start = isYearStart(ask.schoolStart ?? '') ? ask.schoolStart! : USUAL_START;
  const rows = catalogueRows(core, start);
  const lines = catalogue(rows, ask).map((row) => lineOf(core, row));
  return { lines, of: rows.length, ...choicesOf(core, rows, start) };
}

function lineOf(core: Core, row: CatalogueRow): BookLine {
  const line: BookLine = {
    id: row.id,
    title: row.title,
    author: authorsShort(core.journal, bookOf(core.journal, row.id)),
    state: row.state,
    inHand: row.inHand,
    times: row.times,
    last: lastSaid(core, row),
    school: row.schools[0] ?? '',
    forms: row.forms,
    published: row.published ? sayDate(row.published) : '',
    entries: row.entries,
    used: row.used,
  };
  if (row.pages !== undefined) line.pages = row.pages;
  if (row.rating !== undefined) line.rating = row.rating;
  return line;
}

function lastSaid(core: Core, { id, state, years }: CatalogueRow): string {
  if (state === 'in-hand') return 'in hand';
  if (state === 'put-down') return 'put down';
  if (state === 'unread') return '';
  if (years[0] !== undefined) return String(years[0]);
  const last = readingsOf(core, id)
    .filter(({ finished }) => finished !== undefined)
    .sort((a, b) => (sortDay(a) < sortDay(b) ? 1 : -1))[0];
  return last?.finished ? sayDate(last.finished) : '';
}

function choicesOf(
  core: Core,
  rows: readonly CatalogueRow[],
  start: string,
): Omit<CatalogueView, 'lines' | 'of'> {
  return keptFor(core, `catalogue choices ${start}`, () => {
    const years = new Set<number>();
    const schools = new Set<string>();
    const lists = new Set<string>();
    const themes = new Map<HeadingId, number>();
    for (const row of rows) {
      row.years.forEach((year) => years.add(year));
      row.schools.forEach((school) => schools.add(school));
      row.lists.forEach((list) => lists.add(list));
      for (const theme of row.themes) themes.set(theme, (themes.get(theme) ?? 0) + 1);
    }
    return {
      years: [...years].sort((a, b) => b - a),
      schools: [...schools].sort().reverse(),
      lists: [...lists].sort(),
      themes: [...themes]
        .map(([id, books]) => ({
          id,
          name: core.journal.tables.headings.get(id)?.name ?? '',
          books,
        }))
        .sort((a, b) => (a.name.toLowerCase() < b.name.toLowerCase() ? -1 : 1)),
    };
  });
}
