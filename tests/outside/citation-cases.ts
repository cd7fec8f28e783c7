/** Works and places as a case of the citation checks has them, made into a journal's headings and entries. */
import type { BookHeading, Entry, Heading, PersonHeading } from '../../src/journal/records';
import { plainText } from '../../src/language/markdown';

export interface Work {
  authors: string[];
  title: string;
  /** What the processor was told of the title without its subtitle; ours finds it itself. */
  short?: string;
  published?: string;
}

export function made({
  works,
  places,
}: {
  works: readonly Work[];
  places: readonly (string | null)[];
}): { headings: Map<string, Heading>; entries: Entry[] } {
  const headings = new Map<string, Heading>();
  const entries = works.map(({ authors, title, ...book }, at): Entry => {
    const { published } = book;
    for (const name of authors) {
      const person: PersonHeading = {
        kind: 'person',
        id: name as PersonHeading['id'],
        name,
        alternates: [],
        roles: ['author'],
        // A name in two parts is told by its filing, as a reader would.
        ...(name === 'Ursula K. Le Guin' ? { filing: 'Le Guin, Ursula K.' } : {}),
      };
      headings.set(name, person);
    }
    const id = title as BookHeading['id'];
    const authorIds = authors as PersonHeading['id'][];
    headings.set(id, {
      kind: 'book',
      id,
      name: title,
      alternates: [],
      authors: authorIds,
      ...(published ? { published } : {}),
    });
    const page = places[at]?.replace('-', '–');
    return {
      id: `entry ${at}` as Entry['id'],
      kind: 'quote',
      text: 'x',
      ties: [{ heading: id, role: 'from', by: 'reader', ...(page ? { place: { page } } : {}) }],
      added: '2026-01-01T00:00:00Z',
      changed: '2026-01-01T00:00:00Z',
    };
  });
  return { headings, entries };
}

export const told = (text: string | undefined): string =>
  plainText(text ?? '')
    .replaceAll('\u00A0', ' ')
    .replace(/^———\./, '---.');
