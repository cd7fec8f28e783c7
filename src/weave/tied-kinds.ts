import type { Entry, EntryId, HeadingId, HeadingKind, Journal } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';

const BIT: Readonly<Record<HeadingKind, number>> = { book: 1, theme: 2, person: 4 };
const KINDS = Object.keys(BIT) as HeadingKind[];

/** Which kinds of headings each entry is tied to. One that has no theme at all says nothing against a theme: nobody may have gone through it. */
export class TiedKinds {
  #masks = new Map<EntryId, number>();
  #counts: Record<HeadingKind, number> = { book: 0, theme: 0, person: 0 };
  #headings = new Set<HeadingId>();

  constructor(readonly journal: Journal) {
    for (const id of journal.tables.headings.keys()) this.#headings.add(id as HeadingId);
    for (const entry of journal.tables.entries.values()) this.put(entry);
  }

  has(id: EntryId, kind: HeadingKind): boolean {
    return ((this.#masks.get(id) ?? 0) & BIT[kind]) !== 0;
  }

  /** Entries tied to some heading of a kind. */
  count(kind: HeadingKind): number {
    return this.#counts[kind];
  }

  put(entry: Entry): void {
    let mask = 0;
    for (const { heading } of entry.ties) {
      const kind = this.journal.tables.headings.get(heading)?.kind;
      if (kind) mask |= BIT[kind];
    }
    this.#set(entry.id, mask);
  }

  remove(id: EntryId): void {
    this.#set(id, 0);
    this.#masks.delete(id);
  }

  /** A heading that comes or goes after its entries. */
  follow(id: HeadingId): void {
    const there = this.journal.tables.headings.has(id);
    if (there === this.#headings.has(id)) return;
    if (there) this.#headings.add(id);
    else this.#headings.delete(id);
    for (const tied of entriesTiedTo(this.journal, id)) {
      const entry = this.journal.tables.entries.get(tied);
      if (entry) this.put(entry);
    }
  }

  #set(id: EntryId, mask: number): void {
    const changed = mask ^ (this.#masks.get(id) ?? 0);
    this.#masks.set(id, mask);
    for (const kind of KINDS)
      if (changed & BIT[kind]) this.#counts[kind] += mask & BIT[kind] ? 1 : -1;
  }
}
