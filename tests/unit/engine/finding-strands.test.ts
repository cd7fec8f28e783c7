import { describe, expect, it } from 'vitest';
import { Engine } from '../../../src/engine/engine';
import { FindingStrands } from '../../../src/engine/finding-strands';
import { groupsOf, type Grouper } from '../../../src/engine/grouping';
import { strandsNow } from '../../../src/engine/strands-held';
import type { StrandsProgress } from '../../../src/engine/weave-answers';
import type { EntryId } from '../../../src/journal/records';
import { removeEntries } from '../../../src/journal/make-edits';
import { wovenJournal } from '../../bench/woven-journal';

/** So many that groups are found by a worker. */
const engine = (): Engine =>
  new Engine(wovenJournal({ books: 280, themes: 40, strands: 5, each: 18 }), {
    now: () => new Date('2026-03-01T10:00:00.000Z'),
    newId: () => 'new',
  });
/** As a worker does it: on a copy, and later. */
const elsewhere: Grouper = async (asked) => {
  const copy = structuredClone(asked);
  await new Promise((resolve) => {
    setTimeout(resolve, 5);
  });
  return structuredClone(groupsOf(copy));
};

describe('strands found for a screen', () => {
  it('are those found at once, looked for once however often they are asked for, and others are answered meanwhile', async () => {
    const core = engine();
    let asked = 0;
    const finding = new FindingStrands((groups) => {
      asked += 1;
      return elsewhere(groups);
    });
    const told: StrandsProgress[] = [];
    const looking = setInterval(() => {
      const now = finding.progress();
      if (now) told.push(now);
    });
    await Promise.all([finding.ready(core), finding.ready(core)]);
    clearInterval(looking);
    expect(asked).toBe(1);
    expect(told.length).toBeGreaterThan(3);
    const shares = told.map(({ share }) => share);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(new Set(told.map(({ doing }) => doing))).toContain('groups');
    expect(told[0]!.entries).toBe(core.journal.tables.entries.size);
    expect(finding.progress()).toBeUndefined();
    expect(strandsNow(core)).toEqual(strandsNow(engine()));
  });

  it('are found where the journal is, when the worker fails', async () => {
    const core = engine();
    await new FindingStrands(() => Promise.reject(new Error('no worker'))).ready(core);
    expect(strandsNow(core)).toEqual(strandsNow(engine()));
  });

  it('hold though entries go while they are found', async () => {
    const core = engine();
    const finding = new FindingStrands(async (asked) => {
      const [first] = core.journal.tables.entries.keys() as Iterable<EntryId>;
      const done = core.apply(removeEntries(core.journal, [first!])!);
      expect(done.ok).toBe(true);
      return groupsOf(asked);
    });
    await finding.ready(core);
    const { strands } = strandsNow(core);
    expect(strands.length).toBeGreaterThan(3);
    expect(strandsNow(core).behind).toBe(1);
  });
});
