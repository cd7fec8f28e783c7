import type { Entry, EntryId, Heading, HeadingId, Journal, Tie } from '../journal/records';
import { pageSaid } from '../language/page-said';
import { NODE } from './links';
import { sayChapter } from './reason';
import { cheapestWay } from './shortest';
import type { WeaveIndex } from './weave-index';
import { ROLE_WEIGHT } from './weights';

interface ChainStep {
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
  const way = wayBetween(index, from, to, () => 0);
  return way && { steps: way.map((_, at) => stepOf(index.journal, way, at)) };
}

/** What a way costs more for each earlier way that went through a node between its ends. Our own setting. */
const AGAIN = 4;
/** Ways tried for each that is wanted; those that differ too little from earlier ones are passed over. */
const TRIES = 3;

/**
 * Up to `most` different chains between two things, the cheapest first; the first is that of {@link chain}. Each that follows goes through a
 * heading between the ends that none before it goes through, or, where it has none between, through another entry.
 */
export function chains(index: WeaveIndex, from: string, to: string, most = 6): Chain[] {
  const { headings } = index.journal.tables;
  const gone = new Map<string, number>();
  const seen = new Set<string>();
  const found: { ids: string[]; cost: number }[] = [];
  for (let turn = 0; turn < most * TRIES && found.length < most; turn++) {
    const ids = wayBetween(index, from, to, (id) => (gone.get(id) ?? 0) * AGAIN);
    if (!ids) break;
    const between = ids.slice(1, -1);
    const named = between.filter((id) => headings.has(id as HeadingId));
    const tell = named.length > 0 ? named : between;
    if (turn === 0 || tell.some((id) => !seen.has(id))) {
      found.push({ ids, cost: costOf(index, ids) });
    }
    if (between.length === 0) break;
    for (const id of between) gone.set(id, (gone.get(id) ?? 0) + 1);
    tell.forEach((id) => seen.add(id));
  }
  const [first, ...rest] = found;
  const sorted = rest.sort((a, b) => a.cost - b.cost || a.ids.length - b.ids.length);
  return (first ? [first, ...sorted] : []).map(({ ids }) => ({
    steps: ids.map((_, at) => stepOf(index.journal, ids, at)),
  }));
}

/** Everything that ties and relations lead to from a thing, itself among it; nothing where it is not in the journal. */
export function reachedFrom(index: WeaveIndex, from: string): ReadonlySet<string> {
  const { links } = index;
  const start = links.nodeOf(from);
  if (start === undefined) return new Set();
  const seen = new Uint8Array(links.size);
  const waiting = [start];
  seen[start] = 1;
  const found = new Set<string>();
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
    found.add(links.idOf(node));
    for (let link = links.begin(node); link < links.end(node); link++) {
      const next = links.target(link);
      if (seen[next] || !isTold(links.typeOf(next))) continue;
      seen[next] = 1;
      waiting.push(next);
    }
  }
  return found;
}

/** Chapters lead nowhere that their book does not, and what is named but not there joins nothing. */
const isTold = (type: number): boolean => type === NODE.entry || type === NODE.heading;

const tollOf = ({ links }: WeaveIndex, node: number): number =>
  Math.log(1 + links.spreadOf(node)) / 2;

function costOf(index: WeaveIndex, ids: readonly string[]): number {
  const nodes = ids.map((id) => index.links.nodeOf(id)!);
  return nodes.slice(1).reduce((sum, node, at) => {
    return sum + 1 + tollOf(index, nodes[at]!) + tollOf(index, node);
  }, 0);
}

function wayBetween(
  index: WeaveIndex,
  from: string,
  to: string,
  extra: (id: string) => number,
): string[] | undefined {
  const { links } = index;
  const [start, end] = [links.nodeOf(from), links.nodeOf(to)];
  if (start === undefined || end === undefined) return undefined;
  const cost = (a: number, b: number): number =>
    !isTold(links.typeOf(b))
      ? Infinity
      : 1 + tollOf(index, a) + tollOf(index, b) + extra(links.idOf(b));
  const before = (a: number, b: number): boolean => links.idOf(a) < links.idOf(b);
  return cheapestWay(links, start, end, cost, before)?.map((node) => links.idOf(node));
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
  return chapter ? `${sayChapter(chapter)} of` : page ? `${pageSaid(page, 'long')} of` : '';
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
