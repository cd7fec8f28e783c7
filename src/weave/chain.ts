import type { Entry, EntryId, Heading, HeadingId, Journal, Tie } from '../journal/records';
import { NODE } from './links';
import { sayChapter } from './reason';
import { cheapestWay } from './shortest';
import type { WeaveIndex } from './weave-index';
import { ROLE_WEIGHT } from './weights';

export interface ChainStep {
  id: string;
  type: 'entry' | 'heading';
  /** How the step before leads to this one: "which is about the theme". The first step has none. */
  via?: string;
}

export interface Chain {
  steps: ChainStep[];
}

/**
 * The way of ties and relations from one entry or heading to another that costs least, or undefined where there is none or either is not
 * in the journal. A step costs 1 and half the natural logarithm of 1 + its heading's entries, so a short way through a
 * theme with three hundred entries loses to a slightly longer one through rare headings.
 */
export function chain(index: WeaveIndex, from: string, to: string): Chain | undefined {
  const { links, journal } = index;
  const [start, end] = [links.nodeOf(from), links.nodeOf(to)];
  if (start === undefined || end === undefined) return undefined;
  const { csr } = links;
  const toll = (node: number): number => Math.log(1 + links.spreadOf(node)) / 2;
  const way = cheapestWay(
    csr,
    start,
    end,
    (a, b) => (links.typeOf(b) === NODE.chapter ? Infinity : 1 + toll(a) + toll(b)),
    (a, b) => links.idOf(a) < links.idOf(b),
  );
  const ids = way?.map((node) => links.idOf(node));
  return ids && { steps: ids.map((_, at) => stepOf(journal, ids, at)) };
}

function stepOf(journal: Journal, ids: readonly string[], at: number): ChainStep {
  const id = ids[at]!;
  const before = ids[at - 1];
  const type = journal.tables.entries.has(id) ? 'entry' : 'heading';
  if (before === undefined) return { id, type };
  return { id, type, via: viaOf(journal, before, id) };
}

function viaOf(journal: Journal, from: string, to: string): string {
  const { entries, headings } = journal.tables;
  const [entryFrom, entryTo] = [entries.get(from as EntryId), entries.get(to as EntryId)];
  if (entryFrom) return tieOut(entryFrom, headings.get(to as HeadingId)!);
  if (entryTo) return tieIn(headings.get(from as HeadingId)!, entryTo);
  return relation(headings.get(from as HeadingId)!, headings.get(to as HeadingId)!);
}

/** Of several ties to one heading the one that says most. */
function tieTo(entry: Entry, heading: HeadingId): Tie | undefined {
  return entry.ties
    .filter((tie) => tie.heading === heading)
    .sort((a, b) => ROLE_WEIGHT[b.role] - ROLE_WEIGHT[a.role])[0];
}

const KIND_SAID = { book: 'the book', theme: 'the theme', person: '' } as const;
const joined = (...words: string[]): string => words.filter(Boolean).join(' ');

function placeSaid(tie: Tie | undefined): string {
  const { chapter, page } = tie?.place ?? {};
  return chapter ? `${sayChapter(chapter)} of` : page ? `page ${page} of` : '';
}

function tieOut(entry: Entry, heading: Heading): string {
  const tie = tieTo(entry, heading.id);
  const role = tie?.role ?? 'about';
  return joined('which is', role, placeSaid(tie), KIND_SAID[heading.kind]);
}

function tieIn(heading: Heading, entry: Entry): string {
  const tie = tieTo(entry, heading.id);
  const at = tie?.place?.chapter ? `, in ${sayChapter(tie.place.chapter)}` : '';
  switch (tie?.role) {
    case 'from':
      return `which this is from${at}`;
    case 'by':
      return 'whose words these are';
    case 'for':
      return 'which this is for';
    default:
      return `which this is about${at}`;
  }
}

function relation(from: Heading, to: Heading): string {
  const names = (a: Heading, b: Heading): boolean =>
    (a.kind === 'book' && a.authors.includes(b.id)) ||
    (a.kind === 'person' && (a.books ?? []).includes(b.id));
  if (from.kind === 'book' && names(from, to)) return 'which was written by';
  if (to.kind === 'book' && names(to, from)) return 'who wrote';
  if (names(from, to)) return 'who is in';
  if (names(to, from)) return 'in which there is';
  if (from.kind === 'theme' && from.broader.includes(to.id))
    return 'which is part of the broader theme';
  if (to.kind === 'theme' && to.broader.includes(from.id)) return 'which has the narrower theme';
  return 'which is related to';
}
