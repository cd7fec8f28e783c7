/** The entries of another journal as pieces, with their ties by name. */
import type { BookHeading, Entry, Journal } from '../journal/records';
import { counted, nounOf } from '../journal/labels';
import type { KnownNames } from './known-names';
import type { EntryMore, GatherPiece } from './piece';
import { tieByAuthors, tieCalled } from './ties';

export function* piecesOfJournal(
  other: Journal,
  path: string,
  names: KnownNames,
): Generator<Omit<GatherPiece, 'id'>> {
  for (const entry of other.tables.entries.values()) {
    if (entry.picture) continue;
    const ties = entry.ties.flatMap((tie) => {
      const heading = other.tables.headings.get(tie.heading);
      if (!heading) return [];
      const made =
        heading.kind === 'book'
          ? tieByAuthors(names, bookOf(other, heading), tie.role, 'sure', true)
          : tieCalled(names, heading.kind, heading.name, tie.role, 'sure');
      if (made.isNew && heading.kind === 'person' && heading.roles.includes('author'))
        made.author = true;
      return [tie.place ? { ...made, place: tie.place } : made];
    });
    const piece: Omit<GatherPiece, 'id'> = {
      kind: entry.kind,
      certainty: 'sure',
      text: entry.text,
      ties,
      source: { path, place: { note: `entry ${entry.id}` } },
    };
    if (entry.title) piece.title = entry.title;
    if (entry.written) piece.written = entry.written;
    if (entry.answer) piece.answer = entry.answer;
    if (entry.materials) piece.materials = entry.materials;
    const more = moreOf(entry);
    if (more) piece.more = more;
    yield piece;
  }
}

const LEFT = ['readings', 'lists', 'guides', 'meetings', 'challenges'] as const;

/** What of another journal is not gathered and what to do, in a sentence; undefined where all of it is. */
export function leftOfJournal({ tables }: Journal): string | undefined {
  const pictures = [...tables.entries.values()].filter(({ picture }) => picture).length;
  const left = [
    ...(pictures > 0 ? [counted(pictures, 'picture')] : []),
    ...LEFT.flatMap((table) =>
      tables[table].size > 0 ? [counted(tables[table].size, nounOf(table))] : [],
    ),
  ];
  const last = left.pop();
  if (last === undefined) return undefined;
  const said = left.length > 0 ? `${left.join(', ')} and ${last}` : last;
  return `${said} of this journal ${said.startsWith('1 ') && left.length === 0 ? 'is' : 'are'} not gathered; “Open a copy” brings the whole of it.`;
}

const bookOf = (
  { tables }: Journal,
  { name: title, authors }: BookHeading,
): { title: string; authors: string[] } => ({
  title,
  authors: authors.flatMap((id) => tables.headings.get(id)?.name ?? []),
});

function moreOf(entry: Entry): EntryMore | undefined {
  const { level, levelBy, minutes, probes, cautions, ages, lesson } = entry;
  const more: EntryMore = {
    ...(level ? { level } : {}),
    ...(level && levelBy ? { levelBy } : {}),
    ...(minutes ? { minutes } : {}),
    ...(probes ? { probes } : {}),
    ...(cautions ? { cautions } : {}),
    ...(ages ? { ages } : {}),
    ...(lesson ? { lesson } : {}),
  };
  return Object.keys(more).length > 0 ? more : undefined;
}
