/** Books and meetings of a gathering that the journal has already, or had from the same file before. */
import { isKnown } from '../gather/accept-books';
import { headingsCalled } from '../journal/indexes';
import type { Change } from '../journal/edits';
import { knownReading } from '../journal/known-reading';
import type { GatheringId, Journal, Meeting, Reading } from '../journal/records';
import type { RecordsBeside } from '../keep/beside';
import { madeKey } from './bench-beside';
import type { BookItem, MeetingItem } from './bench-items';
import type { BenchLedger } from './bench-ledger';
import type { Core } from './core';

type Item = BookItem | MeetingItem;

/** Rows a gathering made, as it made them, whatever has been altered in them since. */
interface RowsMade {
  readings: Reading[];
  meetings: Meeting[];
}

export class BenchKnown {
  #journal: Journal | undefined;
  #revision = -1;
  #known = new Map<Item, { now: Item['now']; known: boolean }>();
  #made = new Map<GatheringId, RowsMade>();

  constructor(
    readonly ledger: BenchLedger,
    readonly core: () => Core,
  ) {}

  /** Takes in what earlier gatherings of the same bytes brought. */
  async load(records: RecordsBeside): Promise<void> {
    for (const [, { told }] of this.ledger.files()) {
      if (!told.before || this.#made.has(told.before)) continue;
      const made = await records.all<Change[]>(madeKey(told.before, '')).catch(() => []);
      this.#made.set(told.before, rowsMade(made.flatMap(([, changes]) => changes)));
    }
  }

  /** Whether accepting it would bring nothing. */
  has(item: Item): boolean {
    const { journal, revision } = this.core();
    if (journal !== this.#journal || revision !== this.#revision) {
      this.#known.clear();
      this.#journal = journal;
      this.#revision = revision;
    }
    const held = this.#known.get(item);
    if (held && held.now === item.now) return held.known;
    const known = isOf(journal, item) || this.#cameBefore(journal, item);
    this.#known.set(item, { now: item.now, known });
    return known;
  }

  /** The same bytes brought it before, and what they brought is still there, altered or not. */
  #cameBefore(journal: Journal, item: Item): boolean {
    const before = this.ledger.file(item.file)?.told.before;
    const made = before && this.#made.get(before);
    if (!made) return false;
    if (item.type === 'meeting') {
      const { circle, on } = item.now;
      return made.meetings.some(
        (row) => row.circle === circle && row.on === on && journal.tables.meetings.has(row.id),
      );
    }
    const { tie, started, finished, abandoned, rating } = item.sorted;
    const books = new Set(tie.heading ? [tie.heading] : headingsCalled(journal, 'book', tie.name));
    const there = made.readings.filter(
      ({ id, book }) => books.has(book) && journal.tables.readings.has(id),
    );
    return knownReading(there, { started, finished, abandoned, rating }) !== undefined;
  }
}

const isOf = (journal: Journal, item: Item): boolean =>
  isKnown(journal, item.type === 'book' ? { book: item.now } : { meeting: item.now });

function rowsMade(changes: readonly Change[]): RowsMade {
  const made: RowsMade = { readings: [], meetings: [] };
  for (const { table, before, after } of changes) {
    if (before || !after) continue;
    if (table === 'readings') made.readings.push(after);
    if (table === 'meetings') made.meetings.push(after);
  }
  return made;
}
