/** The books as CSL-JSON, the input of citation processors (schema "csl-data.json" of the Citation Style Language 1.0.2). */
import type { BookHeading } from '../journal/records';
import { readDate, yearOf } from '../language/dates';
import { shortTitle } from './cite';
import { booksOf, type OpenRows } from './open-rows';
import { personName } from './person-name';
import { clean } from './safe-text';

/** A date of CSL: a year, a month or a day, or a span of years. */
export interface CslDate {
  'date-parts'?: number[][];
  circa?: boolean;
  literal?: string;
}

export function toCslJson(rows: OpenRows): string {
  const items = booksOf(rows)
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .map((book) => itemOf(book, rows));
  return `${JSON.stringify(items, null, 1)}\n`;
}

interface CslBook {
  id: string;
  title: string;
  'title-short'?: string;
  issued?: CslDate;
  [variable: string]: unknown;
}

export function itemOf(book: BookHeading, { headings }: Pick<OpenRows, 'headings'>): CslBook {
  const author = book.authors.flatMap((id) => {
    const person = headings.get(id);
    if (person?.kind !== 'person') return [];
    const parts = Object.entries(personName(person)) as [string, string][];
    return [Object.fromEntries(parts.map(([part, text]) => [part, clean(text)]))];
  });
  const issued = book.published === undefined ? undefined : dateOf(book.published);
  const short = shortTitle(book.name);
  return {
    id: book.id,
    type: 'book',
    title: clean(book.name),
    ...(short === book.name ? {} : { 'title-short': clean(short) }),
    ...(author.length > 0 ? { author } : {}),
    ...(issued ? { issued } : {}),
    ...(book.isbn ? { ISBN: book.isbn } : {}),
    ...(book.pages === undefined ? {} : { 'number-of-pages': String(book.pages) }),
    ...(book.language ? { language: book.language } : {}),
  };
}

/** One year, or two for a span; what is wider than that goes as it was written. */
function dateOf(edtf: string): CslDate | undefined {
  const read = readDate(edtf);
  if (!read.ok) return undefined;
  const { earliest, latest, approximate, uncertain } = read.date;
  const year = yearOf(edtf);
  const circa = approximate || uncertain ? { circa: true } : {};
  if (/^\d{4}(?:-(?:0\d|1[0-2]))?(?:-\d\d)?$/.test(edtf))
    return { 'date-parts': [edtf.split('-').map(Number)] };
  if (year !== undefined) return { 'date-parts': [[cslYear(year)]], ...circa };
  if (!earliest || !latest || edtf.includes('X')) return { literal: edtf };
  const span = [earliest, latest].map((day) => [
    cslYear(Number(day.slice(0, day.lastIndexOf('-') - 3))),
  ]);
  return { 'date-parts': span, ...circa };
}

/** Processors take -380 as 380 BCE, where EDTF counts a year 0. */
const cslYear = (year: number): number => (year > 0 ? year : year - 1);
