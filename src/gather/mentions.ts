/**
 * Mentions of known headings in a text: every title, alternate, author, character and theme in one pass, longest first, each with how
 * sure it is that the heading is meant.
 */
import type { Heading, HeadingId, Place } from '../journal/records';
import type { Certainty } from '../language/certainty';
import { longestFirst, type Found } from './automaton';
import { placesIn, type PlaceFound } from './book-places';
import { nameWords, type KnownNames, type NameUse, type NameWord } from './known-names';

interface Mention {
  heading: Heading;
  certainty: Certainty;
  /** Offsets into the text, `to` exclusive. */
  from: number;
  to: number;
  place?: Place;
}

export interface MentionContext {
  /** Books the text stands under; who belongs to them is likelier meant. */
  books?: ReadonlySet<HeadingId>;
  /** Offsets of what is set in italics. */
  italics?: readonly (readonly [number, number])[];
  /** A heading, a cell for names or a signature: a name in it needs no other sign. */
  alone?: boolean;
}

/** What the surroundings of a name say. */
interface Signs {
  /** Set off as a title: in italics, or in quotation marks that hold nothing else. */
  setOff: boolean;
  /** Followed by who wrote it, or by a page or chapter. */
  sourced: boolean;
  /** After a word that titles follow: "reading", "in", "from". */
  led: boolean;
  /** Every word but the small ones begins with a capital. */
  capital: boolean;
  /** Opens a sentence, where any word has a capital. */
  opens: boolean;
}

const SMALL = /^(?:a|an|and|as|at|by|for|from|in|into|of|on|or|the|to|with|de|la|von)$/u;
const LED =
  /(?:^|[\s(“‘"'])(?:in|from|of|re-?read|reading|rereading|finished|began|begun|started|starting|opened|novel|book|story|play|called|entitled|title|see|cf\.?|like|with|after|before|end of)\s+[*_“‘"']?$/iu;
const AUTHOR_NEXT = /^[*_”’"']*(?:,? by |\s\(|,\s)\p{Lu}[\p{L}.’'-]+/u;
const BY_NEXT = /^[*_”’"']*,? by \p{Lu}/u;
const SENTENCE_START = /(?:^|[.!?…:]["”’')]?\s+|\n\s*|^\s*[-•*>“‘"'(]+\s*)[“‘"'(*_]*$/u;

/** Letters before a name that may tell whether it opens a sentence. */
const LOOKED_BACK = 60;

/** Every mention in a text (CommonMark or plain), in order. A heading may be mentioned more than once. */
export function mentionsIn(
  text: string,
  names: KnownNames,
  context: MentionContext = {},
): Mention[] {
  const words = nameWords(text);
  const found = longestFirst(names.automaton.find(words.map(({ word }) => word)));
  if (found.length === 0) return [];
  const places = placesIn(text);
  const mentions: Mention[] = [];
  for (const same of bySpan(found)) {
    const [first] = same;
    const [start, end] = [words[first?.first ?? 0], words[first?.last ?? 0]];
    if (!start || !end) continue;
    const span = words.slice(first?.first, (first?.last ?? 0) + 1);
    const signs = signsOf(text, span, start.from, end.to, context);
    const uses = same.map(({ value }) => value);
    const place = placeAfter(places, end.to, text);
    for (const [use, certainty] of judge(uses, signs, names, context)) {
      const mention: Mention = { heading: use.heading, certainty, from: start.from, to: end.to };
      if (place && use.heading.kind === 'book') mention.place = place;
      mentions.push(mention);
    }
  }
  return mentions;
}

function bySpan(found: readonly Found<NameUse>[]): Found<NameUse>[][] {
  const groups: Found<NameUse>[][] = [];
  for (const each of found) {
    const last = groups.at(-1);
    if (last?.[0]?.first === each.first && last[0].last === each.last) last.push(each);
    else groups.push([each]);
  }
  return groups;
}

function signsOf(
  text: string,
  span: readonly NameWord[],
  from: number,
  to: number,
  { italics = [], alone = false }: MentionContext,
): Signs {
  const [before, after] = [text.slice(Math.max(0, from - 40), from), text.slice(to, to + 60)];
  const italic = italics.some(
    ([start, end]) => start <= from && end >= to && end - start - (to - from) <= 6,
  );
  const marked = /[“‘"]$/u.test(before) && /^[.,]?[”’"]/u.test(after);
  const placed = /^[*_”’"']*[,:]?\s?\(?(?:pp?\.?|pages?|ch(?:ap(?:ter|\.)?|\.)?) ?[\divxlc]/iu.test(
    after,
  );
  return {
    setOff: italic || marked || alone,
    sourced: BY_NEXT.test(after) || placed || (marked && AUTHOR_NEXT.test(after)),
    led: LED.test(before),
    capital: span.every(({ word, capital }, at) => capital || (at > 0 && SMALL.test(word))),
    // A letter stands for all that is further back, so that only the text's own start is taken for one.
    opens: SENTENCE_START.test(
      from > LOOKED_BACK ? `a${text.slice(from - LOOKED_BACK, from)}` : text.slice(0, from),
    ),
  };
}

/** Which of the headings that bear one name are meant, and how surely. */
function judge(
  uses: readonly NameUse[],
  signs: Signs,
  names: KnownNames,
  context: MentionContext,
): [NameUse, Certainty][] {
  const once = uses.filter(
    (use, at) => uses.findIndex((other) => other.heading === use.heading) === at,
  );
  const books = once.filter(({ heading }) => heading.kind === 'book');
  const people = once.filter(({ heading }) => heading.kind === 'person');
  const judged: [NameUse, Certainty][] = [];
  const bookMeant = signs.setOff || signs.sourced;
  for (const use of once) {
    const { heading } = use;
    if (heading.kind === 'book' && people.length > 0 && !bookMeant) {
      // "Jane Eyre" under Jane Eyre is she; elsewhere it may be either.
      if (context.books?.has(heading.id)) continue;
      const certainty = bookCertainty(use, signs, names);
      if (certainty) judged.push([use, certainty === 'sure' ? 'likely' : 'guess']);
      continue;
    }
    if (heading.kind === 'person' && books.length > 0 && bookMeant) continue;
    // Of books of one name the one it stands under is meant.
    const under = books.some((other) => context.books?.has(other.heading.id));
    if (heading.kind === 'book' && under && !context.books?.has(heading.id)) continue;
    const certainty = certaintyOf(use, signs, names, context);
    if (!certainty) continue;
    const rivals = once.filter((other) => other.heading.kind === heading.kind).length > 1;
    judged.push([use, rivals && !belongs(heading, context) ? 'guess' : certainty]);
  }
  return judged;
}

function certaintyOf(
  use: NameUse,
  signs: Signs,
  names: KnownNames,
  context: MentionContext,
): Certainty | undefined {
  if (use.heading.kind === 'book') return bookCertainty(use, signs, names);
  if (use.heading.kind === 'theme') return themeCertainty(use, signs, names);
  return personCertainty(use, signs, names, belongs(use.heading, context));
}

function bookCertainty(use: NameUse, signs: Signs, names: KnownNames): Certainty | undefined {
  const telling = use.words.filter((word) => !SMALL.test(word));
  if (telling.length > 1) {
    if (signs.capital)
      return use.how === 'name' || signs.setOff || signs.sourced ? 'sure' : 'likely';
    return use.words.length > 2 ? 'likely' : 'guess';
  }
  if (!signs.capital) return undefined;
  const common = names.isCommon(telling[0] ?? '');
  if (signs.sourced) return 'sure';
  if (signs.setOff) return common ? 'likely' : 'sure';
  if (signs.led) return common ? 'guess' : 'likely';
  if (common) return signs.opens ? undefined : 'guess';
  return signs.opens ? 'guess' : 'likely';
}

function personCertainty(
  use: NameUse,
  signs: Signs,
  names: KnownNames,
  ours: boolean,
): Certainty | undefined {
  const telling = use.words.filter((word) => !SMALL.test(word));
  if (!signs.capital && !(ours && use.words.length > 1)) return undefined;
  if (!signs.capital) return 'likely';
  if (telling.length > 1) return 'sure';
  const common = names.isCommon(telling[0] ?? '');
  if (use.how === 'surname') return common ? 'guess' : 'likely';
  if (ours) return common && signs.opens ? 'likely' : 'sure';
  if (common) return signs.opens ? undefined : 'guess';
  return 'likely';
}

function themeCertainty(use: NameUse, signs: Signs, names: KnownNames): Certainty | undefined {
  if (signs.setOff) return 'sure';
  const telling = use.words.filter((word) => !SMALL.test(word));
  if (telling.length > 1) return 'likely';
  const [word = ''] = telling;
  return word.length >= 6 && !names.isCommon(word) ? 'likely' : 'guess';
}

function belongs(heading: Heading, { books }: MentionContext): boolean {
  if (heading.kind !== 'person' || !books) return false;
  return (heading.books ?? []).some((book) => books.has(book));
}

/** A page or chapter close after a title: "Heidi, ch. 3", "Heidi (p. 40)". */
function placeAfter(places: readonly PlaceFound[], to: number, text: string): Place | undefined {
  const next = places.find(({ from }) => from >= to);
  if (!next) return undefined;
  return /^[*_”’"']*[\s,;:(]{0,4}$/u.test(text.slice(to, next.from)) ? next.place : undefined;
}
