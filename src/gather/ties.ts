/** The ties of a piece: what it stands under, what its table row names, whom it quotes, what it mentions, and what it proposes anew. */
import type { EntryKind, Heading, HeadingId, HeadingKind, TieRole } from '../journal/records';
import { CERTAINTIES, type Certainty } from '../language/certainty';
import { nameKey } from '../language/filing';
import { signedQuotation } from '../language/quotation-marks';
import type { BookFound } from './block';
import { placesIn } from './book-places';
import type { KnownNames } from './known-names';
import { mentionsIn } from './mentions';
import type { PieceTie } from './piece';
import type { RawPiece } from './raw-piece';
import { booksNamed, readSignature, titlesInItalics } from './proposed';
import { plainOf } from './plain';
import { authorsIn } from './readers/tools/book-rows';
import { mayBeBy } from './same-book';

/** Ties of the same heading become one, with the surer word and the exacter place. */
export class TieList {
  readonly #ties = new Map<string, PieceTie>();

  add(tie: PieceTie): void {
    const key = `${tie.kind} ${tie.heading ?? nameKey(tie.name, tie.kind)}`;
    const held = this.#ties.get(key);
    if (!held) {
      this.#ties.set(key, { ...tie });
      return;
    }
    if (CERTAINTIES.indexOf(tie.certainty) > CERTAINTIES.indexOf(held.certainty))
      held.certainty = tie.certainty;
    if (tie.role !== 'about' && held.role === 'about') held.role = tie.role;
    if (tie.place) held.place = { ...held.place, ...tie.place };
    if (tie.authors && !held.authors) held.authors = tie.authors;
    if (!tie.rule) delete held.rule;
  }

  of(kind: HeadingKind): PieceTie[] {
    return this.all().filter((tie) => tie.kind === kind);
  }

  all(): PieceTie[] {
    return [...this.#ties.values()];
  }
}

const RULE_OF_TITLE = 'title';

/** The ties of a piece of this kind, books first. */
export function tiesOf(
  raw: RawPiece,
  kind: EntryKind,
  names: KnownNames,
  path: string,
): PieceTie[] {
  const ties = new TieList();
  const quoted = kind === 'quote';
  for (const tie of raw.governed.ties) {
    const fromTitle = raw.governed.fromTitle.includes(tie);
    ties.add({
      ...tie,
      role: roleIn(tie.kind, quoted),
      ...(fromTitle ? { rule: `${RULE_OF_TITLE}:${path}` } : {}),
    });
  }
  const named = raw.named ?? [];
  const authors = named.flatMap(({ role, text }) => (role === 'author' ? authorsIn(text) : []));
  for (const each of named) addNamed(ties, each, authors, quoted, names);
  addSigned(ties, raw, quoted, names);
  const governing = ties.of('book').flatMap(({ heading }) => heading ?? []);
  addMentions(ties, raw, governing, names);
  addProposed(ties, raw, names);
  settleBooks(ties, raw, quoted);
  const order: HeadingKind[] = ['book', 'person', 'theme'];
  return ties.all().sort((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind));
}

function roleIn(kind: HeadingKind, quoted: boolean): TieRole {
  return quoted && kind === 'book' ? 'from' : 'about';
}

function tieTo(heading: Heading, role: TieRole, certainty: Certainty): PieceTie {
  return {
    heading: heading.id,
    name: heading.name,
    kind: heading.kind,
    role,
    certainty,
    isNew: false,
  };
}

/** A tie to the heading called so, or to one still to be made. */
export function tieCalled(
  names: KnownNames,
  kind: HeadingKind,
  name: string,
  role: TieRole,
  certainty: Certainty,
): PieceTie {
  const known = names.called(kind, name);
  if (known)
    return tieTo(known.heading, role, known.slip && certainty === 'sure' ? 'likely' : certainty);
  return { name, kind, role, certainty, isNew: true };
}

type BookTold = Pick<BookFound, 'title' | 'authors'>;

/** The tie of a book as far as it is told who wrote it: a heading of its name that somebody else wrote is another book. */
export function tieByAuthors(
  names: KnownNames,
  { title: name, authors }: BookTold,
  role: TieRole,
  certainty: Certainty,
  listed = false,
): PieceTie {
  const known = names.book(name, authors, listed);
  if (known)
    return tieTo(known.heading, role, known.slip && certainty === 'sure' ? 'likely' : certainty);
  const tie: PieceTie = { name, kind: 'book', role, certainty, isNew: true };
  if (authors.length > 0) tie.authors = [...authors];
  if (authors.some((author) => listed || names.mayWrite(author))) tie.told = true;
  return tie;
}

/** The tie of a book that a file lists. */
export function tieOfBook(names: KnownNames, { title, authors }: BookTold): PieceTie {
  const tie = names.settled(tieByAuthors(names, { title, authors }, 'about', 'sure', true));
  return tie.isNew && authors.length > 0 ? { ...tie, authors } : tie;
}

function addNamed(
  ties: TieList,
  { role, text, place }: NonNullable<RawPiece['named']>[number],
  authors: readonly string[],
  quoted: boolean,
  names: KnownNames,
): void {
  if (role === 'theme') {
    ties.add(tieCalled(names, 'theme', text, 'about', 'sure'));
    return;
  }
  if (role === 'title') {
    const book = { title: text, authors: [...authors] };
    const tie = tieByAuthors(names, book, roleIn('book', quoted), 'sure');
    ties.add(place ? { ...tie, place } : tie);
    return;
  }
  const people = authorsIn(text).map((name) =>
    tieCalled(names, 'person', name, quoted ? 'by' : 'about', 'sure'),
  );
  const [book] = ties.of('book');
  if (book?.isNew) ties.add({ ...book, authors: people.map(({ name }) => name) });
  if (quoted || !book) for (const person of people) ties.add({ ...person, author: true });
}

/** What stands after a quotation: who said it, in which book, where. */
function addSigned(ties: TieList, raw: RawPiece, quoted: boolean, names: KnownNames): void {
  if (!quoted) return;
  const { signed } = signedQuotation(plainOf(raw.text));
  if (!signed) return;
  const read = readSignature(signed, (part) =>
    names.called('book', part) ? 'book' : names.called('person', part) ? 'person' : undefined,
  );
  // Under a book one word is who says it there: "Rat, ch. 1".
  const said = read.title && !/\s/u.test(read.title) && !names.called('book', read.title);
  if (said && !read.name && ties.of('book').length > 0) {
    read.name = read.title;
    delete read.title;
  }
  if (read.title) {
    const certainty = read.name || read.place ? 'sure' : 'likely';
    const tie = tieCalled(names, 'book', read.title, 'from', certainty);
    if (tie.isNew && read.name) tie.authors = [read.name];
    ties.add(read.place ? { ...tie, place: read.place } : tie);
  }
  if (read.name) {
    const certainty = names.called('person', read.name)
      ? 'sure'
      : /\s/u.test(read.name)
        ? 'likely'
        : 'guess';
    const known = mentionsIn(read.name, names, { alone: true }).find(
      ({ heading }) => heading.kind === 'person',
    );
    const tie =
      known && !names.called('person', read.name)
        ? tieTo(known.heading, 'by', 'likely')
        : tieCalled(names, 'person', read.name, 'by', certainty);
    ties.add(tie.isNew ? { ...tie, author: true } : tie);
  }
  if (read.place && !read.title) {
    const [book] = ties.of('book');
    if (book) ties.add({ ...book, place: read.place });
  }
}

function addMentions(
  ties: TieList,
  raw: RawPiece,
  governing: readonly HeadingId[],
  names: KnownNames,
): void {
  const italics = raw.italics ?? [];
  const context = { books: new Set(governing), italics };
  let mentions = mentionsIn(raw.text, names, context);
  // Books named in the piece vouch for their people as the book over it does.
  const named = mentions.filter(
    ({ heading, certainty }) => heading.kind === 'book' && certainty !== 'guess',
  );
  if (named.some(({ heading }) => !context.books.has(heading.id))) {
    for (const { heading } of named) context.books.add(heading.id);
    mentions = mentionsIn(raw.text, names, context);
  }
  // "Heidi by Johanna Spyri" is about the book; she is named for having written it.
  const spans = booksNamed(raw.text);
  for (const { heading, certainty, place, from, to } of mentions) {
    const author = heading.kind === 'person' && heading.roles.includes('author');
    const span = spans.find((each) => each.from <= from && to <= each.to);
    if (span && author) continue;
    if (span && heading.kind === 'book' && !mayBeBy(heading, span.authors, names.headingOf))
      continue;
    const tie = tieTo(heading, 'about', certainty);
    ties.add(place ? { ...tie, place } : tie);
  }
}

function addProposed(ties: TieList, raw: RawPiece, names: KnownNames): void {
  const named = booksNamed(raw.text);
  const italic = titlesInItalics(raw.text, raw.italics ?? []).filter(
    ({ from, to }) => !named.some((other) => from < other.to && other.from < to),
  );
  for (const { title, authors, certainty, place } of [...named, ...italic]) {
    const known = names.called('book', title);
    if (!known && names.called('person', title)) continue;
    const by = authors.map((author) => names.called('person', author)?.heading.name ?? author);
    const tie = tieByAuthors(names, { title, authors: by }, 'about', certainty);
    ties.add(place ? { ...tie, place } : tie);
  }
}

/** The page or chapter in the words, or over them, belongs to the one book the piece is tied to. */
function settleBooks(ties: TieList, raw: RawPiece, quoted: boolean): void {
  const books = ties.of('book').filter(({ certainty }) => certainty !== 'guess');
  const [book] = books;
  if (!book) return;
  const governs = raw.governed.ties.some(({ kind, name }) => kind === 'book' && name === book.name);
  const over = governs ? raw.governed.place : undefined;
  const own = books.length === 1 ? placesIn(raw.text)[0]?.place : undefined;
  const place = { ...over, ...own, ...book.place };
  if (Object.keys(place).length > 0) ties.add({ ...book, place });
  if (quoted && book.role === 'about' && books.length === 1) ties.add({ ...book, role: 'from' });
}
