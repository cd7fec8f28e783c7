import { comparePlaces, type PlaceKey } from '../journal/place-order';
import type {
  CircleId,
  Entry,
  EntryId,
  EntryKind,
  HeadingId,
  Journal,
  Place,
} from '../journal/records';
import { readDate } from '../language/dates';
import { printOfTexts } from '../language/fingerprint';
import { plainText } from '../language/markdown';
import type { FieldName } from './fields';
import { foldedWords } from './query';

/** What filters, facets and orders look at, read off an entry once. */
export interface Facts {
  id: EntryId;
  kind: EntryKind;
  /** Themes with all that are broader, books, people: each id once. */
  themes: HeadingId[];
  books: HeadingId[];
  people: HeadingId[];
  /** First and last ISO day it may have been written; undefined where not known. */
  earliest: string | undefined;
  latest: string | undefined;
  year: string | undefined;
  added: string;
  /** Where in each of `books`: the first of its places there. */
  places: (Place | undefined)[];
  /** What `places` are ordered by, made when first asked. */
  placeKeys: PlaceKey[];
}

interface Bounds {
  earliest?: string;
  latest?: string;
}

const UNDATED: Bounds = {};
const dates = new Map<string, Bounds>();

function boundsOf(edtf: string): Bounds {
  const known = dates.get(edtf);
  if (known) return known;
  const read = readDate(edtf);
  const bounds = read.ok
    ? {
        ...(read.date.earliest ? { earliest: read.date.earliest } : {}),
        ...(read.date.latest ? { latest: read.date.latest } : {}),
      }
    : {};
  if (dates.size > 20_000) dates.clear();
  dates.set(edtf, bounds);
  return bounds;
}

export const spanOf = boundsOf;

export function factsOf(
  journal: Journal,
  entry: Entry,
  broader: (id: HeadingId) => readonly HeadingId[],
): Facts {
  const { headings } = journal.tables;
  const themes: HeadingId[] = [];
  const books: HeadingId[] = [];
  const people: HeadingId[] = [];
  const places: Facts['places'] = [];
  // Ties are few: looking through a short list is quicker than a set for each entry.
  const once = (list: HeadingId[], id: HeadingId): boolean =>
    !list.includes(id) && list.push(id) > 0;
  for (const { heading: id, place } of entry.ties) {
    const heading = headings.get(id);
    if (heading?.kind === 'theme') {
      once(themes, heading.id);
      for (const above of broader(heading.id)) once(themes, above);
    } else if (heading?.kind === 'person') once(people, heading.id);
    else if (heading?.kind === 'book') {
      if (once(books, heading.id)) places.push(place);
      else {
        const known = books.indexOf(heading.id);
        if (comparePlaces(place, places[known], heading) < 0) places[known] = place;
      }
    }
  }
  const { earliest, latest } = entry.written ? boundsOf(entry.written) : UNDATED;
  const year =
    earliest && latest && earliest.slice(0, 4) === latest.slice(0, 4)
      ? earliest.slice(0, 4)
      : undefined;
  const { id, kind, added } = entry;
  const placeKeys: PlaceKey[] = [];
  return { id, kind, themes, books, people, earliest, latest, year, added, places, placeKeys };
}

/** What is searched as follow-ups: those of a question, and what a lesson idea holds beyond its text. */
export function probesText({ probes, lesson }: Entry): string {
  return [
    ...(probes ?? []),
    lesson?.objective,
    lesson?.preparation,
    lesson?.due,
    lesson?.object,
    lesson?.idea,
    ...(lesson?.observations ?? []),
    ...(lesson?.steps ?? []),
  ]
    .filter(Boolean)
    .join('\n');
}

const namesTied = (journal: Journal, entry: Entry): string[] => {
  const names: string[] = [];
  for (const tie of entry.ties) {
    const heading = journal.tables.headings.get(tie.heading);
    if (heading) names.push(heading.name, ...heading.alternates);
  }
  return names;
};

/** The folded words of an entry by field. Names of headings count as words of the entry. */
export function wordsByField(journal: Journal, entry: Entry): Partial<Record<FieldName, string[]>> {
  const source = [entry.source?.note, entry.source?.file].filter(Boolean).join(' ');
  const probes = probesText(entry);
  return {
    text: foldedWords(plainText(entry.text)),
    ...(entry.title ? { title: foldedWords(entry.title) } : {}),
    heading: namesTied(journal, entry).flatMap(foldedWords),
    ...(entry.answer ? { answer: foldedWords(plainText(entry.answer)) } : {}),
    ...(probes ? { probes: foldedWords(probes) } : {}),
    ...(source ? { source: foldedWords(source) } : {}),
    ...(entry.picture?.alt ? { picture: foldedWords(entry.picture.alt) } : {}),
  };
}

/** A number that tells whether all that is searched of an entry, and with it all that is compared with others, is as it was. */
export function printOf(journal: Journal, entry: Entry): number {
  const { text, title, answer, source, probes, lesson, picture } = entry;
  const rest = probes || lesson ? probesText(entry) : undefined;
  const names = namesTied(journal, entry);
  const { note, file } = source ?? {};
  return printOfTexts([text, title, answer, note, file, rest, picture?.alt, ...names]);
}

/** Uses of an entry as the facet of use counts them. */
export interface Used {
  /** EDTF date of the latest meeting it was used in. */
  last: string;
  circles: ReadonlySet<CircleId>;
}

/** Every entry that was used, read off the meetings once a search; the others are not in it. */
export function usedEntries(journal: Journal): ReadonlyMap<EntryId, Used> {
  const out = new Map<EntryId, { last: string; circles: Set<CircleId> }>();
  for (const { items, circle, on } of journal.tables.meetings.values()) {
    for (const { entry, used } of items) {
      if (!entry || !used) continue;
      const held = out.get(entry);
      if (!held) out.set(entry, { last: on, circles: new Set([circle]) });
      else {
        held.circles.add(circle);
        if (on > held.last) held.last = on;
      }
    }
  }
  return out;
}
