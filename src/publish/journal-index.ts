/** The index of a journal as a book: its headings in filing order, and by commonplace classes. */
import type { BookHeading, Entry, Heading, HeadingKind, PersonHeading } from '../journal/records';
import { commonplaceClass } from '../language/commonplace';
import { compareFiling, filingKey } from '../language/filing';
import { bookTieOf } from './cite';
import type { OpenRows } from './open-rows';
import { familyFirst, personName } from './person-name';
import { clean } from './safe-text';

export interface IndexLine {
  name: string;
  kind: HeadingKind;
  /** Numbers of entries, rising. */
  entries: number[];
  /** Names to look under too: the books of an author, or the name this one is another of. */
  see: string[];
}

/** The heads of one class, "E i". */
export interface IndexClass {
  name: string;
  lines: IndexLine[];
}

/** People of history and letters are filed by family name; characters as they are called in their book. */
function indexName(heading: Heading): string {
  if (heading.kind !== 'person' || isCharacter(heading)) return clean(heading.name.trim());
  return clean(familyFirst(personName(heading)));
}

const isCharacter = ({ roles }: PersonHeading): boolean =>
  roles.length > 0 && roles.every((role) => role === 'character');

/** Headings with entries, authors of books that have some, and their other names, in filing order. */
export function indexOf(
  entries: readonly Entry[],
  numbers: ReadonlyMap<string, number>,
  { headings }: OpenRows,
): IndexLine[] {
  const found = new Map<string, Set<number>>();
  const under = new Set<BookHeading>();
  for (const entry of entries) {
    for (const { heading } of entry.ties) {
      const set = found.get(heading) ?? new Set();
      found.set(heading, set.add(numbers.get(entry.id)!));
    }
    const book = bookTieOf(entry, headings)?.book;
    if (book) under.add(book);
  }
  const wrote = new Map<string, string[]>();
  for (const { authors, name } of under)
    for (const author of authors) wrote.set(author, [...(wrote.get(author) ?? []), name]);
  const lines: (IndexLine & { key: string })[] = [];
  for (const heading of headings.values()) {
    const set = found.get(heading.id);
    const see = (wrote.get(heading.id) ?? []).map(clean).sort();
    if (!set && see.length === 0) continue;
    const name = indexName(heading);
    const key = keyOf(heading, name);
    lines.push({ key, name, kind: heading.kind, entries: numeric(set ?? []), see });
    for (const other of new Set(heading.alternates.map((one) => clean(one.trim()))))
      if (other && other !== name)
        lines.push({
          key: keyOf(heading, other),
          name: other,
          kind: heading.kind,
          entries: [],
          see: [name],
        });
  }
  lines.sort((a, b) => compareFiling(a.key, b.key) || compareFiling(a.name, b.name));
  return lines.map(({ key: _, ...line }) => line);
}

const numeric = (numbers: Iterable<number>): number[] => [...numbers].sort((a, b) => a - b);

/** An article counts in a name (El Paso), not in what a character is called (The snail). */
function keyOf(heading: Heading, name: string): string {
  const filed = heading.filing && name === indexName(heading) ? { filing: heading.filing } : {};
  const language =
    heading.kind === 'book' && heading.language ? { language: heading.language } : {};
  return filingKey(name, {
    kind: heading.kind === 'person' && !isCharacter(heading) ? 'name' : 'title',
    ...language,
    ...filed,
  });
}

/** Locke's classes, A a to Z u; other names stand in the index alone. */
export function classesOf(index: readonly IndexLine[]): IndexClass[] {
  const classes = new Map<string, IndexLine[]>();
  for (const line of index) {
    const name = line.entries.length > 0 ? commonplaceClass(line.name) : '';
    if (name) classes.set(name, [...(classes.get(name) ?? []), line]);
  }
  return [...classes]
    .sort(([a], [b]) => compareFiling(a, b))
    .map(([name, lines]) => ({ name, lines }));
}

/** Numbers that follow one another as their first and last; two alone stay two. */
export function runs(numbers: readonly number[]): [number, number][] {
  const found: [number, number][] = [];
  for (const number of numbers) {
    const last = found.at(-1);
    if (last && number === last[1] + 1) last[1] = number;
    else found.push([number, number]);
  }
  return found.flatMap(([from, to]): [number, number][] =>
    to === from + 1
      ? [
          [from, from],
          [to, to],
        ]
      : [[from, to]],
  );
}
