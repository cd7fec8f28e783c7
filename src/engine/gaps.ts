/** What a journal has not got, each with the beginning of the entry that would fill it. */
import type { Entry, EntryKind, Heading, HeadingId, Level, Tie } from '../journal/records';
import { entriesTiedTo, usesOf } from '../journal/uses';
import { thingSaid } from './chains';
import type { Core } from './core';
import { GAP_KINDS, type GapKind, type GapRow, type GapsView } from './weave-answers';

const USUAL_LIMIT = 60;
/** A heading with fewer entries is not yet a theme or a book that anything could be missing from. */
const LEAST_ENTRIES = 2;
/** With fewer questions nothing is said of their levels. */
const LEAST_QUESTIONS = 3;
const LOW: ReadonlySet<Level | undefined> = new Set<Level | undefined>(['remember', 'understand']);

export function gapsView(core: Core, limit = USUAL_LIMIT): GapsView {
  const found: Record<GapKind, GapRow[]> = {
    'theme-lesson': [],
    'book-question': [],
    'low-questions': [],
    'quote-unused': [],
    'tied-once': [],
  };
  const { journal } = core;
  const { entries, headings } = journal.tables;
  for (const heading of headings.values()) {
    const own = [...entriesTiedTo(journal, heading.id)].flatMap((id) => entries.get(id) ?? []);
    for (const [gap, count] of gapsOf(heading, own)) {
      found[gap].push(headingRow(core, heading, gap, count));
    }
  }
  for (const entry of entries.values()) {
    if (entry.kind !== 'quote' || usesOf(journal, entry.id).times > 0) continue;
    found['quote-unused'].push(quoteRow(core, entry));
  }
  return {
    lists: GAP_KINDS.map((gap) => {
      const rows = found[gap].sort((a, b) => b.count - a.count || (a.id < b.id ? -1 : 1));
      return { gap, total: rows.length, rows: rows.slice(0, limit) };
    }),
  };
}

function gapsOf(heading: Heading, own: readonly Entry[]): [HeadingGap, number][] {
  const out: [HeadingGap, number][] = [];
  const has = (...kinds: EntryKind[]): boolean => own.some(({ kind }) => kinds.includes(kind));
  if (own.length === 1) out.push(['tied-once', 1]);
  if (own.length < LEAST_ENTRIES) return out;
  if (heading.kind === 'theme' && !has('lesson', 'assignment')) {
    out.push(['theme-lesson', own.length]);
  }
  if (heading.kind === 'book' && !has('question')) out.push(['book-question', own.length]);
  const questions = own.filter(({ kind }) => kind === 'question');
  // A question without a level is not said to be low.
  if (
    heading.kind !== 'person' &&
    questions.length >= LEAST_QUESTIONS &&
    questions.every(({ level }) => LOW.has(level))
  ) {
    out.push(['low-questions', questions.length]);
  }
  return out;
}

type HeadingGap = Exclude<GapKind, 'quote-unused'>;

const FILLED_BY: Record<HeadingGap, EntryKind> = {
  'theme-lesson': 'lesson',
  'book-question': 'question',
  'low-questions': 'question',
  'tied-once': 'note',
};

const tieTo = (heading: HeadingId, kind: Heading['kind']): Tie => ({
  heading,
  role: kind === 'book' ? 'from' : 'about',
  by: 'reader',
});

function headingRow(core: Core, heading: Heading, gap: HeadingGap, count: number): GapRow {
  const fill = { kind: FILLED_BY[gap], ties: [tieTo(heading.id, heading.kind)] };
  return { ...thingSaid(core, heading.id)!, count, fill };
}

/** A quote waits for a question to be read out with: it begins with the quote's own ties and place. */
function quoteRow(core: Core, quote: Entry): GapRow {
  const { headings } = core.journal.tables;
  const book = quote.ties.find(({ heading }) => headings.get(heading)?.kind === 'book');
  const from = book && headings.get(book.heading)?.name;
  const ties = quote.ties
    .filter(({ role }) => role === 'from' || role === 'about')
    .map((tie): Tie => ({ ...tie, by: 'reader' }));
  return {
    ...thingSaid(core, quote.id)!,
    count: 1,
    ...(from === undefined ? {} : { from }),
    fill: { kind: 'question', ties },
  };
}
