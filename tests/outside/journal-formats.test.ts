/**
 * What a journal is published as, read back by other people's readers: csv-parse and Papa Parse (RFC
 * 4180), n3 (Turtle), ical.js (RFC 5545), xmldom and graphology-graphml (GraphML), ORCID's BibTeX reader. The rules of
 * each format are named beside the checks that hold them.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import bibtexParse from '@orcid/bibtex-parse-js';
import { DOMParser } from '@xmldom/xmldom';
import { parse as parseCsv } from 'csv-parse/sync';
import fc from 'fast-check';
import Graph from 'graphology';
import { parse as parseGraphml } from 'graphology-graphml';
import ICAL from 'ical.js';
import { Parser, Store, type Quad } from 'n3';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { readJournalFile } from '../../src/journal/file';
import type { BookHeading, Journal, ThemeHeading } from '../../src/journal/records';
import { plainText } from '../../src/language/markdown';
import { toBibtex } from '../../src/publish/bibtex';
import { itemOf, toCslJson } from '../../src/publish/csl-json';
import { CSV_COLUMNS, toCsv } from '../../src/publish/csv';
import { toGraphml } from '../../src/publish/graphml';
import { meetingEvents, toCalendar } from '../../src/publish/ics';
import { openRows } from '../../src/publish/open-rows';
import { clean } from '../../src/publish/safe-text';
import { toSkos } from '../../src/publish/skos';
import { ANNOTATION_CONTEXT, toWebAnnotations } from '../../src/publish/web-annotation';
import { arbitraryJournal } from '../unit/journal/arbitrary-journal';

function demo(): Journal {
  const file = path.resolve(process.cwd(), 'demo-data/harbour-lane.bookweft.json');
  const read = readJournalFile(readFileSync(file, 'utf8'));
  if (!read.ok) throw new Error(read.message);
  return read.journal;
}
const harbour = openRows(demo());
const headings = [...harbour.headings.values()];
const books = headings.filter((heading): heading is BookHeading => heading.kind === 'book');
const themes = headings.filter((heading): heading is ThemeHeading => heading.kind === 'theme');
const RUNS = { numRuns: 60 };

/** The cell a spreadsheet shows as text: what would be a formula stands behind an apostrophe. */
const cell = (text: string): string => (/^(?:[=+@\t\r]|-(?!\s))/.test(text) ? `'${text}` : text);

describe('CSV', () => {
  test('has one record for each entry, every field as it was, for csv-parse and for Papa Parse', () => {
    const text = toCsv(harbour);
    const rows: Record<string, string>[] = parseCsv(text, { columns: true, bom: true });
    expect(rows).toHaveLength(harbour.entries.length);
    expect(Object.keys(rows[0]!)).toEqual([...CSV_COLUMNS]);
    harbour.entries.forEach((entry, at) => {
      expect(rows[at]).toMatchObject({
        id: entry.id,
        kind: entry.kind,
        text: cell(entry.text),
        answer: cell(entry.answer ?? ''),
        written: entry.written ?? '',
      });
    });
    const other = Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true });
    expect(other.errors).toEqual([]);
    expect(other.data).toEqual(rows);
  });

  test('ends records with CR LF and quotes a quotation mark by doubling it (RFC 4180, section 2, rules 1, 6 and 7)', () => {
    const [entry] = harbour.entries;
    const text = toCsv({ ...harbour, entries: [{ ...entry!, text: 'b"bb,\nand more' }] });
    expect(text).toContain('"b""bb,\nand more"');
    expect(text.endsWith('\r\n')).toBe(true);
    expect(text.split('\r\n')).toHaveLength(3);
  });

  test('survives any journal', () => {
    fc.assert(
      fc.property(arbitraryJournal(), (journal) => {
        const rows = openRows(journal);
        const back: string[][] = parseCsv(toCsv(rows), { bom: true });
        expect(back.slice(1).map((row) => row[3])).toEqual(
          rows.entries.map(({ text }) => cell(clean(text))),
        );
      }),
      RUNS,
    );
  });

  test.each(['=1+1', '+1', '@sum', '-2+3'])('never lets a spreadsheet reckon with %s', (text) => {
    const [entry] = harbour.entries;
    const back: string[][] = parseCsv(toCsv({ ...harbour, entries: [{ ...entry!, text }] }), {
      bom: true,
    });
    expect(back[1]![3]).toBe(`'${text}`);
  });

  test('leaves a line of talk that begins with a dash alone', () => {
    const [entry] = harbour.entries;
    const text = '- Who goes there?';
    const back: string[][] = parseCsv(toCsv({ ...harbour, entries: [{ ...entry!, text }] }), {
      bom: true,
    });
    expect(back[1]![3]).toBe(text);
  });
});

interface Annotation {
  id: string;
  type: string;
  motivation: string;
  created: string;
  modified: string;
  body?: { type: string; purpose: string; value: string }[];
  target: {
    source: { id: string };
    selector: { type: string; exact: string };
  };
}

/** Section 5.1, 5.2, 3.1 and 4.2.4 of the Web Annotation Data Model, as this file reads them. */
function checkCollection(text: string): Annotation[] {
  const found = JSON.parse(text) as {
    '@context': string;
    id: string;
    type: string;
    total: number;
    first?: { id: string; type: string; partOf: string; startIndex: number; items: Annotation[] };
  };
  expect(found['@context']).toBe('http://www.w3.org/ns/anno.jsonld');
  expect(found.type).toBe('AnnotationCollection');
  const items = found.first?.items ?? [];
  expect(found.total).toBe(items.length);
  if (found.first)
    expect(found.first).toMatchObject({ type: 'AnnotationPage', partOf: found.id, startIndex: 0 });
  for (const one of items) {
    expect(one.type).toBe('Annotation');
    expect(one.id).toMatch(/^(?:urn:|#)/);
    expect(one.target.source.id).toMatch(/^(?:urn:|#)/);
    expect(one.target.selector.type).toBe('TextQuoteSelector');
    expect(one.target.selector.exact).not.toBe('');
    // xsd:dateTime in UTC, section 3.2.4 of the model.
    for (const time of [one.created, one.modified])
      expect(time).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?Z$/);
    for (const body of one.body ?? [])
      expect(body).toMatchObject({ type: 'TextualBody', purpose: 'tagging' });
  }
  const ids = [found.id, ...items.map(({ id }) => id)];
  expect(new Set(ids).size).toBe(ids.length);
  return items;
}

describe('quotations as Web Annotations', () => {
  test('are one annotation each, on the book by ISBN or id, with the very words', () => {
    const items = checkCollection(toWebAnnotations(harbour));
    const quotes = harbour.entries.filter(({ kind }) => kind === 'quote');
    expect(items.map(({ target }) => target.selector.exact)).toEqual(
      quotes.map(({ text }) => plainText(text)),
    );
    const douglass = items.find(({ target }) => target.selector.exact.includes('From that moment'));
    expect(douglass?.target.source).toMatchObject({
      type: 'Text',
      'dc:title': 'Narrative of the Life of Frederick Douglass',
      'dc:creator': ['Frederick Douglass'],
    });
    expect(ANNOTATION_CONTEXT).toBe('http://www.w3.org/ns/anno.jsonld');
  });

  test('keep the model whatever the journal', () => {
    fc.assert(
      fc.property(arbitraryJournal(), (journal) => {
        checkCollection(toWebAnnotations(openRows(journal)));
      }),
      RUNS,
    );
  });
});

/** TeX as plain text, for the commands that are written. */
function fromTex(tex: string): string {
  return tex
    .replace(/\\text(backslash|braceleft|braceright|asciitilde|asciicircum)\{\}/g, (_, name) => {
      const signs: Record<string, string> = {
        backslash: '\\',
        braceleft: '⦃',
        braceright: '⦄',
        asciitilde: '~',
        asciicircum: '^',
      };
      return signs[name as string] ?? '';
    })
    .replace(/[{}]/g, '')
    .replace(/\\([&%$#_])/g, '$1')
    .replace(/⦃/g, '{')
    .replace(/⦄/g, '}');
}

describe('BibTeX', () => {
  test('has every book with its title, authors family name first, and year', () => {
    const entries = bibtexParse.toJSON(toBibtex(harbour));
    expect(entries).toHaveLength(books.length);
    expect(entries.map(({ entryTags }) => fromTex(entryTags['title'] ?? '')).sort()).toEqual(
      books.map(({ name }) => name).sort(),
    );
    const tags = entries.find(({ entryTags }) => entryTags['title']?.includes('East of'))!;
    expect(tags.entryType).toBe('book');
    expect(tags.entryTags['author']).toBe('Asbjørnsen, Peter Christen and Moe, Jørgen');
    expect(tags.entryTags['date']).toBe('1841/1844');
    expect(entries.find(({ citationKey }) => citationKey === 'bronte1847jane')?.entryTags).toEqual({
      author: 'Brontë, Charlotte',
      title: expect.stringContaining('Jane Eyre'),
      year: '1847',
      pagetotal: '532',
    });
  });

  test('keeps any title, its keys apart and its braces even', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'grapheme', minLength: 1 })), (names) => {
        const made = names.map((name, at) => ({
          ...books[0]!,
          id: `b${String(at).padStart(3, '0')}` as BookHeading['id'],
          name,
          authors: [],
        }));
        const text = toBibtex({ ...harbour, headings: new Map(made.map((one) => [one.id, one])) });
        expect(text.split('{').length).toBe(text.split('}').length);
        const entries = bibtexParse.toJSON(text);
        expect(new Set(entries.map(({ citationKey }) => citationKey)).size).toBe(made.length);
        const titles = entries.map(({ entryTags }) => fromTex(entryTags['title'] ?? '').trim());
        expect(titles.sort()).toEqual(
          names.map((name) => clean(name).replace(/\s+/g, ' ').trim()).sort(),
        );
      }),
      RUNS,
    );
  });
});

describe('CSL-JSON', () => {
  test('has every book with the names, dates and numbers of the schema (CSL 1.0.2, csl-data.json)', () => {
    const items = JSON.parse(toCslJson(harbour)) as Record<string, unknown>[];
    expect(items).toHaveLength(books.length);
    for (const item of items) {
      expect(item).toMatchObject({
        id: expect.any(String),
        type: 'book',
        title: expect.any(String),
      });
    }
    expect(items.find(({ title }) => title === 'Little Women')).toMatchObject({
      author: [{ family: 'Alcott', given: 'Louisa May' }],
      issued: { 'date-parts': [[1868], [1869]] },
      'number-of-pages': '546',
    });
    const told = (name: string): Record<string, unknown> =>
      itemOf({ ...books[0]!, name }, harbour) as Record<string, unknown>;
    expect(told('Walden; or, Life in the Woods')['title-short']).toBe('Walden');
    expect(told('Persuasion: A Tale')['title-short']).toBe('Persuasion');
    expect(told('Emma')).not.toHaveProperty('title-short');
  });
});

const SKOS = 'http://www.w3.org/2004/02/skos/core#';
const RDF_TYPE = 'http://www.w3.org/1999/02/22-rdf-syntax-ns#type';

/** Integrity conditions of the SKOS Reference (W3C Recommendation, 18 August 2009): S9, S13, S14, S27. */
function checkSkos(turtle: string): Store {
  const store = new Store(new Parser({ baseIRI: 'urn:example:journal' }).parse(turtle));
  const pairs = (term: string): Quad[] => store.getQuads(null, `${SKOS}${term}`, null, null);
  const concepts = store.getSubjects(RDF_TYPE, `${SKOS}Concept`, null);
  const schemes = new Set(
    store.getSubjects(RDF_TYPE, `${SKOS}ConceptScheme`, null).map(({ value }) => value),
  );
  expect(schemes.size).toBe(1);
  for (const concept of concepts) {
    const labels = (term: string): string[] =>
      store.getObjects(concept, `${SKOS}${term}`, null).map(({ value }) => value);
    expect(schemes.has(concept.value)).toBe(false);
    expect(labels('prefLabel')).toHaveLength(1);
    expect(labels('altLabel')).not.toContain(labels('prefLabel')[0]);
  }
  const above = new Map<string, Set<string>>();
  for (const { subject, object } of pairs('broader')) {
    above.set(subject.value, (above.get(subject.value) ?? new Set()).add(object.value));
    expect(store.countQuads(object, `${SKOS}narrower`, subject, null)).toBe(1);
  }
  for (let grown = true; grown;) {
    grown = false;
    for (const set of above.values())
      for (const one of [...set])
        for (const next of above.get(one) ?? [])
          if (!set.has(next)) {
            set.add(next);
            grown = true;
          }
  }
  for (const { subject, object } of pairs('related')) {
    expect(above.get(subject.value)?.has(object.value) ?? false).toBe(false);
    expect(store.countQuads(object, `${SKOS}related`, subject, null)).toBe(1);
  }
  return store;
}

describe('SKOS in Turtle', () => {
  test('has every theme as a concept, with its names and what stands above it', () => {
    const store = checkSkos(toSkos(harbour));
    const labels = store.getObjects(null, `${SKOS}prefLabel`, null).map(({ value }) => value);
    expect(labels.sort()).toEqual(themes.map(({ name }) => name).sort());
    const broader = themes.reduce((sum, theme) => sum + theme.broader.length, 0);
    expect(broader).toBeGreaterThan(0);
    expect(store.countQuads(null, `${SKOS}broader`, null, null)).toBe(broader);
    const alternates = themes.reduce((sum, theme) => sum + theme.alternates.length, 0);
    expect(store.countQuads(null, `${SKOS}altLabel`, null, null)).toBe(alternates);
  });

  test('keeps the conditions of the vocabulary, and names as they were, whatever the journal', () => {
    fc.assert(
      fc.property(arbitraryJournal(), (journal) => {
        const rows = openRows(journal);
        const store = checkSkos(toSkos(rows));
        const labels = store.getObjects(null, `${SKOS}prefLabel`, null).map(({ value }) => value);
        const names = [...rows.headings.values()]
          .filter(({ kind }) => kind === 'theme')
          .map(({ name }) => clean(name));
        expect(labels.sort()).toEqual([...new Set(names)].sort());
      }),
      RUNS,
    );
  });

  test('writes quotation marks, backslashes and line ends as Turtle escapes them (RDF 1.1 Turtle, 6.4)', () => {
    const name = 'a "b" \\ c\nd';
    const theme = { ...themes[0]!, name, alternates: [], broader: [], related: [] };
    const store = checkSkos(toSkos({ ...harbour, headings: new Map([[theme.id, theme]]) }));
    expect(store.getObjects(null, `${SKOS}prefLabel`, null)[0]?.value).toBe(name);
  });
});

describe('the calendar', () => {
  const made = new Date('2026-01-02T03:04:05Z');
  const eventsOf = (text: string): ICAL.Event[] =>
    new ICAL.Component(ICAL.parse(text))
      .getAllSubcomponents('vevent')
      .map((each) => new ICAL.Event(each));

  test('has each meeting at the time of its guide, in the time of the place', () => {
    const { events, undated } = meetingEvents(harbour);
    expect(undated).toBe(0);
    const back = eventsOf(toCalendar(harbour.name, events, made));
    expect(back).toHaveLength(harbour.meetings.length);
    const heidi = back.find(({ summary }) => summary === 'What Heidi went without')!;
    expect(heidi.startDate.toString()).toBe('2013-10-17T19:00:00');
    expect(heidi.startDate.zone.tzid).toBe('floating');
    expect(heidi.endDate.toString()).toBe('2013-10-17T20:30:00');
    for (const { note } of harbour.meetings)
      if (note) expect(toCalendar('', events, made)).not.toContain(note.slice(0, 20));
  });

  test('has a guide with a start that has not been met yet, and no template', () => {
    const [guide] = harbour.guides.values();
    const next = { ...guide!, title: 'Next time', starts: '2027-02-04T19:30', minutes: 60 };
    const rows = {
      ...harbour,
      guides: new Map([
        ['one', next],
        ['two', { ...next, title: 'A pattern', template: true }],
      ]),
      meetings: [],
    };
    const back = eventsOf(toCalendar('', meetingEvents(rows).events, made));
    expect(back.map(({ summary, startDate }) => [summary, startDate.toString()])).toEqual([
      ['Next time', '2027-02-04T19:30:00'],
    ]);
  });

  test('folds at 75 octets, ends lines with CR LF and gives any words back (RFC 5545, 3.1 and 3.3.11)', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 300 }), (summary) => {
        const text = toCalendar(summary, [{ uid: 'a', day: '2027-02-04', summary }], made);
        for (const line of text.split('\r\n'))
          expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
        expect(text.replaceAll('\r\n', '')).not.toContain('\n');
        const [event] = eventsOf(text);
        expect(event!.summary).toBe(clean(summary).replaceAll('\t', ' '));
        expect(event!.startDate.isDate).toBe(true);
        expect(event!.component.getFirstPropertyValue('dtstamp')?.toString()).toBe(
          '2026-01-02T03:04:05Z',
        );
      }),
      RUNS,
    );
  });
});

describe('GraphML', () => {
  test('is a graph with a node for each entry and heading and an edge for each tie and relation', () => {
    const graph = parseGraphml(Graph, toGraphml(harbour));
    expect(graph.order).toBe(harbour.entries.length + headings.length);
    const ties = harbour.entries.reduce((sum, { ties: own }) => sum + own.length, 0);
    const count = (relations: readonly string[]): number =>
      graph.filterEdges((_, { relation }) => relations.includes(relation as string)).length;
    expect(count(['about', 'from', 'by', 'for'])).toBe(ties);
    expect(count(['wrote'])).toBe(books.reduce((sum, book) => sum + book.authors.length, 0));
    expect(count(['broader'])).toBe(themes.reduce((sum, theme) => sum + theme.broader.length, 0));
    expect(count(['related']) * 2).toBe(
      themes.reduce((sum, theme) => sum + theme.related.length, 0),
    );
    const [entry] = harbour.entries;
    expect(graph.getNodeAttributes(entry!.id)).toMatchObject({
      type: 'entry',
      kind: entry!.kind,
      text: plainText(entry!.text),
    });
  });

  test('is well formed, with every edge between nodes, whatever the journal', () => {
    fc.assert(
      fc.property(arbitraryJournal(), (journal) => {
        const faults: string[] = [];
        const parser = new DOMParser({ onError: (_, message) => faults.push(message) });
        const xml = parser.parseFromString(toGraphml(openRows(journal)), 'text/xml');
        expect(faults).toEqual([]);
        const all = (tag: string): Element[] => [...xml.getElementsByTagName(tag)] as never;
        const ids = new Set(all('node').map((one) => one.getAttribute('id')));
        expect(ids.size).toBe(all('node').length);
        for (const edge of all('edge')) {
          expect(ids.has(edge.getAttribute('source'))).toBe(true);
          expect(ids.has(edge.getAttribute('target'))).toBe(true);
        }
      }),
      RUNS,
    );
  });
});
