/**
 * What the desk has made ready of a journal (the words of its entries, what they mean), stored beside it so that the next opening goes on from there.
 * It is no part of the journal, goes in no copy, and is made anew wherever it does not fit.
 */
import { printOf } from '../find/documents';
import type { PackedFind } from '../find/find-index';
import type { Entry, EntryId } from '../journal/records';
import type { BesideChange, RecordsBeside } from '../keep/beside';
import { fromOneBuffer, inOneBuffer } from '../keep/one-buffer';
import type { PackedWeave } from '../weave/weave-index';
import { meet, StoredIds, type MetIds } from '../language/places';
import { shownResult } from './finding';
import type { HeldJournal } from './held-journal';
import { keepLearning } from './learning';

const FIND = 'readied/find';
const WEAVE = 'readied/weave';
/** Fewer entries are made ready sooner than they are read. */
const LEAST_ENTRIES = 500;
/** Stored anew when this share of the entries has changed since, but not for a few. */
const STALE_SHARE = 0.01;
const STALE_LEAST = 50;
/** Entries gone through between two breaths. */
const SLICE = 100;
/** Words looked for before anybody asks, and letters typed of each. */
const LIMBER_WORDS = 3;
const LIMBER_LENGTHS = [1, 2, 4];

/** What is read of one part. */
interface Part<Packed> {
  made: string;
  packed: Packed;
}

interface Stored {
  edition: string;
  journal: string;
  /** The same for parts that were stored together, whose entries are in one order. */
  made: string;
  /** See {@link inOneBuffer}. A blob is brought in in less than half the time that records of arrays take. */
  packed: Blob;
}

export class Readied {
  /** What `weaveIndex.edits` was when what is stored was made; undefined where nothing that fits is stored. */
  #storedAt: number | undefined;
  #storing = false;
  #finding: Promise<void> | undefined;
  /** Of what finding was stored with: the entries' order and their prints. */
  #found: (Pick<PackedFind, 'ids' | 'prints'> & { made: string }) | undefined;
  #allRead = false;
  #settled = false;

  /** `edition` names the program that packs: what another has packed is not read, since it may take words apart otherwise. */
  constructor(
    readonly core: HeldJournal,
    readonly records: RecordsBeside,
    readonly edition: string,
    readonly around: { breathe: () => Promise<void>; quiet: () => Promise<void> },
  ) {}

  /** Goes on with finding from what is stored, while entries are still being read. Never throws: without it all is made anew. */
  resumeFind(): Promise<void> {
    return (this.#finding ??= this.#resumeFind());
  }

  async #resumeFind(): Promise<void> {
    // The first answer goes before.
    await this.around.breathe();
    const stored = await this.#read<PackedFind>(FIND);
    if (stored) {
      const { made, packed } = stored;
      this.#found = { made, ids: packed.ids, prints: packed.prints };
      if (!this.#allRead) this.core.findIndex.resume(packed);
    }
    await this.#limberFinding();
  }

  /** Finds what nobody asked for, so that the first key is answered as fast as the tenth: code that has run is compiled by then. */
  async #limberFinding(words = LIMBER_WORDS): Promise<void> {
    const [newest] = this.core.journal.tables.entries.values();
    for (const word of newest?.text.match(/\p{L}{5,}/gu)?.slice(0, words) ?? [])
      for (const typed of LIMBER_LENGTHS) {
        await this.around.breathe();
        shownResult(this.core, { text: word.slice(0, typed), typing: true });
      }
  }

  /** The same for what lies near; what it is read from is put together by it. */
  async #limberNear(): Promise<void> {
    const [newest] = this.core.journal.tables.entries.keys() as Iterable<EntryId>;
    await this.around.breathe();
    if (newest) this.core.near({ entries: [newest] });
  }

  /** Every entry is read: what is found is so from here on. Resolves when that can be told quickly. */
  async allRead(): Promise<void> {
    this.#allRead = true;
    this.core.findIndex.allArrived();
    await this.#limberNear();
    await this.#limberFinding(1);
  }

  /** Goes on with the weave from what is stored, once every entry is read; learns what is not known, and stores what has changed. */
  async settle(): Promise<void> {
    const { core, around } = this;
    await this.resumeFind();
    await around.quiet();
    const stored = await this.#read<PackedWeave>(WEAVE);
    const found = this.#found;
    this.#found = undefined;
    if (stored && found?.made === stored.made) {
      const { weaveIndex } = core;
      const began = weaveIndex.edits;
      const resuming = weaveIndex.resume(stored.packed, this.#asStored(found));
      while (!resuming.next().done) await this.around.breathe();
      this.#storedAt = began;
      await this.#limberNear();
    }
    this.#settled = true;
    await this.rest();
  }

  /** Entries that are as they were stored. Finding knows them where it went on from the same. */
  #asStored({ ids, prints }: Pick<PackedFind, 'ids' | 'prints'>): MetIds {
    const known = this.core.findIndex.asStored();
    if (known.places.span === ids.length) return known;
    const { journal } = this.core;
    const places = new StoredIds(ids);
    const met = new Array<EntryId | undefined>(ids.length).fill(undefined);
    for (const entry of journal.tables.entries.values() as Iterable<Entry>) {
      const place = places.placeOf(entry.id);
      if (place !== undefined && prints[place] === printOf(journal, entry)) met[place] = entry.id;
    }
    return meet(places, met);
  }

  /** To be called when nothing else is to do: learns anew and stores anew where much has changed. Nothing until what was stored is gone on with. */
  async rest(): Promise<void> {
    if (this.#storing || !this.#settled) return;
    this.#storing = true;
    try {
      await keepLearning(this.core, this.around.breathe);
      if (this.#stale) await this.#store();
      else if (this.#storedAt !== undefined && this.#few) await this.#forget();
    } finally {
      this.#storing = false;
    }
  }

  get #few(): boolean {
    return this.core.journal.tables.entries.size < LEAST_ENTRIES;
  }

  get #stale(): boolean {
    if (this.#few) return false;
    const { size } = this.core.journal.tables.entries;
    const changed = this.core.weaveIndex.edits - (this.#storedAt ?? -Infinity);
    return changed > Math.max(STALE_LEAST, STALE_SHARE * size);
  }

  async #store(): Promise<void> {
    const { core } = this;
    const { revision } = core;
    const { edits } = core.weaveIndex;
    const prints = new Map<EntryId, number>();
    for (const entry of [...core.journal.tables.entries.values()] as Entry[]) {
      prints.set(entry.id, printOf(core.journal, entry));
      if (prints.size % SLICE === 0) await this.around.breathe();
    }
    const made = crypto.randomUUID();
    let ids: EntryId[] = [];
    const packed = {
      [FIND]: () => {
        const find = core.findIndex.pack(prints);
        ids = find.ids;
        return find.packed;
      },
      [WEAVE]: () => core.weaveIndex.pack(ids),
    };
    for (const [key, pack] of Object.entries(packed)) {
      // Packing holds everything else up.
      await this.around.quiet();
      // The prints are of the journal as it was: what has changed meanwhile is stored at the next rest.
      if (core.revision !== revision) return;
      const stored: Stored = {
        edition: this.edition,
        journal: core.journal.id,
        made,
        packed: new Blob(inOneBuffer(pack())),
      };
      const kept = await this.records.put([[key, stored]]).catch(() => false);
      if (!kept) return;
    }
    this.#storedAt = edits;
  }

  async #forget(): Promise<void> {
    const gone: BesideChange[] = [FIND, WEAVE].map((key) => [key, undefined]);
    if (await this.records.put(gone).catch(() => false)) this.#storedAt = undefined;
  }

  async #read<Packed>(key: string): Promise<Part<Packed> | undefined> {
    try {
      const stored = await this.records.get<Stored>(key);
      if (stored?.edition !== this.edition || stored.journal !== this.core.journal.id)
        return undefined;
      const packed = fromOneBuffer(await stored.packed.arrayBuffer()) as Packed;
      return { made: stored.made, packed };
    } catch {
      return undefined;
    }
  }
}
