/** What a journal says of two headings, told of the one at the other: whichever of them it stands in. */
import { rowsNaming } from '../journal/indexes';
import type { Heading, HeadingId, Journal } from '../journal/records';

/** The headings that are related to one by what the journal says, each with how, in words. */
export function relationsOf(journal: Journal, heading: Heading): Map<HeadingId, string> {
  const out = new Map<HeadingId, string>();
  const put = (id: HeadingId, says: string): void => {
    const held = out.get(id);
    if (held !== says) out.set(id, held === undefined ? says : `${held}; ${says}`);
  };
  if (heading.kind === 'book') for (const id of heading.authors) put(id, 'wrote it');
  if (heading.kind === 'person') for (const id of heading.books ?? []) put(id, 'is in it');
  if (heading.kind === 'theme') {
    for (const id of heading.related) put(id, 'related');
    for (const id of heading.broader) put(id, 'the broader theme');
  }
  for (const id of rowsNaming(journal, 'headings', heading.id, 'headings')) {
    const other = journal.tables.headings.get(id);
    if (other) saidThere(heading, other, put);
  }
  return out;
}

/** What another heading says of this one. */
function saidThere(
  { id, name }: Heading,
  other: Heading,
  put: (id: HeadingId, says: string) => void,
): void {
  if (other.kind === 'book' && other.authors.includes(id)) put(other.id, `by ${name}`);
  if (other.kind === 'person' && other.books?.includes(id)) put(other.id, 'is in it');
  if (other.kind !== 'theme') return;
  if (other.broader.includes(id)) put(other.id, 'the narrower theme');
  if (other.related.includes(id)) put(other.id, 'related');
}
