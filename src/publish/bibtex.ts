/** The books as BibTeX, in UTF-8, as BibLaTeX and later programs of the BibTeX family read it. */
import type { BookHeading } from '../journal/records';
import { readDate, yearOf } from '../language/dates';
import { withoutArticle } from '../language/filing';
import { readIsbn } from '../language/isbn';
import { fold } from '../language/tokens';
import { booksOf, type OpenRows } from './open-rows';
import { personName, type PersonName } from './person-name';
import { clean } from './safe-text';

/** One `@book` for each book, in the order of their keys. The year is that of first publication, the only one a journal keeps. */
export function toBibtex(rows: OpenRows): string {
  const taken = new Set<string>();
  const entries = booksOf(rows)
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .map((book) => {
      const key = keyOf(book, rows, taken);
      return { key, text: entryOf(book, key, rows) };
    });
  entries.sort((a, b) => (a.key < b.key ? -1 : 1));
  return entries.map(({ text }) => text).join('\n');
}

function entryOf(book: BookHeading, key: string, rows: OpenRows): string {
  const authors = authorsOf(book, rows).map(authorSaid).join(' and ');
  const isbn = book.isbn ? readIsbn(book.isbn) : undefined;
  const fields: [string, string | undefined][] = [
    ['author', authors],
    // The second pair of braces keeps the capitals of the title.
    ['title', `{${texOf(book.name)}}`],
    ...datedBy(book.published),
    ['isbn', isbn?.ok ? isbn.hyphenated : undefined],
    ['pagetotal', book.pages?.toString()],
    ['langid', book.language && texOf(book.language)],
  ];
  const lines = fields.flatMap(([name, value]) => (value ? [`  ${name} = {${value}}`] : []));
  return `@book{${key},\n${lines.join(',\n')}\n}\n`;
}

/** `year` for a year, as every program knows it; `date` for anything more exact, vaguer or wider, which BibLaTeX reads as EDTF. */
function datedBy(published: string | undefined): [string, string | undefined][] {
  const read = published === undefined ? undefined : readDate(published);
  if (!read?.ok) return [];
  const { edtf } = read.date;
  const year = yearOf(edtf);
  const plain = /^[1-9]\d{3}$/.test(edtf);
  return [
    ['year', year?.toString()],
    ['date', plain ? undefined : edtf],
  ];
}

function authorsOf(book: BookHeading, { headings }: OpenRows): PersonName[] {
  return book.authors.flatMap((id) => {
    const person = headings.get(id);
    return person?.kind === 'person' ? [personName(person)] : [];
  });
}

/** "von Last, Jr, First"; a name that is not to be taken apart stands in braces. */
function authorSaid(name: PersonName): string {
  if ('literal' in name) return `{${texOf(name.literal)}}`;
  const parts = [name.family, ...(name.suffix ? [name.suffix] : []), name.given].map(texOf);
  return parts.some((part) => /\sand\s/i.test(` ${part} `))
    ? `{${texOf([name.given, name.family].join(' '))}}`
    : parts.join(', ');
}

function keyOf(book: BookHeading, rows: OpenRows, taken: Set<string>): string {
  const bare = (text: string): string => fold(text).replace(/[^a-z0-9]/g, '');
  const first = authorsOf(book, rows)[0];
  const name = first ? bare('literal' in first ? first.literal : first.family) : '';
  const year = book.published === undefined ? undefined : yearOf(book.published);
  const word = withoutArticle(book.name, book.language).split(/\s+/).map(bare).find(Boolean) ?? '';
  const stem = `${name}${year !== undefined && year >= 0 ? year : ''}${word}` || 'book';
  let key = stem;
  for (let at = 2; taken.has(key); at += 1) key = `${stem}-${at}`;
  taken.add(key);
  return key;
}

const SIGNS: Readonly<Record<string, string>> = {
  '\\': '\\textbackslash{}',
  '{': '\\textbraceleft{}',
  '}': '\\textbraceright{}',
  '~': '\\textasciitilde{}',
  '^': '\\textasciicircum{}',
};

/** Plain text as TeX sets it; braces by name, because BibTeX counts them even behind a backslash. */
function texOf(text: string): string {
  return clean(text)
    .replace(/\s+/g, ' ')
    .trim()
    .replace(/[\\{}~^]|[&%$#_]/g, (sign) => SIGNS[sign] ?? `\\${sign}`);
}
