/**
 * MLA and APA citations by a CSL processor, for what a journal cites: a book, a tale in a collection, a quotation by
 * page or chapter. The styles are the published ones but for the order of a list, which is that of our filing: they
 * file titles by their article, where both manuals pass it over. A journal knows no publisher, edition or translator,
 * so none is named; the year is that of first publication.
 */
import CSL, { type Engine } from 'citeproc';
import type { BookHeading, Entry, PersonHeading } from '../journal/records';
import { readDate, sayDate } from '../language/dates';
import { compareFiling, filingKey } from '../language/filing';
import { pageSaid } from '../language/page-said';
import { bookTieOf, type Citer, type Citing, type Headings } from './cite';
import { itemOf, type CslDate } from './csl-json';
import { familyFirst, personName } from './person-name';
import { isNumbered } from '../journal/place-order';
import { escapeMarkdown } from './safe-text';

type Form = 'mla' | 'apa';

/** An element of a style as the processor takes it. */
interface Element {
  name: string;
  children: (Element | string)[];
}

CSL.Output.Formats['commonmark'] = {
  ...CSL.Output.Formats['text'],
  '@font-style/italic': '*%%STRING%%*',
};

/** A style takes a second to read on a slow machine, so each is read once. */
const citers = new Map<Form, Citer>();

export async function processed(form: Form): Promise<Citer> {
  const citer = citers.get(form) ?? (await made(form));
  citers.set(form, citer);
  return citer;
}

async function made(form: Form): Promise<Citer> {
  const [style, { default: terms }] = await Promise.all([
    form === 'mla' ? import('citation-style:mla') : import('citation-style:apa'),
    import('citation-style:terms'),
  ]);
  const items = new Map<string, object>();
  const sys = {
    retrieveLocale: () => structuredClone(terms),
    retrieveItem: (id: string) => structuredClone(items.get(id) ?? {}),
  };
  const engine = new CSL.Engine(sys, inOurOrder(style.default as Element), 'en-US');
  engine.setOutputFormat('commonmark');
  let printing = 0;
  return (all, headings) => {
    printing += 1;
    return citing(form, engine, items, `${printing} `, all, headings);
  };
}

/** The style without its own order of the list, so that works stand as they are given. */
function inOurOrder(style: Element): Element {
  const children = style.children.map((one) =>
    typeof one !== 'string' && one.name === 'bibliography'
      ? { ...one, children: one.children.filter((part) => (part as Element).name !== 'sort') }
      : one,
  );
  return structuredClone({ ...style, children });
}

/** `printing` sets the works of this printing apart from those the engine had before. */
function citing(
  form: Form,
  engine: Engine,
  items: Map<string, object>,
  printing: string,
  all: readonly Entry[],
  headings: Headings,
): Citing {
  const works = new Map<string, Work>();
  for (const entry of all) {
    const work = workOf(entry, headings, form);
    if (work) works.set(printing + work.key, work);
  }
  const order = [...works].sort(
    ([a, one], [b, other]) => compareFiling(one.filing, other.filing) || compareFiling(a, b),
  );
  items.clear();
  for (const [id, work] of order) items.set(id, { ...itemFor(work, headings, form), id });
  engine.updateItems([...items.keys()]);
  const said = new Map(
    all.map((entry) => [entry.id, citeHere(form, engine, printing, entry, headings)]),
  );
  return {
    head: form === 'mla' ? 'Works Cited' : 'References',
    here: (entry) => said.get(entry.id),
    works(entries) {
      const include = entries.flatMap((entry) => {
        const work = workOf(entry, headings, form);
        return work ? { field: 'id', value: printing + work.key } : [];
      });
      if (include.length === 0) return [];
      const list = engine.makeBibliography({ include });
      return list ? list[1].map((one) => set(one.trim().replace(/^---/, '———'))) : [];
    },
  };
}

/** Figures stay on the line of what they count. */
const set = (text: string): string => text.replace(/\b(pp?\.|ch\.|Chapter) (?=\d)/g, '$1\u00A0');

function citeHere(
  form: Form,
  engine: Engine,
  printing: string,
  entry: Entry,
  headings: Headings,
): string | undefined {
  const work = workOf(entry, headings, form);
  if (!work) return undefined;
  const spot = placeOf(entry, headings);
  const at = form === 'mla' ? mlaPlace(spot, work.tale) : apaPlace(spot);
  return set(engine.makeCitationCluster([{ id: printing + work.key, ...at }]));
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
  const page = place?.page?.trim().replace(/\s*[–-]\s*/g, '-');
  const chapter = place?.chapter?.trim();
  return {
    ...(page ? { page: escapeMarkdown(page) } : {}),
    ...(chapter ? { [isNumbered(chapter) ? 'chapter' : 'part']: escapeMarkdown(chapter) } : {}),
  };
}

/** A style has one place; what else is known of it follows as the manual has it. */
interface Place {
  locator?: string;
  label?: 'page' | 'chapter';
  suffix?: string;
}

function mlaPlace({ page, chapter, part }: Spot, tale: string | undefined): Place {
  const named = part && !tale ? part.charAt(0).toLowerCase() + part.slice(1) : undefined;
  const within = chapter ? `ch. ${chapter}` : named;
  if (!page) return within ? { suffix: `, ${within}` } : {};
  return { locator: page, label: 'page', ...(within ? { suffix: `; ${within}` } : {}) };
}

function apaPlace({ page, chapter, part }: Spot): Place {
  if (page && !chapter && !part) return { locator: page, label: 'page' };
  const pages = page && pageSaid(page);
  const after = [part && (PART.test(part) ? part : `“${part}”`), pages].filter(Boolean);
  return {
    ...(chapter ? { locator: chapter, label: 'chapter' } : {}),
    ...(after.length > 0 ? { suffix: `, ${after.join(', ')}` } : {}),
  };
}

/** A work as a list of works has it: a book, or in MLA a tale in one. APA lists a collection by one author as a whole. */
interface Work {
  key: string;
  book: BookHeading;
  tale?: string;
  filing: string;
}

function workOf(entry: Entry, headings: Headings, form: Form): Work | undefined {
  const found = bookTieOf(entry, headings);
  if (!found) return undefined;
  const { book } = found;
  const chapter = found.tie.place?.chapter?.trim();
  const isTale = form === 'mla' && chapter && !isNumbered(chapter) && !PART.test(chapter);
  const authors = book.authors.flatMap((id) => {
    const person = headings.get(id);
    return person?.kind === 'person' ? [personName(person as PersonHeading)] : [];
  });
  const language = book.language ? { language: book.language } : {};
  const filing = [
    ...authors.map((name) => filingKey(familyFirst(name), { kind: 'name' })),
    // Of the same authors APA lists the earlier work first, and what has no year before those.
    ...(form === 'apa' && authors.length > 0 ? [yearKey(book.published)] : []),
    filingKey(isTale ? chapter : book.name.trim(), language),
  ].join('\u0000');
  return {
    key: `${book.id} ${isTale ? chapter : ''}`,
    book,
    ...(isTale ? { tale: chapter } : {}),
    filing,
  };
}

/** Years in the order of time as texts; before all of them where there is none. */
function yearKey(published: string | undefined): string {
  const read = published === undefined ? undefined : readDate(published);
  const day = read?.ok ? (read.date.earliest ?? read.date.latest) : undefined;
  const year = /^(-?\d+)-/.exec(day ?? '')?.[1];
  return year === undefined ? '\u0001' : `\u0001${String(Number(year) + 100_000).padStart(7, '0')}`;
}

/** The work as the processor takes it, its texts as CommonMark. */
function itemFor({ book, tale }: Work, headings: Headings, form: Form): object {
  const whole = itemOf(book, { headings });
  const issued = whole.issued && dateFor(whole.issued, form);
  const item = { ...whole, ...(issued ? { issued } : {}) };
  if (!tale) return escaped(item) as object;
  const { 'title-short': _, ...rest } = item;
  return escaped({
    ...rest,
    type: 'chapter',
    title: tale,
    'container-title': item.title,
  }) as object;
}

/** In MLA a span is shortened ("1868–69"), "circa" said and "BCE" set apart: the Handbook does so, its published style does not. */
function dateFor(issued: CslDate, form: Form): CslDate {
  if (issued.literal) return { literal: sayDate(issued.literal) };
  const [from, to] = (issued['date-parts'] ?? []).flatMap(([year]) => year ?? []);
  const plain = form === 'apa' || !from || (from > 0 && to === undefined && !issued.circa);
  if (plain) return issued;
  const about = issued.circa ? 'circa ' : '';
  const [first, last] = [from, to].map((year) =>
    year === undefined ? '' : String(Math.abs(year)),
  );
  const century = from >= 1000 && from % 100 !== 0 && first?.slice(0, -2) === last?.slice(0, -2);
  const rest = last && `–${century ? last.slice(-2) : last}`;
  return { literal: `${about}${first}${rest}${from < 0 ? ' BCE' : ''}` };
}

function escaped(value: unknown): unknown {
  if (typeof value === 'string') return escapeMarkdown(value);
  if (Array.isArray(value)) return value.map(escaped);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, escaped(one)]));
}
