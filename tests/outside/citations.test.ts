/**
 * Citation forms against published examples. Those of the manuals are seen as university libraries print
 * them (named beside each); what a journal cannot know (publisher, subtitle's pages) is taken out of the example first.
 *
 * KPU: Kwantlen Polytechnic University, APA guide, "Specific part of a source". UMGC: University of Maryland Global
 * Campus, APA 7 in-text. UTM: University of Toronto Mississauga, MLA. NLC: Northern Lakes College, MLA works cited. NVCC: Northern Virginia
 * Community College, MLA. Macmillan: How to Write Anything, 3rd ed., MLA works cited. OWL: Purdue OWL, APA reference list, authors.
 */
import { describe, expect, test } from 'vitest';
import type { BookHeading, Entry, Heading, PersonHeading, Place } from '../../src/journal/records';
import { plainText } from '../../src/language/markdown';
import { citerOf, type CiteForm } from '../../src/publish/cite-forms';

interface Cited {
  authors: readonly (string | Partial<PersonHeading>)[];
  title: string;
  published?: string;
  place?: Place;
}

function make(all: readonly Cited[]): { headings: Map<string, Heading>; entries: Entry[] } {
  const headings = new Map<string, Heading>();
  const entries = all.map(({ authors, title, published, place }, at): Entry => {
    const ids = authors.map((author) => {
      const person = typeof author === 'string' ? { name: author } : author;
      const id = `person ${person.name}` as PersonHeading['id'];
      headings.set(id, {
        kind: 'person',
        name: '',
        alternates: [],
        roles: ['author'],
        ...person,
        id,
      });
      return id;
    });
    const id = `book ${title}` as BookHeading['id'];
    const book: BookHeading = { kind: 'book', name: title, alternates: [], authors: ids, id };
    headings.set(id, { ...book, ...(published ? { published } : {}) });
    return {
      id: `entry ${at}` as Entry['id'],
      kind: 'quote',
      text: 'x',
      ties: [{ heading: id, role: 'from', by: 'reader', ...(place ? { place } : {}) }],
      added: '2026-01-01T00:00:00Z',
      changed: '2026-01-01T00:00:00Z',
    };
  });
  return { headings, entries };
}

/** Without the spaces that keep "p." beside its number. */
const told = (commonMark: string | undefined): string =>
  plainText(commonMark ?? '').replaceAll('\u00A0', ' ');

async function here(form: CiteForm, ...all: Cited[]): Promise<string[]> {
  const { headings, entries } = make(all);
  const cited = (await citerOf(form))(entries, headings);
  return entries.map((entry) => told(cited.here(entry)));
}

async function works(form: CiteForm, ...all: Cited[]): Promise<string[]> {
  const { headings, entries } = make(all);
  return (await citerOf(form))(entries, headings).works(entries).map(told);
}

describe('APA, in the text', () => {
  test.each<[string, string, Cited]>([
    [
      '(Meyers, 2023, p. 55)',
      'KPU',
      { authors: ['Ann Meyers'], title: 'A', published: '2023', place: { page: '55' } },
    ],
    [
      '(World Health Organization, 2022, pp. 98–101)',
      'KPU, with the dash of the manual',
      {
        authors: [{ name: 'World Health Organization', filing: 'World Health Organization' }],
        title: 'A',
        published: '2022',
        place: { page: '98-101' },
      },
    ],
    [
      '(Qing & Liu, 2020, Chapter 8)',
      'KPU',
      { authors: ['Bo Qing', 'An Liu'], title: 'A', published: '2020', place: { chapter: '8' } },
    ],
    [
      '(Handwerk, 2021, “300,000 Years Ago: Fossils”)',
      'KPU, a part by its heading; marks turned',
      {
        authors: ['Brian Handwerk'],
        title: 'A',
        published: '2021',
        place: { chapter: '300,000 Years Ago: Fossils' },
      },
    ],
    [
      '(Doe, 2006, p. 3)',
      'output of a style engine, pandoc citeproc test 75',
      { authors: ['John Doe'], title: 'A', published: '2006', place: { page: '3' } },
    ],
    [
      '(Raines et al., 2018)',
      'UMGC, three authors or more, without the section',
      { authors: ['A Raines', 'B Two', 'C Three'], title: 'A', published: '2018' },
    ],
    [
      '(Smith, 2004, pp. 39–40)',
      'UMGC',
      { authors: ['J Smith'], title: 'A', published: '2004', place: { page: '39-40' } },
    ],
  ])('%s (%s)', async (expected, _, cited) => {
    expect(await here('apa', cited)).toEqual([expected]);
  });
});

describe('APA, the references', () => {
  test.each<[string, string, Cited]>([
    [
      'Ahmed, S. (2012). On being included.',
      'OWL, without subtitle and publisher',
      { authors: ['Sara Ahmed'], title: 'On being included', published: '2012' },
    ],
    [
      'Soto, C. J., & John, O. P. (2017). The next big five inventory.',
      'OWL, the names and year of an article',
      {
        authors: ['Christopher J. Soto', 'Oliver P. John'],
        title: 'The next big five inventory',
        published: '2017',
      },
    ],
  ])('%s (%s)', async (expected, _, cited) => {
    expect(await works('apa', cited)).toEqual([expected]);
  });

  test('lists a collection of tales once, as a whole (University of Queensland, APA 7: only chapters with authors of their own)', async () => {
    const tale = (chapter: string): Cited => ({
      authors: ['Hans Christian Andersen'],
      title: 'Fairy Tales',
      published: '1835/1872',
      place: { chapter },
    });
    expect(await works('apa', tale('Thumbelina'), tale('The Flax'))).toEqual([
      'Andersen, H. C. (1835–1872). Fairy Tales.',
    ]);
  });
});

describe('MLA, in the text', () => {
  test.each<[string, string, Cited]>([
    [
      '(Shelley 109)',
      'UTM',
      { authors: ['Mary Shelley'], title: 'Frankenstein', place: { page: '109' } },
    ],
    [
      '(McEwan 294; pt. 3)',
      'NVCC: page, semicolon, then the part; the author put before',
      { authors: ['Ian McEwan'], title: 'Atonement', place: { page: '294', chapter: 'pt. 3' } },
    ],
    [
      '(Smith and Jones 45)',
      'common practice, as guides to MLA print it',
      { authors: ['John Smith', 'Jane Jones'], title: 'A', place: { page: '45' } },
    ],
    [
      '(Smith et al. 45)',
      'common practice, as guides to MLA print it',
      { authors: ['John Smith', 'Jane Jones', 'Emily Brown'], title: 'A', place: { page: '45' } },
    ],
  ])('%s (%s)', async (expected, _, cited) => {
    expect(await here('mla', cited)).toEqual([expected]);
  });
});

describe('MLA, works cited', () => {
  test.each<[string, string, Cited]>([
    [
      'Butler, Octavia. Mind of My Mind. 1994.',
      'NLC, without publisher',
      { authors: ['Octavia Butler'], title: 'Mind of My Mind', published: '1994' },
    ],
    [
      'El-Mohtar, Amal, and Max Gladstone. This Is How You Lose the Time War. 2019.',
      'NLC, without publisher; it prints the verb small, where the Handbook has a capital',
      {
        authors: ['Amal El-Mohtar', 'Max Gladstone'],
        title: 'This is How You Lose the Time War',
        published: '2019',
      },
    ],
    [
      'Roark, James L., et al. The American Promise: A History of the United States. 2012.',
      'Macmillan, without edition and publisher',
      {
        authors: ['James L. Roark', 'B Two', 'C Three'],
        title: 'The American Promise: A History of the United States',
        published: '2012',
      },
    ],
    [
      'Smith, Zadie. “The Lazy River.” Grand Union: Stories, 2019.',
      'NLC, a story in a collection, without publisher and pages',
      {
        authors: ['Zadie Smith'],
        title: 'Grand Union: Stories',
        published: '2019',
        place: { chapter: 'The Lazy River' },
      },
    ],
    [
      'The New Yorker Top 100 Cartoons. 2004.',
      'Macmillan, no author, without publisher',
      { authors: [], title: 'The New Yorker Top 100 Cartoons', published: '2004' },
    ],
  ])('%s (%s)', async (expected, _, cited) => {
    expect(await works('mla', cited)).toEqual([expected]);
  });
});

describe('works that could be taken for each other', () => {
  const shelley = (title: string, published: string): Cited => ({
    authors: ['Mary Shelley'],
    title,
    published,
    place: { page: '9' },
  });

  test('of one author have their titles in MLA, and the name once in the list', async () => {
    const two = [shelley('The Last Man', '1826'), shelley('Frankenstein', '1818')];
    expect(await here('mla', ...two)).toEqual([
      '(Shelley, The Last Man 9)',
      '(Shelley, Frankenstein 9)',
    ]);
    expect(await works('mla', ...two)).toEqual([
      'Shelley, Mary. Frankenstein. 1818.',
      '———. The Last Man. 1826.',
    ]);
  });

  test('of one author and year have letters in APA, in the order of their titles without articles', async () => {
    const two = [shelley('The Last Man', '1826'), shelley('A History', '1826')];
    expect(await here('apa', ...two)).toEqual(['(Shelley, 1826b, p. 9)', '(Shelley, 1826a, p. 9)']);
    expect(await works('apa', ...two)).toEqual([
      'Shelley, M. (1826a). A History.',
      'Shelley, M. (1826b). The Last Man.',
    ]);
  });

  test('of two authors with one family name have initials', async () => {
    const two: Cited[] = [
      {
        authors: ['Charlotte Brontë'],
        title: 'Jane Eyre',
        published: '1847',
        place: { chapter: '1' },
      },
      {
        authors: ['Emily Brontë'],
        title: 'Wuthering Heights',
        published: '1847',
        place: { page: '4' },
      },
    ];
    expect(await here('mla', ...two)).toEqual(['(C. Brontë, ch. 1)', '(E. Brontë 4)']);
    expect(await here('apa', ...two)).toEqual([
      '(C. Brontë, 1847, Chapter 1)',
      '(E. Brontë, 1847, p. 4)',
    ]);
  });
});

test('names are turned with their particles and suffixes, and years said as each form says them (from memory of the handbooks)', async () => {
  const all: Cited[] = [
    { authors: ['Walter de la Mare'], title: 'Peacock Pie', published: '1913' },
    {
      authors: [{ name: 'Martin Luther King Jr.' }],
      title: 'Why We Can’t Wait',
      published: '1964',
    },
    { authors: ['J. R. R. Tolkien'], title: 'The Hobbit', published: '1937' },
    { authors: ['Louisa May Alcott'], title: 'Little Women', published: '1868/1869' },
    { authors: ['Homer'], title: 'Odyssey' },
    { authors: ['Jean-Jacques Rousseau'], title: 'Émile', published: '1762~' },
    { authors: ['Plato'], title: 'Republic', published: '-0379' },
  ];
  expect(await works('apa', ...all)).toEqual([
    'Alcott, L. M. (1868–1869). Little Women.',
    'de la Mare, W. (1913). Peacock Pie.',
    'Homer. (n.d.). Odyssey.',
    'King, M. L., Jr. (1964). Why We Can’t Wait.',
    'Plato. (380 B.C.E.). Republic.',
    'Rousseau, J.-J. (ca. 1762). Émile.',
    'Tolkien, J. R. R. (1937). The Hobbit.',
  ]);
  expect(await works('mla', ...all)).toEqual([
    'Alcott, Louisa May. Little Women. 1868–69.',
    'de la Mare, Walter. Peacock Pie. 1913.',
    'Homer. Odyssey.',
    'King, Martin Luther, Jr. Why We Can’t Wait. 1964.',
    'Plato. Republic. 380 BCE.',
    'Rousseau, Jean-Jacques. Émile. circa 1762.',
    'Tolkien, J. R. R. The Hobbit. 1937.',
  ]);
});
