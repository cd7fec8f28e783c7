import cautions from '../../shared/cautions.json';
import type { Entry, Hazard, Journal } from '../journal/records';
import { sayDate } from '../language/dates';
import { DEFERENCE } from '../publish/lists';

/** The hazards named on entries, or on the words left of them, each once in the order of `HAZARDS`, with the usual caution in words. */
export function cautionsOf(ones: readonly Pick<Entry, 'cautions'>[]): {
  hazards: Hazard[];
  said: string[];
} {
  const texts = cautions as unknown as Record<Hazard, { name: string; caution: string }>;
  const hazards = [...new Set(ones.flatMap(({ cautions: own }) => own ?? []))];
  return { hazards, said: hazards.flatMap((hazard) => texts[hazard]?.caution ?? []) };
}

/** Cautions that stand under each other: that local rules come first is said by the last of them, for all. */
export function deferringOnce(said: readonly string[]): string[] {
  return said.map((text, at) =>
    at < said.length - 1 ? text.replace(DEFERENCE, '').trimEnd() : text,
  );
}

/** The books an entry is from or about, once each: "Mary Shelley, Frankenstein (1818)". */
export function sourcesOf(journal: Journal, entries: readonly Entry[]): string[] {
  const books = new Set(entries.flatMap((entry) => entry.ties.map((tie) => tie.heading)));
  return [...books].flatMap((id) => {
    const book = journal.tables.headings.get(id);
    if (book?.kind !== 'book') return [];
    const authors = book.authors.flatMap(
      (author) => journal.tables.headings.get(author)?.name ?? [],
    );
    const by = authors.length > 0 ? `${new Intl.ListFormat('en-GB').format(authors)}, ` : '';
    return [`${by}${book.name}${book.published ? ` (${sayDate(book.published)})` : ''}`];
  });
}

/** Where an entry is from, in a few words: "Frankenstein, chapter 13, page 61". */
export function citeOf(journal: Journal, entry: Entry): string | undefined {
  for (const { heading: id, place } of entry.ties) {
    const book = journal.tables.headings.get(id);
    if (book?.kind !== 'book') continue;
    const at = [
      place?.chapter ? `chapter ${place.chapter}` : '',
      place?.page ? `page ${place.page}` : '',
    ];
    return [book.name, ...at.filter(Boolean)].join(', ');
  }
  return undefined;
}
