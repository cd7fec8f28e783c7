import { beforeAll, describe, expect, it } from 'vitest';
import { entriesTiedTo } from '../../../src/journal/uses';
import type { EntryId, HeadingId, Journal } from '../../../src/journal/records';
import { chain } from '../../../src/weave/chain';
import { nearTo } from '../../../src/weave/near';
import { proposeFor } from '../../../src/weave/tied';
import { seededRandom } from '../../../src/weave/rng';
import { WeaveIndex } from '../../../src/weave/weave-index';
import { book, entry, journalOf, theme, tieTo } from '../journal/few';

const ENTRIES = 20_000;
/** How many times slower than meant a busy or slow machine may be before a test fails. */
const SLACK = 4;

/** 20,000 entries of 40 words from a vocabulary of 8,000, each tied to a book and three themes, some headings far commoner than others. */
function largeJournal(): Journal {
  const random = seededRandom(5);
  const oneOf = (count: number, skew: number): number => Math.floor(count * random() ** skew);
  const books = Array.from({ length: 600 }, (_, at) => book(`b${at}`));
  const themes = Array.from({ length: 400 }, (_, at) => theme(`t${at}`));
  const rows = Array.from({ length: ENTRIES }, (_, at) => {
    const words = Array.from({ length: 40 }, () => `w${oneOf(8000, 3).toString(36)}ord`);
    const place = { chapter: String(oneOf(30, 1)) };
    const tied = new Set([1, 2, 3].map(() => `t${oneOf(400, 2)}`));
    const ties = [...tied].map((id) => tieTo(id));
    ties.push(tieTo(`b${oneOf(600, 2)}`, { role: 'from', place }));
    return entry(`e${String(at).padStart(6, '0')}`, { text: words.join(' '), ties });
  });
  return journalOf(...books, ...themes, ...rows);
}

const taken = (act: () => unknown): number => {
  const start = performance.now();
  act();
  return performance.now() - start;
};

/** The middle of several times of the same act, in milliseconds. */
function middle(times: number, act: (turn: number) => unknown): number {
  const found = Array.from({ length: times }, (_, turn) => taken(() => act(turn)));
  return found.sort((a, b) => a - b)[Math.floor(times / 2)]!;
}

describe('the weave of 20,000 entries', () => {
  let index: WeaveIndex;
  let buildMs: number;
  const id = (at: number): EntryId => `e${String(at).padStart(6, '0')}` as EntryId;

  beforeAll(() => {
    const journal = largeJournal();
    entriesTiedTo(journal, 't0' as HeadingId); // the journal's own index is not the weave's
    index = new WeaveIndex(journal);
    buildMs = taken(() => [index.links, index.words, index.names]);
  }, 60_000);

  it('is built in about two seconds', () => {
    expect(buildMs).toBeLessThan(2000 * SLACK);
  });

  it('tells what is near in about 30 ms, and in about 60 ms just after an edit', () => {
    const near = (at: number): unknown => nearTo(index, { entries: [id(at)] }, { limit: 12 });
    middle(5, near);
    expect(middle(15, (turn) => near(turn * 1301))).toBeLessThan(30 * SLACK);
    const edited = middle(9, (turn) => {
      index.put(index.journal.tables.entries.get(id(turn))!);
      return near(turn);
    });
    expect(edited).toBeLessThan(60 * SLACK);
  });

  it('finds a chain and proposals while a reader waits', () => {
    expect(middle(9, (turn) => chain(index, id(turn), id(turn * 1999 + 7)))).toBeLessThan(
      50 * SLACK,
    );
    const proposing = middle(3, (turn) => proposeFor(index, `t${turn}` as HeadingId));
    expect(proposing).toBeLessThan(500 * SLACK);
  });
});
