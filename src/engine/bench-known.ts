/** Books and meetings of a gathering that the journal has already, or had from the same file before. */
import { isKnown } from '../gather/accept-books';
import { headingsCalled } from '../journal/indexes';
import type { Change } from '../journal/edits';
import type { GatheringId, Journal } from '../journal/records';
import type { RecordsBeside } from '../keep/beside';
import { madeKey } from './bench-beside';
import type { BookItem, MeetingItem } from './bench-items';
import type { BenchLedger } from './bench-ledger';
import type { Core } from './core';

type Item = BookItem | MeetingItem;

/** What a reading or a meeting was told by, whatever has been altered in it since. */
const readingKey = (book: string, started = '', finished = ''): string =>
  `reading ${book} ${started} ${finished}`;
const meetingKey = (circle: string, on: string): string => `meeting ${circle} ${on}`;

export class BenchKnown {
  #journal: Journal | undefined;
  #revision = -1;
  #known = new Map<Item, { now: Item['now']; known: boolean }>();
  /** By gathering: rows it made, by what they were told by. */
  #made = new Map<GatheringId, Map<string, string[]>>();

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
    const there = (key: string, table: 'readings' | 'meetings'): boolean =>
      (made.get(key) ?? []).some((id) => (journal.tables[table] as Map<string, unknown>).has(id));
    if (item.type === 'meeting') {
      const { circle, on } = item.now;
      return circle !== undefined && there(meetingKey(circle, on), 'meetings');
    }
    const { tie, started, finished } = item.sorted;
    const books = tie.heading ? [tie.heading] : headingsCalled(journal, 'book', tie.name);
    return [...books].some((book) => there(readingKey(book, started, finished), 'readings'));
  }
}

const isOf = (journal: Journal, item: Item): boolean =>
  isKnown(journal, item.type === 'book' ? { book: item.now } : { meeting: item.now });

function rowsMade(changes: readonly Change[]): Map<string, string[]> {
  const made = new Map<string, string[]>();
  const note = (key: string, id: string): void => {
    made.set(key, [...(made.get(key) ?? []), id]);
  };
  for (const { table, before, after, id } of changes) {
    if (before || !after) continue;
    if (table === 'readings') note(readingKey(after.book, after.started, after.finished), id);
    if (table === 'meetings') note(meetingKey(after.circle, after.on), id);
  }
  return made;
}
