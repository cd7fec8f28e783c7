import type { Entry, EntryId, HeadingId, HeadingKind, Journal } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';

const KINDS: readonly HeadingKind[] = ['book', 'theme', 'person'];
type Counts = Record<HeadingKind, number>;
const none = (): Counts => ({ book: 0, theme: 0, person: 0 });

/**
 * Which kinds of headings entries are tied to, all of them and those tied to each heading. An entry that has no theme at all says nothing
 * against a theme: nobody may have gone through it.
 */
export class TiedKinds {
  #held = new Map<EntryId, { kinds: HeadingKind[]; headings: HeadingId[] }>();
  #counts = none();
  #beside = new Map<HeadingId, Counts>();
  #headings = new Set<HeadingId>();

  constructor(readonly journal: Journal) {
    for (const id of journal.tables.headings.keys()) this.#headings.add(id as HeadingId);
    for (const entry of journal.tables.entries.values()) this.put(entry);
  }

  has(id: EntryId, kind: HeadingKind): boolean {
    return this.#held.get(id)?.kinds.includes(kind) ?? false;
  }

  /** The headings an entry is tied to, each once. */
  headingsOf(id: EntryId): readonly HeadingId[] {
    return this.#held.get(id)?.headings ?? [];
  }

  /** Entries tied to some heading of a kind. */
  count(kind: HeadingKind): number {
    return this.#counts[kind];
  }

  /** Of the entries tied to a heading, those tied to some heading of a kind. */
  beside(id: HeadingId, kind: HeadingKind): number {
    return this.#beside.get(id)?.[kind] ?? 0;
  }

  put(entry: Entry): void {
    this.remove(entry.id);
    const headings = [...new Set(entry.ties.map((tie) => tie.heading))];
    const found = new Set(headings.map((id) => this.journal.tables.headings.get(id)?.kind));
    const kinds = KINDS.filter((kind) => found.has(kind));
    this.#held.set(entry.id, { kinds, headings });
    this.#add(entry.id, 1);
  }

  remove(id: EntryId): void {
    this.#add(id, -1);
    this.#held.delete(id);
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

  #add(id: EntryId, by: 1 | -1): void {
    const { kinds, headings } = this.#held.get(id) ?? { kinds: [], headings: [] };
    for (const kind of kinds) this.#counts[kind] += by;
    for (const heading of headings) {
      const held = this.#beside.get(heading) ?? none();
      for (const kind of kinds) held[kind] += by;
      this.#beside.set(heading, held);
    }
  }
}
