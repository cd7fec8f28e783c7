/** Books of one name are told apart by who wrote them, as far as that is told. */
import type { BookHeading, Heading, HeadingId } from '../journal/records';
import { nameKey } from '../language/filing';

type HeadingOf = (id: HeadingId) => Heading | undefined;

/** False only where both sides say who wrote it and have nobody in common. */
export function mayBeBy(
  book: BookHeading,
  authors: readonly string[],
  headingOf: HeadingOf,
): boolean {
  const asked = new Set(authors.map((name) => nameKey(name, 'person')).filter(Boolean));
  if (book.authors.length === 0 || asked.size === 0) return true;
  return book.authors.some((id) => {
    const person = headingOf(id);
    const names = person ? [person.name, ...person.alternates] : [];
    return names.some((name) => asked.has(nameKey(name, 'person')));
  });
}

/** Of headings of one name the book that these people wrote, or else one of which nobody says who did. */
export function bookBy(
  called: readonly HeadingId[],
  authors: readonly string[],
  headingOf: HeadingOf,
): BookHeading | undefined {
  const may = called.flatMap((id) => {
    const heading = headingOf(id);
    return heading?.kind === 'book' && mayBeBy(heading, authors, headingOf) ? [heading] : [];
  });
  return (authors.length > 0 && may.find((book) => book.authors.length > 0)) || may[0];
}
