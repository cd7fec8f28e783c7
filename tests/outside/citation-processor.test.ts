/**
 * Citation forms against what a CSL processor answers with the published styles (named, with their versions, in
 * gold/citations.json). The answers were made once and are kept, because the processor's licence is not one
 * this project takes libraries under. The style writes an author again as three hyphens, we as three dashes; the
 * Handbook allows either. The processor also files titles by their article, where both manuals pass it over; no case
 * here turns on that.
 */
import { describe, expect, test } from 'vitest';
import type { BookHeading, Entry, Heading, PersonHeading } from '../../src/journal/records';
import { plainText } from '../../src/language/markdown';
import { citing } from '../../src/publish/cite-forms';
import gold from './gold/citations.json';

type Case = (typeof gold.cases)[number];

function made({ works, places }: Case): { headings: Map<string, Heading>; entries: Entry[] } {
  const headings = new Map<string, Heading>();
  const entries = works.map(({ authors, title, ...book }, at): Entry => {
    const published = 'published' in book ? book.published : undefined;
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

const told = (text: string | undefined): string =>
  plainText(text ?? '')
    .replaceAll('\u00A0', ' ')
    .replace(/^———\./, '---.');

describe.each(['mla', 'apa'] as const)('the form %s, as a CSL processor has it', (form) => {
  test.each(gold.cases.map((one): [string, Case] => [one.say, one]))('%s', (_, one) => {
    const { headings, entries } = made(one);
    const cited = citing(form, entries, headings);
    expect(entries.map((entry) => told(cited.here(entry)))).toEqual(one[form].here);
    expect(cited.works(entries).map(told)).toEqual(one[form].works);
  });
});
