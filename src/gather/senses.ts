/** What a heading, a title line or a file name says of what stands under it. */
import type { EntryKind, HeadingId, Place } from '../journal/records';
import type { Certainty } from '../language/certainty';
import { nameKey } from '../language/filing';
import { chapterOfHeading, placesIn } from './book-places';
import { sectionOf } from './kinds';
import type { KnownNames } from './known-names';
import { mentionsIn } from './mentions';
import type { PieceTie } from './piece';
import { bookOfHeading, looksLikeTitle } from './proposed';
import { datesIn } from './readers/tools/dates-found';

export interface Sense {
  /** The kind of the pieces under it. */
  section?: EntryKind;
  /** EDTF. */
  written?: string;
  place?: Place;
  /** Ties of every piece under it. */
  ties: PieceTie[];
  /** A title nobody knows yet, which may be a book if what stands under it looks like it. */
  maybeBook?: string;
  /** The whole heading has been understood: it need not be kept as the title of a piece. */
  whole: boolean;
}

/** Dates before this are when something happened or was printed, not when a reader wrote. */
const EARLIEST_YEAR = 1950;
const THEME_LABEL = /^(?:on|about|themes?|topics?|subjects?)[:\s–—-]+\s*(?<theme>\p{L}.{1,60})$/iu;

/** How much a name in a heading is worth: under a heading of the file it governs; in the name of the file it governs less surely. */
type SenseOf = 'heading' | 'line' | 'file-name';

export class Senses {
  readonly #known = new Map<string, Sense>();

  constructor(readonly names: KnownNames) {}

  of(text: string, as: SenseOf = 'heading'): Sense {
    const key = `${as} ${text}`;
    let sense = this.#known.get(key);
    if (!sense) this.#known.set(key, (sense = readSense(text, this.names, as)));
    return sense;
  }
}

/** Longer headings are running text. */
const LONGEST_HEADING = 300;

function readSense(text: string, names: KnownNames, as: SenseOf): Sense {
  const sense: Sense = { ties: [], whole: false };
  if (text.length > LONGEST_HEADING) return sense;
  let rest = text.replace(/[*_]/gu, '').trim();
  const section = sectionOf(rest);
  const date = datesIn(rest).find(
    ({ edtf, exact }) => exact !== 'year' && Number(edtf.slice(0, 4)) >= EARLIEST_YEAR,
  );
  if (date) {
    sense.written = date.edtf;
    rest = `${rest.slice(0, date.from)} ${rest.slice(date.to)}`.replace(
      /^[\s,:–—-]+|[\s,:–—-]+$/gu,
      '',
    );
    if (/^(?:(?:mon|tues|wednes|thurs|fri|satur|sun)day)?$/iu.test(rest))
      return { ...sense, whole: true };
  }
  const place = chapterOfHeading(rest);
  if (place) sense.place = place;
  if (section) sense.section = section;
  const named = bookNamed(rest, names);
  if (named) readNamed(named, sense, names);
  else readNames(rest, sense, names, as);
  if (!section) {
    const about = /^(?<kind>\p{L}+(?: \p{L}+)?)(?: (?:for|on|from|about)\b|:| [–—-] )/u.exec(rest)
      ?.groups?.['kind'];
    const tail =
      /[:–—-]\s*(?<kind>\p{L}+(?: \p{L}+)?)$|\s(?<last>questions|quotes|quotations|notes|lessons|homework)$/iu.exec(
        rest,
      )?.groups;
    const other = sectionOf(about ?? '') ?? sectionOf(tail?.['kind'] ?? tail?.['last'] ?? '');
    if (other) sense.section = other;
  }
  // Any notebook may be called "notes"; questions and quotations in it are still what they are.
  if (as === 'file-name' && sense.section === 'note') delete sense.section;
  sense.whole = isWhole(rest, sense, named !== undefined, section !== undefined);
  if (
    !sense.whole &&
    sense.ties.length === 0 &&
    !sense.section &&
    !sense.place &&
    as !== 'file-name'
  ) {
    if (looksLikeTitle(rest) && rest.split(/\s+/u).length <= 10) sense.maybeBook = rest;
  }
  return sense;
}

/** A book and who wrote it; not "A slate (Anne of Green Gables)", where what looks like a name is a book. */
function bookNamed(text: string, names: KnownNames): ReturnType<typeof bookOfHeading> {
  const named = bookOfHeading(text);
  const isBook = named?.authors.some((name) => {
    const book = names.called('book', name);
    return book && !book.slip && !names.called('person', name);
  });
  return isBook ? undefined : named;
}

/** Words of every notebook, which mean a theme only where it is called just so. */
const OF_EVERY_NOTEBOOK =
  /^(?:re-?)?(?:read|reading|readings|books?|notes?|notebook|journal|diary|letters?|lists?|writing|learning|words|home|school|work)$/iu;

function readNamed(
  named: NonNullable<ReturnType<typeof bookOfHeading>>,
  sense: Sense,
  names: KnownNames,
): void {
  const author = named.authors.map((name) => names.called('person', name)?.heading.name ?? name);
  const sure = author.some((name) => names.called('person', name));
  // "Heidi, Clara Sesemann" may be about somebody in the book; "by" tells who wrote it.
  const told = named.certainty === 'sure' || author.some((name) => isAuthor(names, name));
  const known = names.book(named.title, told ? author : []);
  if (known) {
    sense.ties.push(
      knownTie(known.heading.id, known.heading.name, 'book', known.slip ? 'likely' : 'sure'),
    );
    return;
  }
  sense.ties.push({
    name: named.title,
    kind: 'book',
    role: 'about',
    certainty: sure ? 'sure' : named.certainty,
    isNew: true,
    authors: author,
    ...(told ? { told } : {}),
  });
}

function isAuthor(names: KnownNames, name: string): boolean {
  const person = names.called('person', name)?.heading;
  return person?.kind === 'person' && person.roles.includes('author');
}

function readNames(rest: string, sense: Sense, names: KnownNames, as: SenseOf): void {
  const label = THEME_LABEL.exec(rest)?.groups?.['theme'];
  if (label) {
    const known = names.called('theme', label);
    if (known) {
      sense.ties.push(
        knownTie(known.heading.id, known.heading.name, 'theme', known.slip ? 'likely' : 'sure'),
      );
      return;
    }
    if (/^(?:themes?|topics?|subjects?)/iu.test(rest)) {
      sense.ties.push({
        name: capital(label),
        kind: 'theme',
        role: 'about',
        certainty: 'likely',
        isNew: true,
      });
      return;
    }
  }
  for (const kind of ['book', 'theme', 'person'] as const) {
    const known = names.called(kind, rest);
    if (!known) continue;
    const loose = kind === 'theme' && nameKey(known.heading.name, kind) !== nameKey(rest, kind);
    if (loose && OF_EVERY_NOTEBOOK.test(rest)) continue;
    const sure = !known.slip && as !== 'file-name';
    sense.ties.push(knownTie(known.heading.id, known.heading.name, kind, sure ? 'sure' : 'likely'));
    return;
  }
  const alone = as !== 'file-name' && rest.length < 70;
  for (const { heading, certainty } of mentionsIn(rest, names, { alone })) {
    // "For going home" over a carol is not about home: a word of a heading is less than the heading.
    const theme = heading.kind === 'theme';
    if (theme && (as === 'file-name' || rest.split(/\s+/u).length > 3)) continue;
    if (theme && OF_EVERY_NOTEBOOK.test(rest)) continue;
    const kept: Certainty = theme
      ? 'guess'
      : as === 'heading' && certainty === 'sure'
        ? 'sure'
        : certainty === 'guess'
          ? 'guess'
          : 'likely';
    if (!sense.ties.some((tie) => tie.heading === heading.id)) {
      sense.ties.push(knownTie(heading.id, heading.name, heading.kind, kept));
    }
  }
}

const knownTie = (
  heading: HeadingId,
  name: string,
  kind: PieceTie['kind'],
  certainty: Certainty,
): PieceTie => ({ heading, name, kind, role: 'about', certainty, isNew: false });

/** Whether nothing is lost when a heading is not kept beside the pieces under it. */
function isWhole(rest: string, sense: Sense, named: boolean, section: boolean): boolean {
  if (rest === '' || named) return true;
  if (section && (sense.ties.length > 0 || rest.split(/\s+/u).length <= 3)) return true;
  const [place] = placesIn(rest);
  if (place && place.from === 0 && place.to >= rest.length - 1) return true;
  const [tie] = sense.ties;
  if (!tie) return false;
  const left = rest.length - tie.name.length;
  return left < 4 || (sense.section !== undefined && left < 24);
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);
