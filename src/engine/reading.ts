/** The reading room asked over a journal: challenges solved, figures counted. The same for the app and the command line. */
import type { BookHeading, Challenge, HeadingId, Journal, PromptRule } from '../journal/records';
import { allFacts, headingsMeant, type BookFacts } from '../reading/book-facts';
import { solveChallenge, type ChallengeAnswer } from '../reading/challenge';
import { figuresFor, type Figures } from '../reading/figures';
import type { Meant } from '../reading/rules';
import type { Core } from './core';

export type { ChallengeAnswer, Figures };

/** The local day of a time, as an ISO day. */
export function localDay(at: Date): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${String(at.getFullYear()).padStart(4, '0')}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

export const todayOf = (core: Pick<Core, 'around'>): string => localDay(core.around.now());

export const bookOf = (journal: Journal, id: HeadingId): BookHeading | undefined => {
  const heading = journal.tables.headings.get(id);
  return heading?.kind === 'book' ? heading : undefined;
};

const RULE_KINDS: Partial<Record<PromptRule['by'], 'book' | 'theme' | 'person'>> = {
  theme: 'theme',
  person: 'person',
  author: 'person',
  book: 'book',
};

/** Looks up what rules name, each name once. */
function meantIn(journal: Journal): Meant {
  const known = new Map<string, ReadonlySet<HeadingId>>();
  return (rule) => {
    const kind = RULE_KINDS[rule.by];
    if (!kind || rule.is === undefined) return new Set();
    const key = `${kind} ${rule.is}`;
    let meant = known.get(key);
    if (!meant) known.set(key, (meant = headingsMeant(journal, rule.is, kind)));
    return meant;
  };
}

/** Books of every list in its order, with the names of the lists each stands on. A sealed list is passed over. */
function listedBooks(journal: Journal): Map<HeadingId, string[]> {
  const listed = new Map<HeadingId, string[]>();
  for (const list of journal.tables.lists.values()) {
    if (list.seal) continue;
    for (const book of list.books) listed.set(book, [...(listed.get(book) ?? []), list.name]);
  }
  return listed;
}

export function challengeAnswer(
  core: Pick<Core, 'journal' | 'around'>,
  challenge: Challenge,
  facts: ReadonlyMap<HeadingId, BookFacts> = allFacts(core.journal),
): ChallengeAnswer {
  const { journal } = core;
  return solveChallenge({
    challenge,
    facts,
    readings: journal.tables.readings.values(),
    listed: listedBooks(journal),
    meant: meantIn(journal),
    named: (is) => journal.tables.headings.get(is)?.name ?? is,
    today: todayOf(core),
  });
}

/** Figures of a stretch of ISO days, both included. */
export function figuresOf(
  core: Pick<Core, 'journal' | 'around'>,
  span: { from: string; to: string },
): Figures {
  const { journal } = core;
  return figuresFor({
    readings: journal.tables.readings.values(),
    pagesOf: (id) => bookOf(journal, id)?.pages,
    ...span,
    today: todayOf(core),
  });
}
