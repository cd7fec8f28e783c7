import type { Entry, EntryId, Journal, Tie } from '../journal/records';
import { usesOf } from '../journal/uses';
import { plainText } from '../language/markdown';
import type { EntryRow, TieSaid } from './answers';

/** Ties told with the names of their headings, books first, then themes, then people. */
export function tiesSaid(journal: Journal, ties: readonly Tie[]): TieSaid[] {
  const order = { book: 0, theme: 1, person: 2 };
  return ties
    .flatMap((tie) => {
      const heading = journal.tables.headings.get(tie.heading);
      if (!heading) return [];
      const said: TieSaid = {
        heading: tie.heading,
        name: heading.name,
        kind: heading.kind,
        role: tie.role,
        by: tie.by,
      };
      if (tie.place) said.place = tie.place;
      return [said];
    })
    .sort((a, b) => order[a.kind] - order[b.kind]);
}

/** A picture kept without words is told by what it shows. */
const pictureSaid = ({ picture }: Entry): string =>
  picture ? picture.alt.trim() || 'A picture without words' : '';

/** An entry as a row of a list; `text` is plain, so that offsets and snippets are true. */
export function entryRow(journal: Journal, entry: Entry): EntryRow {
  const { times, last } = usesOf(journal, entry.id);
  return {
    id: entry.id,
    kind: entry.kind,
    text: plainText(entry.text) || pictureSaid(entry),
    ...(entry.title === undefined ? {} : { title: entry.title }),
    ties: tiesSaid(journal, entry.ties),
    ...(entry.written === undefined ? {} : { written: entry.written }),
    uses: last === undefined ? { times } : { times, last },
  };
}

export function rowOf(journal: Journal, id: EntryId): EntryRow | undefined {
  const entry = journal.tables.entries.get(id);
  return entry && entryRow(journal, entry);
}
