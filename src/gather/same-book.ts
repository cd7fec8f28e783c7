/** Books of one name are told apart by who wrote them, as far as that is told. */
import type { BookHeading, Heading, HeadingId } from '../journal/records';
import { nameKey } from '../language/filing';

type HeadingOf = (id: HeadingId) => Heading | undefined;

/** Whether two names may be of one person: the same, or of one surname where one side has no more or has initials. */
function maySame(a: string, b: string): boolean {
  if (a === b) return true;
  const [one, other] = [a.split(' '), b.split(' ')];
  if (one.at(-1) !== other.at(-1)) return false;
  if (one.length === 1 || other.length === 1) return true;
  const [first = '', second = ''] = [one[0], other[0]];
  return (first.length === 1 || second.length === 1) && first[0] === second[0];
}

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
    return names.some((name) => {
      const key = nameKey(name, 'person');
      return [...asked].some((each) => maySame(each, key));
    });
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
