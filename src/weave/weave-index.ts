/**
 * The weave: how entries and headings hang together by ties and by words. This room owns nearness, chains, strands and what
 * probably should be tied, each with its reason; it changes no journal, draws nothing and knows nothing of meetings to come.
 */
import type { Entry, EntryId, Heading, HeadingId, Journal } from '../journal/records';
import { LatentSpace, type PackedSpace } from '../language/latent-space';
import type { MetIds } from '../language/places';
import type { RelatedWords } from '../language/related-words';
import { ClothTable } from './cloth-table';
import { LinkTable } from './links';
import { NameTable } from './heading-names';
import { RelatedNames } from './related-names';
import { wordsOf } from './shown';
import { TiedKinds } from './tied-kinds';
import { WordTable, type PackedWords } from './words';

/** What of a journal's weave is stored between two openings: entries in an order that is told beside it. */
export interface PackedWeave {
  words: PackedWords;
  meaning?: PackedSpace;
  /** See {@link WeaveIndex.unlearnt}. */
  unlearnt: number;
}

/** Entries whose stems are handed over between two breaths. */
const STEMS_SLICE = 100;
/** Entries whose words are read between two breaths. */
const WORDS_SLICE = 1000;

/**
 * What is kept ready for one journal. Each part is built when first asked for and follows single edits from then on; the cost
 * of an edit is that of the row. Meetings and declined ties are read from the journal itself, which has its own index of them.
 */
export class WeaveIndex {
  #links?: LinkTable;
  #words?: WordTable;
  /** Words that are being read; edits reach them too. */
  #reading: { table: WordTable; rows: Iterator<Entry, void>; read: number } | undefined;
  #names?: NameTable;
  #cloth?: ClothTable;
  #kinds?: TiedKinds;
  #related?: RelatedNames;
  /** Grows with every edit that has reached it, so that what was made from it can tell whether it still holds. */
  edits = 0;

  #meaning?: LatentSpace;
  /** What `edits` was when the latent semantics were last learnt. */
  #learntAt = 0;

  #thesaurus?: RelatedWords;

  /** Without a thesaurus only the journal's own names and words lead to a heading. */
  constructor(
    readonly journal: Journal,
    thesaurus?: RelatedWords,
  ) {
    this.#thesaurus = thesaurus;
  }

  set thesaurus(thesaurus: RelatedWords | undefined) {
    this.#thesaurus = thesaurus;
    this.#related = undefined;
  }

  /** Latent semantics of the entries' words, where they have been learnt; entries changed since are placed by what was learnt. */
  get meaning(): LatentSpace | undefined {
    return this.#meaning;
  }

  /** Edits that the latent semantics have only followed, not learnt from; infinite where nothing is learnt. */
  get unlearnt(): number {
    return this.#meaning ? this.edits - this.#learntAt : Infinity;
  }

  /**
   * Learns latent semantics from all entries as they now are, breathing between slices; entries changed meanwhile are placed when it
   * ends. Takes seconds for 20,000 entries, so it is for when nothing else is asked.
   */
  *learnMeaning(): Generator<void, void> {
    for (const _ of this.readWords()) yield;
    const { words } = this;
    const began = this.edits;
    const held = new Set([...this.journal.tables.entries.keys()] as EntryId[]);
    const rows: [EntryId, ReturnType<WordTable['stemsIn']>][] = [];
    for (const id of held) {
      rows.push([id, words.stemsIn(id)]);
      if (rows.length % STEMS_SLICE === 0) yield;
    }
    const meaning = yield* LatentSpace.learn(rows);
    if (this.edits !== began) {
      const { entries } = this.journal.tables;
      for (const id of held) if (!entries.has(id)) meaning.remove(id);
      for (const { id } of entries.values()) meaning.put(id, words.stemsIn(id));
    }
    this.#meaning = meaning;
    this.#learntAt = began;
  }

  /** The stems of entries and what they mean, as they can be stored; `ids` are all entries, in the order they are stored in. */
  pack(ids: readonly EntryId[]): PackedWeave {
    return {
      words: this.words.pack(ids),
      ...(this.#meaning ? { meaning: this.#meaning.pack(ids) } : {}),
      unlearnt: this.#meaning ? this.unlearnt : 0,
    };
  }

  /**
   * Goes on from what was packed at an earlier opening, where that is not there yet, with the entries of that order that stand as they were then;
   * the others are followed, between breaths. To be run to its end once every entry is read.
   */
  *resume(packed: PackedWeave, list: MetIds): Generator<void, void> {
    const { entries } = this.journal.tables;
    const { ids, places } = list;
    if (!this.#meaning && packed.meaning) {
      this.#meaning = LatentSpace.of(packed.meaning, list);
      this.#learntAt = this.edits - packed.unlearnt;
    }
    this.#words ??= WordTable.of(packed.words, list);
    yield;
    let gone = ids.length - places.size;
    let done = 0;
    for (const id of [...entries.keys()]) {
      const entry = entries.get(id);
      if (entry && ids[places.placeOf(id) ?? -1] !== id) {
        this.put(entry);
        gone -= 1;
      }
      if (++done % STEMS_SLICE === 0) yield;
    }
    this.edits += Math.max(0, gone);
  }

  /** Ties and relations as numbers, for walks and chains. */
  get links(): LinkTable {
    return (this.#links ??= LinkTable.of(this.journal));
  }

  /** The stems of every entry. */
  get words(): WordTable {
    if (!this.#words) for (const _ of this.readWords());
    return this.#words!;
  }

  /** Reads the words of all entries if they are not known, breathing between slices; yields how much is read, 0 to 1. */
  *readWords(): Generator<number, void> {
    const { entries } = this.journal.tables;
    if (!this.#words) this.#reading ??= { table: new WordTable(), rows: entries.values(), read: 0 };
    // More than one may wait for the same words: each goes on where the other stopped.
    for (let reading = this.#reading; reading; reading = this.#reading) {
      const { value: entry, done } = reading.rows.next();
      if (done) {
        this.#words = reading.table;
        this.#reading = undefined;
        return;
      }
      reading.table.put(entry.id, wordsOf(entry));
      if (++reading.read % WORDS_SLICE === 0) yield reading.read / entries.size;
    }
  }

  /** What headings are called, to be found in running text. */
  get names(): NameTable {
    if (!this.#names) {
      this.#names = new NameTable();
      for (const heading of this.journal.tables.headings.values()) this.#names.put(heading);
    }
    return this.#names;
  }

  /** Which kinds of headings each entry has. */
  get kinds(): TiedKinds {
    return (this.#kinds ??= new TiedKinds(this.journal));
  }

  /** Words near in meaning to what themes are called. */
  get related(): RelatedNames {
    return (this.#related ??= new RelatedNames(
      this.#thesaurus,
      this.journal.tables.headings.values(),
    ));
  }

  /** What crosses what, to be counted for the cloth. */
  get cloth(): ClothTable {
    return (this.#cloth ??= ClothTable.of(this.journal));
  }

  put(entry: Entry): void {
    this.edits += 1;
    this.#cloth?.put(entry);
    this.#kinds?.put(entry);
    this.#links?.put(entry);
    (this.#words ?? this.#reading?.table)?.put(entry.id, wordsOf(entry));
    this.#meaning?.put(entry.id, this.words.stemsIn(entry.id));
  }

  remove(id: EntryId): void {
    this.edits += 1;
    this.#cloth?.remove(id);
    this.#kinds?.remove(id);
    this.#links?.remove(id);
    (this.#words ?? this.#reading?.table)?.remove(id);
    this.#meaning?.remove(id);
  }

  putHeading(heading: Heading): void {
    this.edits += 1;
    this.#links?.putHeading(heading);
    this.#names?.put(heading);
    this.#kinds?.follow(heading.id);
    this.#related?.put(heading);
  }

  removeHeading(id: HeadingId): void {
    this.edits += 1;
    this.#links?.remove(id);
    this.#names?.remove(id);
    this.#kinds?.follow(id);
    this.#related?.remove(id);
  }
}
