import type { Entry, EntryId, HeadingId, Tie } from '../journal/records';
import { tokens } from '../language/tokens';
import { chapterKey } from './links';
import { wordsOf } from './shown';
import type { WeaveIndex } from './weave-index';
import { tellingStem } from './words';

/** What something is to be near to: any mix. Ids that are not in the journal are passed over. */
export interface Seeds {
  entries?: readonly EntryId[];
  headings?: readonly HeadingId[];
  text?: string;
}

/** The seeds as reasons need them. */
export interface SeedView {
  entries: Entry[];
  headings: HeadingId[];
  /** Headings that the text asks for by name. */
  named: HeadingId[];
  /** The headings the seed entries are tied to, with their ties. */
  tied: Map<HeadingId, Tie[]>;
  chapters: Set<string>;
  /** The books of the seeds, by the people who wrote them; an entry by a person alone brings no book. */
  authors: Map<HeadingId, Set<HeadingId>>;
  /** The seed entries' and text's folded words, by stem. */
  words: Map<string, Set<string>>;
}

export function seedView(index: WeaveIndex, seeds: Seeds): SeedView {
  const { tables } = index.journal;
  const entries = [...new Set(seeds.entries)].flatMap((id) => tables.entries.get(id) ?? []);
  const headings = [...new Set(seeds.headings)].filter((id) => tables.headings.has(id));
  const tied = new Map<HeadingId, Tie[]>();
  const chapters = new Set<string>();
  for (const tie of entries.flatMap((entry) => entry.ties)) {
    if (!tables.headings.has(tie.heading)) continue;
    const held = tied.get(tie.heading);
    if (held) held.push(tie);
    else tied.set(tie.heading, [tie]);
    const chapter = chapterKey(tie);
    if (chapter) chapters.add(chapter);
  }
  const authors = new Map<HeadingId, Set<HeadingId>>();
  for (const id of [...tied.keys(), ...headings]) {
    const book = tables.headings.get(id);
    if (book?.kind !== 'book') continue;
    for (const author of book.authors) {
      authors.set(author, (authors.get(author) ?? new Set()).add(id));
    }
  }
  const words = new Map<string, Set<string>>();
  for (const text of [...entries.map(wordsOf), seeds.text ?? '']) {
    for (const { folded } of tokens(text)) {
      const stem = tellingStem(folded);
      if (stem !== undefined) words.set(stem, (words.get(stem) ?? new Set()).add(folded));
    }
  }
  const named = [...index.names.namedIn(seeds.text ?? '')].flatMap(([id, { how }]) =>
    how === 'name' && !headings.includes(id) ? [id] : [],
  );
  return { entries, headings, named: named.sort(), tied, chapters, authors, words };
}
