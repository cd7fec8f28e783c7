import type { CircleId, Entry, EntryId, Heading, HeadingId, Journal } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { IntList } from '../language/int-list';
import { meet, printOfId, StoredIds, type MetIds } from '../language/places';
import { stem } from '../language/stem';
import type { FindAnswer } from './answer';
import { Columns } from './columns';
import { factsOf, printOf, usedEntries, wordsByField, type Facts, type Used } from './documents';
import type { RelatedWords } from '../language/related-words';
import { expansionsOf, relatedTerms, type Expansion } from './expand';
import { bareHit, explain, meantBy, type Asked } from './explain';
import { matchesOf } from './matching';
import { Names } from './names';
import { ALL, FacetCount, passer } from './narrow';
import type { PackedPassages } from './packed-passages';
import { PassageIndex } from './passage-index';
import { orderOf } from './order';
import { asTyped, readQuery, withoutPhrase, withoutWord, type FindQuery } from './query';
import { relatedTo } from './related';
import { firstOf, Tally, type Matches } from './word-scores';

const USUAL_LIMIT = 20;
const MOST_HEADINGS = 50;
/** Related words told of one typed word. */
const MOST_RELATED_TOLD = 8;
/** Forms, spellings and endings told of one typed word. */
const MOST_STAND_INS = 6;
/** Words offered to be left out when nothing is found. */
const MOST_LOOSENED = 6;
/** Built anew when more than this share of its documents are of entries changed since. */
const REBUILD_AT = 0.4;

/** The index of a journal as it is stored: entries in the order of their documents, by the prints of their ids. */
export interface PackedFind {
  ids: Float64Array;
  prints: Float64Array;
  passages: PackedPassages;
}

/** What was packed at an earlier opening: documents by entry, their prints, and 1 for each whose entry has not come yet. */
interface Stored {
  places: StoredIds;
  prints: ArrayLike<number>;
  awaited: Uint8Array;
}

const NOTHING_STORED: Stored = { places: new StoredIds(), prints: [], awaited: new Uint8Array(0) };

/** Full-text search over one journal. Follows single edits; the cost of one is that of the entry. */
export class FindIndex {
  #index = new PassageIndex(stem);
  #names: Names;
  #docs = new Map<EntryId, number>();
  #facts: (Facts | undefined)[] = [];
  #columns = new Columns();
  #tally = new Tally();
  /** Uses by document, until an entry or a meeting changes. */
  #used: ReadonlyMap<number, Used> | undefined;
  /** Documents by heading they are tied to, where that was asked; until an entry changes. */
  #tied = new Map<HeadingId, Int32Array>();
  /** What passed in the last search; its room is used again. */
  #passed = new Int32Array(0);
  #broader = new Map<HeadingId, HeadingId[]>();
  /** Entries that were indexed at an earlier opening: until they come their documents stand, but have no facts. */
  #stored = NOTHING_STORED;

  /** Without a thesaurus, only the journal's own headings tell what is related. */
  constructor(
    readonly journal: Journal,
    public thesaurus?: RelatedWords,
  ) {
    this.#names = new Names(journal);
    for (const entry of journal.tables.entries.values()) this.put(entry);
  }

  put(entry: Entry): void {
    const doc = this.#arrived(entry) ?? this.#indexed(entry);
    this.#docs.set(entry.id, doc);
    const facts = factsOf(this.journal, entry, (id) => this.#broaderThan(id));
    this.#facts[doc] = facts;
    this.#columns.put(doc, facts);
    this.#changed();
    if (this.#index.deadShare > REBUILD_AT && this.#index.span > 200)
      this.#begin(new PassageIndex(stem));
  }

  #indexed(entry: Entry): number {
    this.remove(entry.id);
    return this.#index.add(wordsByField(this.journal, entry));
  }

  /** The document of an entry that was indexed at an earlier opening, where it is as it was. */
  #arrived(entry: Entry): number | undefined {
    const doc = this.#awaited(entry.id);
    const { prints, awaited } = this.#stored;
    if (doc === undefined || prints[doc] !== printOf(this.journal, entry)) return undefined;
    awaited[doc] = 0;
    return doc;
  }

  /**
   * Goes on from what was packed at an earlier opening: entries that come as they were then need not be indexed again. Those held already are
   * looked up in it now; until {@link allArrived} the others are awaited.
   */
  resume({ ids, prints, passages }: PackedFind): void {
    const places = new StoredIds(ids);
    const awaited = new Uint8Array(places.size).fill(1);
    this.#begin(PassageIndex.of(passages, stem), { places, prints, awaited });
  }

  /** The document of an entry that has not come yet. */
  #awaited(id: EntryId): number | undefined {
    const doc = this.#stored.places.placeOf(id);
    return doc !== undefined && this.#stored.awaited[doc] === 1 ? doc : undefined;
  }

  /** No more entries come: those that have not are in the journal no more. */
  allArrived(): void {
    const { awaited } = this.#stored;
    for (let doc = 0; doc < awaited.length; doc++) if (awaited[doc] === 1) this.#index.remove(doc);
    awaited.fill(0);
  }

  /**
   * Entries that came as they were at the earlier opening that {@link resume} goes on from, and have not changed since; the others are dropped. To be
   * asked when {@link allArrived}.
   */
  asStored(): MetIds {
    const { places } = this.#stored;
    const ids = new Array<EntryId | undefined>(places.span).fill(undefined);
    this.#docs.forEach((doc, id) => {
      if (doc < ids.length) ids[doc] = id;
    });
    return meet(places, ids);
  }

  /** The index as it can be stored, to be resumed at the next opening, and its entries in order. `prints` are those of {@link printOf} for every entry. */
  pack(prints: ReadonlyMap<EntryId, number>): { packed: PackedFind; ids: EntryId[] } {
    const { packed: passages, docs } = this.#index.pack();
    const ids = docs.map((doc) => this.#facts[doc]!.id);
    const packed = {
      ids: Float64Array.from(ids, printOfId),
      prints: Float64Array.from(ids, (id) => prints.get(id)!),
      passages,
    };
    return { packed, ids };
  }

  remove(id: EntryId): void {
    const awaited = this.#awaited(id);
    if (awaited !== undefined) {
      this.#index.remove(awaited);
      this.#stored.awaited[awaited] = 0;
    }
    const doc = this.#docs.get(id);
    if (doc === undefined) return;
    this.#index.remove(doc);
    this.#docs.delete(id);
    this.#facts[doc] = undefined;
    this.#changed();
  }

  #changed(): void {
    this.#used = undefined;
    if (this.#tied.size > 0) this.#tied.clear();
  }

  /** To be told when a meeting was added, altered or taken out. */
  meetingsChanged(): void {
    this.#used = undefined;
  }

  /** A heading's names are words of what is tied to it, and its broader themes count with it. */
  putHeading(heading: Heading): void {
    this.#names.put(heading);
    this.#broader.clear();
    const touched = new Set<EntryId>(entriesTiedTo(this.journal, heading.id));
    if (heading.kind === 'theme')
      for (const id of this.#narrowerThan(heading.id))
        entriesTiedTo(this.journal, id).forEach((one) => touched.add(one));
    this.#again(touched);
  }

  removeHeading(id: HeadingId): void {
    this.#names.remove(id);
    this.#broader.clear();
    this.#again(entriesTiedTo(this.journal, id));
  }

  #again(ids: Iterable<EntryId>): void {
    for (const id of [...ids]) {
      const entry = this.#docs.has(id) && this.journal.tables.entries.get(id);
      if (entry) this.put(entry);
    }
  }

  /** Puts another index in the place of this one, and every entry held into it. */
  #begin(index: PassageIndex, stored = NOTHING_STORED): void {
    const ids = [...this.#docs.keys()];
    this.#index = index;
    this.#stored = stored;
    this.#docs.clear();
    this.#facts = [];
    this.#columns = new Columns();
    for (const id of ids) {
      const entry = this.journal.tables.entries.get(id);
      if (entry) this.put(entry);
    }
  }

  #broaderThan(id: HeadingId): readonly HeadingId[] {
    const known = this.#broader.get(id);
    if (known) return known;
    const found = new Set<HeadingId>([id]);
    for (const one of found) {
      const heading = this.journal.tables.headings.get(one);
      if (heading?.kind === 'theme') heading.broader.forEach((above) => found.add(above));
    }
    found.delete(id);
    const list = [...found];
    this.#broader.set(id, list);
    return list;
  }

  #narrowerThan(id: HeadingId): HeadingId[] {
    return [...this.journal.tables.headings.values()].flatMap((one) =>
      one.kind === 'theme' && one.id !== id && this.#broaderThan(one.id).includes(id)
        ? [one.id]
        : [],
    );
  }

  /** Other words in the journal with the same stem, the commonest first. */
  forms(word: string): string[] {
    return this.#index.words.kin(word).map((term) => this.#index.words.wordOf(term));
  }

  /** `now` is an ISO time; resting is counted from its day. Deterministic for the same journal, query and day. */
  find(query: FindQuery, now: string): FindAnswer {
    const read = readQuery(query.text, query.typing);
    const onlyTyped = query.onlyMyWords ?? false;
    const expansions = new Map<string, Expansion[]>(
      read.words.map((word) => [
        word,
        expansionsOf(this.#index, word, word === read.prefix, onlyTyped, read.sentence),
      ]),
    );
    const related = onlyTyped ? [] : relatedTo(this.journal, this.#names, read);
    const { thesaurus } = this;
    // In a sentence the words tell enough between them: related ones bring more that is beside the point than to it.
    const widened = thesaurus && !onlyTyped && !read.sentence ? read.words : [];
    const relatedWords = new Map(
      widened.map((word) => [word, thesaurus ? relatedTerms(this.#index, word, thesaurus) : []]),
    );
    const asked: Asked = { read, expansions, related, relatedWords };
    const today = now.slice(0, 10);
    const matches = this.#matches(asked);
    const used = (this.#used ??= this.#usedDocs());
    const passes = passer(query, today, used);
    const circles = [...this.journal.tables.circles.keys()] as CircleId[];
    const counts = new FacetCount(this.#columns, circles, today, used);
    const { tier, score } = matches;
    const found = this.#standing(matches.docs, counts, passes);
    const total = found.length;
    let direct = 0;
    for (let at = 0; at < total; at++) if (tier[found[at]!] === 0) direct += 1;
    const typed = read.words.length + read.phrases.length > 0;
    const order = orderOf(query.order ?? (typed ? 'nearest' : 'written'), matches, {
      factsOf: (doc) => this.#facts[doc]!,
      whens: this.#columns.whens,
      headingOf: (id) => this.journal.tables.headings.get(id),
      chosen: query.books ?? [],
    });
    const from = query.offset ?? 0;
    const shown = firstOf(found, from + (query.limit ?? USUAL_LIMIT), order).slice(from);
    const meant = meantBy(this.#index, asked);
    return {
      total,
      byWords: direct,
      hits: shown.flatMap((doc) => {
        const how = { tier: tier[doc]!, score: score[doc]! };
        if (query.bare) return bareHit(this.#facts[doc]!, how);
        return explain(this.journal, this.#facts[doc]!, how, asked, meant);
      }),
      facets: counts.told(query.facetValues),
      alsoLookedFor: this.#alsoLookedFor(asked),
      headings: this.#names.headings([...read.words, ...read.phrases.flat()], MOST_HEADINGS),
      guides: this.#names.guides([...read.words, ...read.phrases.flat()]),
      meetings: this.#names.meetings([...read.words, ...read.phrases.flat()]),
      loosen: total === 0 ? this.#loosen(asked, passes, query.text) : [],
    };
  }

  /**
   * Of some documents those that stand and pass, each counted in its facets; good until the next search. A loop of its own: it runs over all
   * that a letter finds.
   */
  #standing(docs: Int32Array, counts: FacetCount, passes: ReturnType<typeof passer>): Int32Array {
    const facts = this.#facts;
    if (this.#passed.length < docs.length) this.#passed = new Int32Array(this.#index.span);
    const found = this.#passed;
    let total = 0;
    for (let at = 0; at < docs.length; at++) {
      const doc = docs[at]!;
      const held = facts[doc];
      // Told apart without a look into it, which would be far away in memory.
      if (held === undefined) continue;
      const mask = passes ? passes(held, doc) : ALL;
      if (passes) counts.add(doc, mask);
      if (mask === ALL) found[total++] = doc;
    }
    const standing = found.subarray(0, total);
    if (!passes) counts.addAll(standing);
    return standing;
  }

  #tiedTo(heading: HeadingId): Int32Array {
    const known = this.#tied.get(heading);
    if (known) return known;
    const docs = new IntList();
    for (const id of entriesTiedTo(this.journal, heading)) {
      const doc = this.#docs.get(id);
      if (doc !== undefined) docs.push(doc);
    }
    const tied = docs.taken();
    this.#tied.set(heading, tied);
    return tied;
  }

  #usedDocs(): ReadonlyMap<number, Used> {
    const found = new Map<number, Used>();
    for (const [id, used] of usedEntries(this.journal)) {
      const doc = this.#docs.get(id);
      if (doc !== undefined) found.set(doc, used);
    }
    return found;
  }

  #matches(asked: Asked): Matches {
    const live: number[] = [];
    const wordless = asked.read.words.length === 0;
    if (wordless && !asked.read.unread) for (const doc of this.#docs.values()) live.push(doc);
    const reach = {
      everything: live,
      tiedTo: (heading: HeadingId) => this.#tiedTo(heading),
      idOf: (doc: number) => this.#facts[doc]?.id,
    };
    return matchesOf(this.journal, this.#index, asked, reach, this.#tally);
  }

  /** Stand-ins that some entry holds: other readings of a slip, what is related, then other forms and what was begun. */
  #alsoLookedFor({ read, expansions, related, relatedWords }: Asked): FindAnswer['alsoLookedFor'] {
    const standIns = (how: Expansion['how']): FindAnswer['alsoLookedFor'] =>
      [...expansions].flatMap(([near, list]) =>
        list
          .filter((one) => one.how !== 'word')
          .slice(0, MOST_STAND_INS)
          .flatMap((one) =>
            one.how === how ? [{ word: this.#index.words.wordOf(one.term), near, how }] : [],
          ),
      ) as FindAnswer['alsoLookedFor'];
    const headings = related.flatMap(({ name, near }) =>
      read.words.includes(name.toLowerCase())
        ? []
        : [{ word: name, near, how: 'related' as const }],
    );
    const words = [...relatedWords].flatMap(([near, list]) => {
      // One form of each is enough to tell.
      const told = new Map<string, string>();
      for (const { term } of list) {
        const word = this.#index.words.wordOf(term);
        if (!told.has(stem(word))) told.set(stem(word), word);
      }
      return [...told.values()]
        .slice(0, MOST_RELATED_TOLD)
        .map((word) => ({ word, near, how: 'related' as const }));
    });
    return [...standIns('typo'), ...headings, ...words, ...standIns('form'), ...standIns('start')];
  }

  /** For each phrase and word, how many the same query would find without it, minus and narrowing kept; with it alone where that helps nowhere. */
  #loosen(asked: Asked, passes: ReturnType<typeof passer>, text: string): FindAnswer['loosen'] {
    const { words, phrases } = asked.read;
    if (words.length + phrases.length < 2) return [];
    const found = (less: Asked): number =>
      Array.from(this.#matches(less).docs).filter((doc) => {
        const facts = this.#facts[doc];
        return facts && (!passes || passes(facts, doc) === ALL);
      }).length;
    const parts: { word: string; phrase?: string[] }[] = [
      ...phrases.map((phrase) => ({ word: phrase.join(' '), phrase })),
      ...words.map((word) => ({ word })),
    ];
    const less = (gone: typeof parts): { without: number; text: string } => {
      const [goneWords, gonePhrases] = [false, true].map((phrase) =>
        gone.flatMap((one) => (Boolean(one.phrase) === phrase ? one.word : [])),
      ) as [string[], string[]];
      const read = {
        ...asked.read,
        words: words.filter((word) => !goneWords.includes(word)),
        phrases: phrases.filter((phrase) => !gonePhrases.includes(phrase.join(' '))),
      };
      const related = asked.related.filter((one) => !goneWords.some((w) => one.words.includes(w)));
      const left = gone.reduce(
        (typed, { word, phrase }) =>
          phrase ? withoutPhrase(typed, phrase) : withoutWord(typed, word),
        text,
      );
      return { without: found({ ...asked, read, related }), text: left };
    };
    const told = parts
      .slice(0, MOST_LOOSENED)
      .map((one) => ({ one, word: asTyped(text, one.phrase ?? [one.word]) }));
    const ways = told.map(({ one, word }) => ({ word, ...less([one]) }));
    if (parts.length === 2 || ways.some(({ without }) => without > 0)) return ways;
    // No one of them stands in the way alone: then each is told by itself.
    const alone = told.map(({ one, word }) => ({
      word,
      alone: true as const,
      ...less(parts.filter((other) => other !== one)),
    }));
    return [...ways, ...alone.filter(({ without }) => without > 0)];
  }
}
