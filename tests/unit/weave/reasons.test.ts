import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readJournalFile } from '../../../src/journal/file';
import type { EntryId, HeadingId, Journal } from '../../../src/journal/records';
import { plainText } from '../../../src/language/markdown';
import { nearTo } from '../../../src/weave/near';
import type { Seeds } from '../../../src/weave/seeds';
import { proposeFor, proposeHeadingsFor } from '../../../src/weave/tied';
import { WeaveIndex } from '../../../src/weave/weave-index';
import { arbitraryJournal } from '../journal/arbitrary-journal';
import {
  entryReasonProblem,
  headingReasonProblem,
  proposalReasonProblem,
  thesaurus,
} from './true-reasons';

const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
if (!read.ok) throw new Error(read.message);
const demo = read.journal;
const entryIds = (journal: Journal): EntryId[] => [...journal.tables.entries.keys()] as EntryId[];
const headingIds = (journal: Journal): HeadingId[] =>
  [...journal.tables.headings.keys()] as HeadingId[];
const everyNth = <Item>(items: readonly Item[], step: number): Item[] =>
  items.filter((_, at) => at % step === 0);

/** What is untrue among the reasons for what is near, and how many reasons of each kind were looked at. */
function untrueNear(
  index: WeaveIndex,
  seeds: Seeds,
  seen: Map<string, number> = new Map(),
): string[] {
  return nearTo(index, seeds, { limit: 15 }).flatMap(({ id, type, reasons }) => {
    if (reasons.length === 0) return [`${id}: no reason`];
    return reasons.flatMap((reason) => {
      const key = `${type} ${reason.code}`;
      seen.set(key, (seen.get(key) ?? 0) + 1);
      const problem =
        type === 'entry'
          ? entryReasonProblem(index.journal, seeds, id as EntryId, reason)
          : headingReasonProblem(index.journal, seeds, id as HeadingId, reason);
      return problem === undefined ? [] : [`${id}: “${reason.text}”: ${problem}`];
    });
  });
}

function untrueProposals(index: WeaveIndex): { untrue: string[]; seen: Map<string, number> } {
  const { journal } = index;
  const untrue: string[] = [];
  const seen = new Map<string, number>();
  const check = (
    entry: EntryId,
    heading: HeadingId,
    reasons: ReturnType<typeof proposeFor>[0]['reasons'],
  ): void => {
    const row = journal.tables.entries.get(entry)!;
    const text = `${plainText(row.title ?? '')}\n${plainText(row.text)}`;
    const ties = row.ties.map((tie) => tie.heading);
    if (reasons.length === 0) untrue.push(`${entry}: no reason`);
    for (const reason of reasons) {
      const how = reason.text.endsWith(' in meaning') ? ' by meaning' : ' by name';
      const key = `${reason.code}${reason.text.startsWith('has ') ? how : ''}`;
      seen.set(key, (seen.get(key) ?? 0) + 1);
      const problem = proposalReasonProblem(journal, text, ties, heading, reason);
      if (problem !== undefined) untrue.push(`${entry}: “${reason.text}”: ${problem}`);
    }
  };
  for (const heading of headingIds(journal)) {
    for (const row of proposeFor(index, heading, { limit: 8 })) check(row.id, heading, row.reasons);
  }
  for (const entry of everyNth(entryIds(journal), 4)) {
    for (const row of proposeHeadingsFor(index, entry)) check(entry, row.id, row.reasons);
  }
  return { untrue, seen };
}

describe('every reason given in the Harbour Lane journal', () => {
  const index = new WeaveIndex(demo, thesaurus);

  it('for what is near an entry, a heading or some words is true', () => {
    const seen = new Map<string, number>();
    const used = [...demo.tables.meetings.values()].flatMap(({ items }) =>
      items.flatMap((item) => item.entry ?? []),
    );
    const untrue = [
      ...everyNth(entryIds(demo), 6).flatMap((id) => untrueNear(index, { entries: [id] }, seen)),
      ...used.slice(0, 20).flatMap((id) => untrueNear(index, { entries: [id] }, seen)),
      ...everyNth(headingIds(demo), 5).flatMap((id) => untrueNear(index, { headings: [id] }, seen)),
      ...untrueNear(
        index,
        { text: 'Courage in a storm at sea, and the letters of Frankenstein' },
        seen,
      ),
      ...untrueNear(
        index,
        { entries: entryIds(demo).slice(0, 12), headings: headingIds(demo).slice(0, 3) },
        seen,
      ),
    ];
    expect(untrue).toEqual([]);
    for (const code of [
      'shares-heading',
      'shares-words',
      'asked-together',
      'same-chapter',
      'narrower',
      'linked',
    ]) {
      expect(seen.get(`entry ${code}`), code).toBeGreaterThan(5);
    }
    for (const code of ['shares-heading', 'narrower', 'linked']) {
      expect(seen.get(`heading ${code}`), code).toBeGreaterThan(2);
    }
  });

  it('for what probably should be tied is true', () => {
    const { untrue, seen } = untrueProposals(index);
    expect(untrue).toEqual([]);
    for (const key of [
      'shares-words',
      'shares-words by name',
      'shares-words by meaning',
      'shares-heading',
    ]) {
      expect(seen.get(key), key).toBeGreaterThan(5);
    }
  });
});

describe('every reason given in any journal', () => {
  it('is true', () => {
    fc.assert(
      fc.property(arbitraryJournal(), fc.nat(20), fc.nat(20), (journal, first, second) => {
        const index = new WeaveIndex(journal, thesaurus);
        const [entries, headings] = [entryIds(journal), headingIds(journal)];
        const entry = entries[first % Math.max(1, entries.length)];
        const heading = headings[second % Math.max(1, headings.length)];
        const asks: Seeds[] = [
          { text: 'lorem ipsum dolor' },
          ...(entry ? [{ entries: [entry] }] : []),
          ...(heading ? [{ headings: [heading] }] : []),
          ...(entry && heading ? [{ entries: [entry], headings: [heading], text: 'Amet' }] : []),
        ];
        expect(asks.flatMap((seeds) => untrueNear(index, seeds))).toEqual([]);
        expect(untrueProposals(index).untrue).toEqual([]);
      }),
      { numRuns: 150 },
    );
  });
});

describe('the checks themselves', () => {
  it('find fault with most reasons when told of another entry', () => {
    const index = new WeaveIndex(demo, thesaurus);
    const ids = entryIds(demo);
    let [told, faults] = [0, 0];
    for (const id of everyNth(ids, 20)) {
      const seeds = { entries: [id] };
      for (const hit of nearTo(index, seeds, { limit: 10 })) {
        if (hit.type !== 'entry') continue;
        const other = ids[(ids.indexOf(hit.id as EntryId) + 200) % ids.length]!;
        told += 1;
        if (entryReasonProblem(demo, seeds, other, hit.reasons[0]!) !== undefined) faults += 1;
      }
    }
    expect(told).toBeGreaterThan(100);
    expect(faults / told).toBeGreaterThan(0.85);
  });
});
