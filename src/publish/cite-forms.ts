/**
 * Citations in two scholarly forms, MLA (Handbook, 9th edition, 2021) and APA (Publication Manual, 7th
 * edition, 2020), for what a journal cites: a book, a tale in a collection, a quotation by page or
 * chapter. They are our own, because no citation processor fits: the one kept up is under the CPAL or the AGPL,
 * whose duties would pass to everybody who hosts this app, and the one under a freer licence does not read the
 * current APA style. Answers of the first are kept and checked against in tests/outside. A journal knows no publisher,
 * edition or translator, so none is named; the year is that of first publication; and titles keep their
 * capitals in APA too, because which words are names cannot be told.
 */
import type { BookHeading, Entry, PersonHeading } from '../journal/records';
import { readDate, sayDate, yearOf } from '../language/dates';
import { compareFiling, filingKey } from '../language/filing';
import { bookTieOf, citeEntry, shortTitle, sourcesOf, type Headings } from './cite';
import { familyFirst, personName, type PersonName } from './person-name';
import { isNumbered } from './place-order';
import { escapeMarkdown } from './safe-text';

export type CiteForm = 'plain' | 'mla' | 'apa';

/** Citations of one printing, which must know of each other: two works by one author are told apart. */
export interface Citing {
  /** What the list of works is called. */
  head: 'Sources' | 'Works Cited' | 'References';
  /** An entry's source where it stands, as CommonMark; undefined when it is tied to no book. */
  here(entry: Entry): string | undefined;
  /** The works of these entries, each once, in the order of the form, as CommonMark. */
  works(entries: readonly Entry[]): string[];
}

/** `all` is every entry that the printing may cite. */
export function citing(form: CiteForm, all: readonly Entry[], headings: Headings): Citing {
  if (form === 'plain')
    return {
      head: 'Sources',
      here: (entry) => citeEntry(entry, headings),
      works: (entries) => sourcesOf(entries, headings),
    };
  const works = new Map<string, Work>();
  for (const entry of all) {
    const work = workOf(entry, headings, form);
    if (work) works.set(work.key, work);
  }
  const known = inOrder([...works.values()]);
  const write = form === 'mla' ? mla(known) : apa(known);
  return {
    head: form === 'mla' ? 'Works Cited' : 'References',
    here(entry) {
      const work = workOf(entry, headings, form);
      return work && `(${write.here(work, placeOf(entry, headings))})`;
    },
    works(entries) {
      const keys = new Set(entries.flatMap((entry) => workOf(entry, headings, form)?.key ?? []));
      return write.list(known.filter(({ key }) => keys.has(key)));
    },
  };
}

/** A work as a list of works has it: a book, or in MLA a tale in one. */
interface Work {
  key: string;
  book: BookHeading;
  authors: PersonName[];
  tale?: string;
  title: string;
  filing: string;
}

/** Where in the work, of what a tie knows. `part` is a tale or a part with a name. */
interface Spot {
  page?: string;
  chapter?: string;
  part?: string;
}

/** Parts of a book that are not tales: "Letter 4", "Stave Two", "Preface". */
const PART =
  /^(?:pt|bk|vol|sec|letter|stave|part|book|act|scene|canto|volume|section|verse|preface|introduction|prologue|epilogue|foreword|afterword|appendix|notes?)\b/i;

function placeOf(entry: Entry, headings: Headings): Spot {
  const place = bookTieOf(entry, headings)?.tie.place;
  const [page, chapter] = [place?.page?.trim(), place?.chapter?.trim()];
  return {
    ...(page ? { page } : {}),
    ...(chapter ? (isNumbered(chapter) ? { chapter } : { part: chapter }) : {}),
  };
}

function workOf(entry: Entry, headings: Headings, form: 'mla' | 'apa'): Work | undefined {
  const book = bookTieOf(entry, headings)?.book;
  if (!book) return undefined;
  const authors = book.authors.flatMap((id) => {
    const person = headings.get(id);
    return person?.kind === 'person' ? [personName(person as PersonHeading)] : [];
  });
  const { part } = placeOf(entry, headings);
  // APA lists a collection by one author as a whole; MLA lists the tale.
  const tale = form === 'mla' && part && !PART.test(part) ? part : undefined;
  const title = tale ?? book.name.trim();
  const language = book.language ? { language: book.language } : {};
  const filing = [
    ...authors.map((name) => filingKey(familyFirst(name), { kind: 'name' })),
    // Of the same authors APA lists the earlier work first, and what has no year before those.
    ...(form === 'apa' && authors.length > 0 ? [yearKey(book.published)] : []),
    filingKey(title, language),
  ].join('\u0000');
  return {
    key: `${book.id} ${tale ?? ''}`,
    book,
    authors,
    ...(tale ? { tale } : {}),
    title,
    filing,
  };
}

/** Years in the order of time as texts; before all of them where there is none. */
function yearKey(published: string | undefined): string {
  const read = published === undefined ? undefined : readDate(published);
  const year = read?.ok ? yearOfDay(read.date.earliest ?? read.date.latest) : undefined;
  return year === undefined ? '\u0001' : `\u0001${String(year + 100_000).padStart(7, '0')}`;
}

const yearOfDay = (day: string | undefined): number | undefined => {
  const found = /^(-?\d+)-/.exec(day ?? '')?.[1];
  return found === undefined ? undefined : Number(found);
};

const inOrder = (works: readonly Work[]): Work[] =>
  [...works].sort((a, b) => compareFiling(a.filing, b.filing) || compareFiling(a.key, b.key));

interface Writer {
  here(work: Work, spot: Spot): string;
  list(works: readonly Work[]): string[];
}

const md = escapeMarkdown;
const italic = (title: string): string => `*${md(title)}*`;
const inMarks = (title: string): string => `“${md(title)}”`;
/** A full stop, where the text does not end in a stop of its own. */
const stopped = (text: string): string => (/[.?!…][*”]*$/.test(text) ? text : `${text}.`);

const familyOf = (name: PersonName): string => ('literal' in name ? name.literal : name.family);
const sameAuthors = (a: Work, b: Work): boolean =>
  a.authors.map(familyFirst).join('\n') === b.authors.map(familyFirst).join('\n');

/** Family names that more than one first author has; those are cited with initials. */
function shared(works: readonly Work[]): ReadonlySet<string> {
  const full = new Map<string, Set<string>>();
  for (const { authors } of works) {
    const first = authors[0];
    if (!first || 'literal' in first) continue;
    full.set(first.family, (full.get(first.family) ?? new Set()).add(familyFirst(first)));
  }
  return new Set([...full].flatMap(([family, names]) => (names.size > 1 ? [family] : [])));
}

/** "Ursula K." as "U. K.", "Jean-Jacques" as "J.-J.". */
function initials(given: string): string {
  return given
    .split(/\s+/)
    .flatMap((word) => (/^\p{L}\.(?:\p{L}\.)+$/u.test(word) ? word.match(/\p{L}\./gu)! : [word]))
    .map((word) =>
      word
        .split('-')
        .map((part) => (/^\p{Ll}/u.test(part) ? part : `${[...part][0] ?? ''}.`))
        .join('-'),
    )
    .join(' ');
}

function authorsHere(work: Work, alike: ReadonlySet<string>, and: string): string {
  const [first, second, third] = work.authors;
  if (!first) return '';
  const lead =
    !('literal' in first) && alike.has(first.family)
      ? `${initials(first.given)} ${first.family}`
      : familyOf(first);
  if (third) return md(`${lead} et al.`);
  return md(second ? `${lead} ${and} ${familyOf(second)}` : lead);
}

function mla(known: readonly Work[]): Writer {
  const alike = shared(known);
  const titled = (work: Work): string => (work.tale ? inMarks(work.tale) : italic(work.title));
  const shortly = (work: Work): string =>
    work.tale ? inMarks(work.tale) : italic(shortTitle(work.title));
  return {
    here(work, { page, chapter, part }) {
      const authors = authorsHere(work, alike, 'and');
      const others = known.some(
        (other) => other !== work && other.key !== work.key && sameAuthors(other, work),
      );
      const name = authors && others ? `${authors}, ${shortly(work)}` : authors || shortly(work);
      const within = [
        chapter ? `ch.\u00A0${md(chapter)}` : '',
        part && !work.tale ? md(part.charAt(0).toLowerCase() + part.slice(1)) : '',
      ].filter(Boolean);
      if (page) return `${name} ${[md(shortRange(page)), ...within].join('; ')}`;
      return [name, ...within].join(', ');
    },
    list: (works) =>
      works.map((work, at) => {
        const before = works[at - 1];
        const again = before && work.authors.length > 0 && sameAuthors(before, work);
        const authors = again ? '———' : mlaAuthors(work.authors);
        const dated = yearsSaid(work.book.published, 'mla');
        const place = work.tale
          ? `${italic(work.book.name.trim())}${dated ? `, ${md(dated)}` : ''}`
          : md(dated);
        const title = work.tale
          ? `“${md(work.tale)}${/[.?!…]$/.test(work.tale) ? '' : '.'}”`
          : stopped(titled(work));
        return [authors && stopped(authors), title, place && stopped(place)]
          .filter(Boolean)
          .join(' ');
      }),
  };
}

function mlaAuthors(authors: readonly PersonName[]): string {
  const [first, second, third] = authors;
  if (!first) return '';
  if (third) return md(`${familyFirst(first)}, et al`);
  return md(second ? `${familyFirst(first)}, and ${givenFirst(second)}` : familyFirst(first));
}

const givenFirst = (name: PersonName): string =>
  'literal' in name
    ? name.literal
    : `${name.given} ${name.family}${name.suffix ? `, ${name.suffix}` : ''}`;

function apa(known: readonly Work[]): Writer {
  const alike = shared(known);
  const years = (work: Work): string => yearsSaid(work.book.published, 'apa') || 'n.d.';
  /** Works of the same authors and year are told apart by letters, in the order of their titles. */
  const dated = (work: Work): string => {
    const same = known.filter((one) => sameAuthors(one, work) && years(one) === years(work));
    if (same.length < 2 || work.authors.length === 0) return years(work);
    const at = same.findIndex(({ key }) => key === work.key);
    const letter = String.fromCharCode(97 + Math.min(at, 25));
    return years(work) === 'n.d.' ? `n.d.-${letter}` : `${years(work)}${letter}`;
  };
  return {
    here(work, { page, chapter, part }) {
      const authors = authorsHere(work, alike, '&') || italic(shortTitle(work.title));
      const pages = page?.replace(/\s*-\s*/g, '–');
      return [
        authors,
        md(dated(work)),
        ...(chapter ? [`Chapter\u00A0${md(chapter)}`] : []),
        ...(part ? [PART.test(part) ? md(part) : inMarks(part)] : []),
        ...(pages ? [`${/\d[^\d]+\d/.test(pages) ? 'pp.' : 'p.'}\u00A0${md(pages)}`] : []),
      ].join(', ');
    },
    list: (works) =>
      works.map((work) => {
        const title = italic(work.title);
        const year = `(${md(dated(work))}).`;
        if (work.authors.length === 0) return `${stopped(title)} ${year}`;
        return `${stopped(apaAuthors(work.authors))} ${year} ${stopped(title)}`;
      }),
  };
}

/** Up to twenty authors are named; of more, the first nineteen and the last. */
function apaAuthors(authors: readonly PersonName[]): string {
  const names = authors.map((name) =>
    'literal' in name
      ? name.literal
      : `${name.family}, ${initials(name.given)}${name.suffix ? `, ${name.suffix}` : ''}`,
  );
  if (names.length === 1) return md(names[0]!);
  if (names.length > 20) return md(`${names.slice(0, 19).join(', ')}, . . . ${names.at(-1)}`);
  return md(`${names.slice(0, -1).join(', ')}, & ${names.at(-1)}`);
}

/** Pages of a stretch as MLA has them: past 99 of the second only its last two figures, unless more are needed: "112–15". */
const shortRange = (page: string): string =>
  page
    .replace(/\s*-\s*/g, '–')
    .replace(/\b(\d+)(\d\d)–\1(\d\d)\b/g, (_, same: string, from: string, to: string) => {
      return `${same}${from}–${to}`;
    });

/** "1818", "1868–69" (MLA) or "1868–1869" (APA), "circa" or "ca. 1984"; other dates in words; empty where none is known. */
function yearsSaid(edtf: string | undefined, form: 'mla' | 'apa'): string {
  const read = edtf === undefined ? undefined : readDate(edtf);
  if (!edtf || !read?.ok) return '';
  const { earliest, latest, approximate, uncertain } = read.date;
  const about = approximate || uncertain ? (form === 'mla' ? 'circa ' : 'ca. ') : '';
  const year = yearOf(edtf);
  if (year !== undefined) return about + (year > 0 ? year : `${1 - year} BCE`);
  const ends = [earliest, latest].map((day) => /^(\d{4})-/.exec(day ?? '')?.[1]);
  const [from, to] = ends;
  if (!from || !to || edtf.includes('X') || edtf.includes('S')) return sayDate(edtf);
  const short = form === 'mla' && from.slice(0, 2) === to.slice(0, 2) && from.slice(2) !== '00';
  return `${about}${from}–${short ? to.slice(2) : to}`;
}
