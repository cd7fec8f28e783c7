/** The entries as a table: CSV by RFC 4180, UTF-8 with the mark at its head that spreadsheets look for. */
import Papa from 'papaparse';
import type { Entry, HeadingKind } from '../journal/records';
import { bookTieOf } from './cite';
import type { OpenRows } from './open-rows';
import { clean } from './safe-text';

export const CSV_COLUMNS = [
  'id',
  'kind',
  'entry title',
  'text',
  'book',
  'author',
  'chapter',
  'page',
  'themes',
  'people',
  'written',
  'level',
  'minutes',
  'answer',
  'follow-ups',
  'materials',
  'cautions',
  'ages',
  'source',
  'added',
] as const;

/** What a spreadsheet would take for a formula gets an apostrophe before it; a dash and a space begin a line of talk or a list. */
const FORMULA = /^(?:[=+@\t\r]|-(?!\s))/;

/**
 * One row for each entry under a row of names. Several books, themes or people stand in one cell,
 * parted by "; ", the book it is taken from first; chapter and page are of that book.
 */
export function toCsv(rows: OpenRows): string {
  const data = rows.entries.map((entry) => {
    const cells = cellsOf(entry, rows);
    return CSV_COLUMNS.map((column) => clean(cells[column] ?? ''));
  });
  const how = { newline: '\r\n', escapeFormulae: FORMULA };
  return `\uFEFF${Papa.unparse([[...CSV_COLUMNS], ...data], how)}\r\n`;
}

function cellsOf(
  entry: Entry,
  { headings }: OpenRows,
): Partial<Record<(typeof CSV_COLUMNS)[number], string>> {
  const named = (kind: HeadingKind): string[] => [
    ...new Set(
      entry.ties.flatMap((tie) => {
        const heading = headings.get(tie.heading);
        return heading?.kind === kind ? [heading.name] : [];
      }),
    ),
  ];
  const main = bookTieOf(entry, headings);
  const books = [...new Set([...(main ? [main.book.name] : []), ...named('book')])];
  return {
    id: entry.id,
    kind: entry.kind,
    'entry title': entry.title,
    text: entry.text,
    book: books.join('; '),
    author: main?.book.authors.flatMap((id) => headings.get(id)?.name ?? []).join('; '),
    chapter: main?.tie.place?.chapter,
    page: main?.tie.place?.page,
    themes: named('theme').join('; '),
    people: named('person').join('; '),
    written: entry.written,
    level: entry.level,
    minutes: entry.minutes?.toString(),
    answer: entry.answer,
    'follow-ups': entry.probes?.join('\n'),
    materials: entry.materials?.join('; '),
    cautions: entry.cautions?.join('; '),
    ages: entry.ages,
    source: [entry.source?.note, entry.source?.file, entry.source?.place]
      .filter(Boolean)
      .join(', '),
    added: entry.added,
  };
}
