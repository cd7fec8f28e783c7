/** Journals with the weaving desk over them, for the states of Weave; single answers can be made to wait. */
import { readFileSync } from 'node:fs';
import type { Desk } from '../../../src/engine/desk';
import { Engine } from '../../../src/engine/engine';
import { weaveDesk } from '../../../src/engine/weave-desk-over';
import type { WeaveDesk } from '../../../src/engine/weave-desk';
import { readJournalFile } from '../../../src/journal/file';
import type { Journal } from '../../../src/journal/records';
import { wovenJournal } from '../../bench/woven-journal';

const over = (journal: Journal): Engine =>
  new Engine(journal, {
    now: () => new Date('2026-03-01T10:00:00.000Z'),
    newId: () => 'new',
  });

/** Twelve books, eight themes and a hundred entries: woven in no time. */
export const wovenEngine = (): Engine =>
  over(wovenJournal({ books: 12, themes: 8, strands: 3, each: 8 }));

export function harbourLane(): Engine {
  const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
  if (!read.ok) throw new Error(read.message);
  return over(read.journal);
}

/** A desk that weaves and does nothing else; `over` stands in for single questions. */
export function weaving(
  core: Engine,
  over: (desk: WeaveDesk) => Partial<WeaveDesk> = () => ({}),
): Desk {
  const weave = weaveDesk({
    core: () => core,
    apply: () => Promise.reject(new Error('nothing is changed by this desk')),
    loaded: () => Promise.resolve(),
  } as unknown as Parameters<typeof weaveDesk>[0]);
  return { weave: { ...weave, ...over(weave) } } as unknown as Desk;
}
