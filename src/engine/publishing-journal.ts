/** The journal in forms for elsewhere: the engine hands the publishing room the journal's rows, and what is sealed stays. */
import type { Journal } from '../journal/records';
import type { FontData } from '../publish/faces';
import { openRows, type OpenRows } from '../publish/open-rows';
import type { Faces } from './publishing';

export const JOURNAL_KINDS = [
  'csv',
  'json-ld',
  'bibtex',
  'csl-json',
  'skos',
  'ics',
  'graphml',
  'html',
] as const;
export type JournalKind = (typeof JOURNAL_KINDS)[number];

export interface JournalHow {
  paper?: 'A4' | 'Letter';
  preset?: 'usual' | 'large' | 'dyslexia' | 'plain';
}

/** A journal in another form. */
export interface JournalFile {
  type: string;
  /** Usual ending of a file's name, without the dot. */
  ending: string;
  bytes: Uint8Array<ArrayBuffer>;
  /** How many things are in it, in words: "20 books". */
  holds: string;
  /** What the reader should know of it, in finished sentences. */
  said: string[];
}

interface JournalAround {
  now: () => Date;
  faces: Faces;
}

const FORMS: Record<JournalKind, { type: string; ending: string }> = {
  csv: { type: 'text/csv', ending: 'csv' },
  'json-ld': { type: 'application/ld+json', ending: 'jsonld' },
  bibtex: { type: 'application/x-bibtex', ending: 'bib' },
  'csl-json': { type: 'application/vnd.citationstyles.csl+json', ending: 'json' },
  skos: { type: 'text/turtle', ending: 'ttl' },
  ics: { type: 'text/calendar', ending: 'ics' },
  graphml: { type: 'application/graphml+xml', ending: 'graphml' },
  html: { type: 'text/html', ending: 'html' },
};

/** The journal as a file of one kind. Each writer is loaded when it is first asked for. */
export async function publishJournal(
  journal: Journal,
  kind: JournalKind,
  around: JournalAround,
  how: JournalHow = {},
): Promise<JournalFile> {
  const rows = openRows(journal);
  const { text, holds, said = [] } = await written(rows, kind, around, how);
  const bytes = new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;
  return { ...FORMS[kind], bytes, holds, said: [...said, ...leftSaid(rows)] };
}

interface Written {
  text: string;
  holds: string;
  said?: string[];
}

export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

async function written(
  rows: OpenRows,
  kind: JournalKind,
  around: JournalAround,
  how: JournalHow,
): Promise<Written> {
  const entries = counted(rows.entries.length, 'entry', 'entries');
  const of = (which: 'book' | 'theme'): string =>
    counted([...rows.headings.values()].filter((heading) => heading.kind === which).length, which);
  switch (kind) {
    case 'csv': {
      const { toCsv } = await import('../publish/csv');
      return { text: toCsv(rows), holds: entries };
    }
    case 'json-ld': {
      const { toWebAnnotations } = await import('../publish/web-annotation');
      const quotes = rows.entries.filter((entry) => entry.kind === 'quote').length;
      return { text: toWebAnnotations(rows), holds: counted(quotes, 'quotation') };
    }
    case 'bibtex': {
      const { toBibtex } = await import('../publish/bibtex');
      return { text: toBibtex(rows), holds: of('book') };
    }
    case 'csl-json': {
      const { toCslJson } = await import('../publish/csl-json');
      return { text: toCslJson(rows), holds: of('book') };
    }
    case 'skos': {
      const { toSkos } = await import('../publish/skos');
      return { text: toSkos(rows), holds: of('theme') };
    }
    case 'graphml': {
      const { toGraphml } = await import('../publish/graphml');
      return {
        text: toGraphml(rows),
        holds: `${entries} and ${counted(rows.headings.size, 'heading')}`,
      };
    }
    case 'ics':
      return calendar(rows, around.now());
    case 'html':
      return family(rows, await around.faces(), how);
  }
}

async function calendar(rows: OpenRows, now: Date): Promise<Written> {
  const { meetingEvents, toCalendar } = await import('../publish/ics');
  const { events, undated } = meetingEvents(rows);
  const said =
    undated > 0 ? [`${counted(undated, 'meeting')} left out, because the day is not known.`] : [];
  return {
    text: toCalendar(rows.name, events, now),
    holds: counted(events.length, 'meeting'),
    said,
  };
}

async function family(
  rows: OpenRows,
  fonts: readonly FontData[],
  { paper = 'A4', preset }: JournalHow,
): Promise<Written> {
  const { journalBook } = await import('../publish/journal-book');
  const { journalHtml } = await import('../publish/journal-html');
  const book = journalBook(rows, { title: rows.name, entries: rows.entries });
  return {
    text: journalHtml(book, { paper, fonts, ...(preset ? { preset } : {}) }),
    holds: counted(book.entries, 'entry', 'entries'),
    said: [
      'To read only: answers, follow-ups, the leader’s notes and those on meetings are not in it.',
    ],
  };
}

/** What a seal keeps back, in words; nothing of what it is. */
export function leftSaid({ left }: OpenRows): string[] {
  const parts = [
    [left.books, 'book', 'books'] as const,
    [left.entries, 'entry', 'entries'] as const,
    [left.guides, 'guide', 'guides'] as const,
  ].flatMap(([count, one, many]) => (count > 0 ? [counted(count, one, many)] : []));
  if (parts.length === 0) return [];
  const list = new Intl.ListFormat('en-GB', { type: 'conjunction' }).format(parts);
  return [`Left out, because a list they belong to is sealed: ${list}.`];
}
