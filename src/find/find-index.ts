import type { CircleId, Entry, EntryId, Heading, HeadingId, Journal } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { stem } from '../language/stem';
import type { FindAnswer } from './answer';
import { Columns } from './columns';
import { factsOf, usedEntries, wordsByField, type Facts, type Used } from './documents';
import type { RelatedWords } from '../language/related-words';
import { expansionsOf, relatedTerms, type Expansion } from './expand';
import { explain, type Asked } from './explain';
import { matchesOf } from './matching';
import { Names } from './names';
import { ALL, FacetCount, passer } from './narrow';
import { PassageIndex } from './passage-index';
import { readQuery, type FindQuery, type Order } from './query';
import { relatedTo } from './related';
import { firstOf, Tally, type Matches } from './word-scores';

const USUAL_LIMIT = 20;
const MOST_HEADINGS = 8;
/** Related words told of one typed word. */
const MOST_RELATED_TOLD = 8;
/** Forms, spellings and endings told of one typed word. */
const MOST_STAND_INS = 6;
/** Words offered to be left out when nothing is found. */
const MOST_LOOSENED = 6;
/** Built anew when more than this share of its documents are of entries changed since. */
const REBUILD_AT = 0.4;

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
  #broader = new Map<HeadingId, HeadingId[]>();

  /** Without a thesaurus, only the journal's own headings tell what is related. */
  constructor(
    readonly journal: Journal,
    public thesaurus?: RelatedWords,
  ) {
    this.#names = new Names(journal);
    for (const entry of journal.tables.entries.values()) this.put(entry);
  }

  put(entry: Entry): void {
    this.remove(entry.id);
    const doc = this.#index.add(wordsByField(this.journal, entry));
    this.#docs.set(entry.id, doc);
    const facts = factsOf(this.journal, entry, (id) => this.#broaderThan(id));
    this.#facts[doc] = facts;
    this.#columns.add(facts);
    this.#used = undefined;
    if (this.#index.deadShare > REBUILD_AT && this.#index.span > 200) this.#rebuild();
  }

  remove(id: EntryId): void {
    const doc = this.#docs.get(id);
    if (doc === undefined) return;
    this.#index.remove(doc);
    this.#docs.delete(id);
    this.#facts[doc] = undefined;
    this.#used = undefined;
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

  #rebuild(): void {
    const ids = [...this.#docs.keys()];
    this.#index = new PassageIndex(stem);
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
    return this.#index.kin(word).map((term) => this.#index.wordOf(term));
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
    const facets = new FacetCount(this.#columns, circles, today, used);
    const { tier, score } = matches;
    const found = new Int32Array(matches.docs.length);
    let [total, direct] = [0, 0];
    for (let at = 0; at < found.length; at++) {
      const doc = matches.docs[at]!;
      const mask = passes ? passes(this.#facts[doc]!, doc) : ALL;
      facets.add(doc, mask);
      if (mask !== ALL) continue;
      found[total++] = doc;
      if (tier[doc] === 0) direct += 1;
    }
    const typed = read.words.length + read.phrases.length > 0;
    const order = this.#order(query.order ?? (typed ? 'nearest' : 'written'), matches, query.books);
    const from = query.offset ?? 0;
    const shown = firstOf(
      found.subarray(0, total),
      from + (query.limit ?? USUAL_LIMIT),
      order,
    ).slice(from);
    return {
      total,
      byWords: direct,
      hits: shown.flatMap((doc) => {
        const how = { tier: tier[doc]!, score: score[doc]! };
        return explain(this.journal, this.#index, this.#facts[doc]!, how, asked);
      }),
      facets: facets.told(query.facetValues),
      alsoLookedFor: this.#alsoLookedFor(asked),
      headings: this.#names.headings([...read.words, ...read.phrases.flat()], MOST_HEADINGS),
      guides: this.#names.guides([...read.words, ...read.phrases.flat()]),
      meetings: this.#names.meetings([...read.words, ...read.phrases.flat()]),
      loosen: total === 0 ? this.#loosen(asked, passes) : [],
    };
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
    if (wordless) for (const doc of this.#docs.values()) live.push(doc);
    const reach = {
      everything: live,
      docOf: (id: EntryId) => this.#docs.get(id),
      idOf: (doc: number) => this.#facts[doc]?.id,
    };
    return matchesOf(this.journal, this.#index, asked, reach, this.#tally);
  }

  /** By place, an entry of several books stands in the first of those chosen, or else in its own first. */
  #order(
    order: Order,
    { tier, score }: Matches,
    chosen: readonly HeadingId[] = [],
  ): (a: number, b: number) => number {
    const facts = (doc: number): Facts => this.#facts[doc]!;
    const { whens } = this.#columns;
    const later = (a: string, b: string, one: number, other: number): number =>
      a === b ? (facts(one).id < facts(other).id ? 1 : -1) : a < b ? 1 : -1;
    const newest = (a: number, b: number): number => later(whens[a]!, whens[b]!, a, b);
    const added = (a: number, b: number): number => later(facts(a).added, facts(b).added, a, b);
    const title = (id: HeadingId | undefined): string =>
      (id && this.journal.tables.headings.get(id)?.name) || '\uffff';
    const bookOf = ({ books }: Facts): number =>
      Math.max(
        0,
        books.findIndex((id) => chosen.includes(id)),
      );
    switch (order) {
      case 'written':
        return newest;
      case 'added':
        return added;
      case 'place':
        return (a, b) => {
          const [x, y] = [facts(a), facts(b)];
          const [i, j] = [bookOf(x), bookOf(y)];
          const [p, q] = [title(x.books[i]), title(y.books[j])];
          if (p !== q) return p < q ? -1 : 1;
          const [m, n] = [x.places[i] ?? Infinity, y.places[j] ?? Infinity];
          return m === n ? (x.id < y.id ? -1 : 1) : m - n;
        };
      default:
        return (a, b) => tier[a]! - tier[b]! || score[b]! - score[a]! || newest(a, b);
    }
  }

  /** Stand-ins that some entry holds: other readings of a slip, what is related, then other forms and what was begun. */
  #alsoLookedFor({ read, expansions, related, relatedWords }: Asked): FindAnswer['alsoLookedFor'] {
    const standIns = (how: Expansion['how']): FindAnswer['alsoLookedFor'] =>
      [...expansions].flatMap(([near, list]) =>
        list
          .filter((one) => one.how !== 'word')
          .slice(0, MOST_STAND_INS)
          .flatMap((one) =>
            one.how === how ? [{ word: this.#index.wordOf(one.term), near, how }] : [],
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
        const word = this.#index.wordOf(term);
        if (!told.has(stem(word))) told.set(stem(word), word);
      }
      return [...told.values()]
        .slice(0, MOST_RELATED_TOLD)
        .map((word) => ({ word, near, how: 'related' as const }));
    });
    return [...standIns('typo'), ...headings, ...words, ...standIns('form'), ...standIns('start')];
  }

  /** For each word, how many the same query would find without it, phrases, minus and narrowing kept. */
  #loosen(asked: Asked, passes: ReturnType<typeof passer>): FindAnswer['loosen'] {
    const { words, phrases } = asked.read;
    if (words.length + phrases.length < 2) return [];
    return words.slice(0, MOST_LOOSENED).map((word) => {
      const rest = words.filter((one) => one !== word);
      const read = { ...asked.read, words: rest };
      const related = asked.related.filter((one) => !one.words.includes(word));
      const { docs } = this.#matches({ ...asked, read, related });
      const left = passes
        ? Array.from(docs).filter((doc) => passes(this.#facts[doc]!, doc) === ALL)
        : docs;
      return { word, without: left.length };
    });
  }
}
