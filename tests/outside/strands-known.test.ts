import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Engine } from '../../src/engine/engine';
import { STRANDS_SEED, strandsNow } from '../../src/engine/strands-held';
import { readJournalFile } from '../../src/journal/file';
import type { Entry, HeadingKind, Journal } from '../../src/journal/records';
import { seededRandom } from '../../src/weave/rng';
import { strands, type Strand } from '../../src/weave/strands';
import { WeaveIndex } from '../../src/weave/weave-index';
import { wovenJournal } from '../bench/woven-journal';
import { normalisedMutualInformation, purity, tableOf, type Table } from './clustering-measures';

/** The strands as somebody who opens the journal first sees them. */
function firstSeen(journal: Journal): Strand[] {
  const engine = new Engine(journal, {
    now: () => new Date('2026-03-01T10:00:00.000Z'),
    newId: () => 'new',
  });
  const { resolution } = strandsNow(engine);
  return strands(new WeaveIndex(journal), { seed: STRANDS_SEED, resolution }).strands;
}

const headingOf = (journal: Journal, { ties }: Entry, kind: HeadingKind): string | undefined =>
  ties.find(({ heading }) => journal.tables.headings.get(heading)?.kind === kind)?.heading;

function shuffled<Item>(list: readonly Item[], seed: number): Item[] {
  const random = seededRandom(seed);
  const keyed = list.map((item) => ({ item, key: random() }));
  return keyed.sort((a, b) => a.key - b.key).map(({ item }) => item);
}

// The strands are planted: each book and each theme lies in one; a sixth of a book's entries are about any theme at all.
describe('strands that were planted', () => {
  it.each([
    { books: 60, themes: 24, strands: 5, each: 8 },
    { books: 600, themes: 60, strands: 6, each: 6 },
  ])('are found again at first sight: $strands in $books books', (size) => {
    const journal = wovenJournal(size);
    const planted = new Map<string, number>();
    for (const kind of ['book', 'theme'] as const) {
      const own = [...journal.tables.headings.values()].filter((one) => one.kind === kind);
      own.forEach(({ id }, at) => planted.set(id, at % size.strands));
    }
    const seen = firstSeen(journal);
    expect(Math.abs(seen.length - size.strands)).toBeLessThanOrEqual(1);
    const held = seen.flatMap(({ id, headings }) => headings.map((one) => ({ id, one })));
    expect(held.length).toBe(planted.size);
    const table = tableOf(
      held.map(({ id }) => id),
      held.map(({ one }) => planted.get(one)),
    );
    expect(purity(table)).toBeGreaterThan(0.97);
    expect(normalisedMutualInformation(table)).toBeGreaterThan(0.9);
  });
});

// What each entry of the demo is about was written down by hand; a strand is to hold an entry's theme with its kind, far better than by lot.
describe('strands of the demo, against the themes its entries are about', () => {
  const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
  if (!read.ok) throw new Error(read.message);
  const { journal } = read;
  const strandOf = new Map(
    firstSeen(journal).flatMap(({ id, entries }) => entries.map((one) => [one as string, id])),
  );
  const about = [...journal.tables.entries.values()].flatMap((entry) => {
    const [theme, strand] = [headingOf(journal, entry, 'theme'), strandOf.get(entry.id)];
    return theme && strand ? [{ theme, strand }] : [];
  });
  const themes = about.map(({ theme }) => theme);
  const found = about.map(({ strand }) => strand);

  it('hold most entries of a theme in one strand, as no shuffled strands do', () => {
    const own = tableOf(themes, found);
    const byLot = [1, 2, 3, 4, 5].map((seed) => tableOf(themes, shuffled(found, seed)));
    const most = (measure: (table: Table) => number): number => Math.max(...byLot.map(measure));
    expect(purity(own)).toBeGreaterThan(0.7);
    expect(purity(own)).toBeGreaterThan(1.8 * most(purity));
    expect(normalisedMutualInformation(own)).toBeGreaterThan(3 * most(normalisedMutualInformation));
  });
});
