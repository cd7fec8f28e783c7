import type { Entry, Heading, Journal, Tie } from '../journal/records';
import { IntList } from '../language/int-list';
import { fold } from '../language/tokens';
import type { Ways } from './ways';
import { CHAPTER_WEIGHT, RELATION_WEIGHT, ROLE_WEIGHT, rarity } from './weights';

/** What stands at a node. A chapter is a node of walks only, never an answer. */
export const NODE = { none: 0, entry: 1, heading: 2, chapter: 3 } as const;

/** Link weights are held as whole thousandths. */
const THOUSAND = 1000;

/** The chapter of a book that a tie points to, as a key; undefined where it names none. */
export function chapterKey(tie: Tie): string | undefined {
  const chapter = tie.place?.chapter && fold(tie.place.chapter).trim();
  return chapter ? `${tie.heading} chapter ${chapter}` : undefined;
}

/**
 * Who is joined to whom, by node number: a graph that is walked both ways and follows single edits. Each node has a row of links with room for
 * a few more; one that outgrows its room moves to the end, and what it leaves behind is cleared when it outgrows what stands. What a link
 * weighs hangs on how rare the heading is that it leads to, so that is looked up and never written into links.
 */
export class LinkTable implements Ways {
  #ids: string[] = [];
  #types: number[] = [];
  #numbers = new Map<string, number>();
  /** Where the links of each node begin and end, and where its room ends. */
  #begins: number[] = [];
  #ends: number[] = [];
  #fulls: number[] = [];
  /** The other end, times 2, and 1 more where the link was told there and not here; and what its role weighs. */
  #held = new IntList();
  #weights = new IntList();
  /** Room that rows have left behind. */
  #left = 0;
  /** How many entries are joined to each node, and how rare it is by that; 0 for what does not stand. */
  #spread: number[] = [];
  #rare: number[] = [];
  /** What links weigh, and those of a node together, where that was asked since any last changed. */
  #ready = new Float64Array(0);
  #strengths: number[] = [];
  #asked: number[] = [];
  #changes = 0;

  static of(journal: Journal): LinkTable {
    const table = new LinkTable();
    for (const heading of journal.tables.headings.values()) table.putHeading(heading);
    for (const entry of journal.tables.entries.values()) table.put(entry);
    return table;
  }

  /** Nodes, counting those that no longer stand. */
  get size(): number {
    return this.#ids.length;
  }

  idOf(node: number): string {
    return this.#ids[node] ?? '';
  }

  typeOf(node: number): number {
    return this.#types[node] ?? NODE.none;
  }

  /** The number of an entry or heading that stands, or undefined. */
  nodeOf(id: string): number | undefined {
    const node = this.#numbers.get(id);
    return node !== undefined && this.#types[node] !== NODE.none ? node : undefined;
  }

  put(entry: Entry): void {
    const links = new Map<number, number>();
    const add = (node: number, weight: number): void => {
      links.set(node, Math.max(weight, links.get(node) ?? 0));
    };
    for (const tie of entry.ties) {
      add(this.#node(tie.heading), ROLE_WEIGHT[tie.role]);
      const chapter = chapterKey(tie);
      if (chapter) add(this.#node(chapter, NODE.chapter), CHAPTER_WEIGHT);
    }
    this.#write(this.#node(entry.id, NODE.entry), links);
  }

  putHeading(heading: Heading): void {
    const links = new Map<number, number>();
    const add = (ids: readonly string[], weight: number): void => {
      for (const id of ids) if (id !== heading.id) links.set(this.#node(id), weight);
    };
    if (heading.kind === 'book') add(heading.authors, RELATION_WEIGHT.author);
    if (heading.kind === 'person') add(heading.books ?? [], RELATION_WEIGHT.character);
    if (heading.kind === 'theme') {
      // Held on both themes, so that each side brings half of it.
      add(heading.related, RELATION_WEIGHT.related / 2);
      add(heading.broader, RELATION_WEIGHT.broader);
    }
    this.#write(this.#node(heading.id, NODE.heading), links);
  }

  /** Takes out an entry or a heading. What else names it stays joined to it, and weighs nothing until it is put in again. */
  remove(id: string): void {
    const node = this.#numbers.get(id);
    if (node === undefined) return;
    this.#write(node, new Map());
    this.#setType(node, NODE.none);
  }

  /** How many entries are joined to a node. */
  spreadOf(node: number): number {
    return this.#spread[node] ?? 0;
  }

  begin(node: number): number {
    return this.#begins[node]!;
  }

  end(node: number): number {
    return this.#ends[node]!;
  }

  target(link: number): number {
    return this.#held.values[link]! >> 1;
  }

  ready(node: number): number {
    if (this.#asked[node] === this.#changes) return this.#strengths[node]!;
    if (this.#ready.length < this.#held.length)
      this.#ready = grown(this.#ready, this.#held.values.length);
    const [held, weights] = [this.#held.values, this.#weights.values];
    const end = this.#ends[node]!;
    let sum = 0;
    for (let link = this.#begins[node]!; link < end; link++) {
      const other = held[link]!;
      const rare = this.#rare[other & 1 ? node : other >> 1]!;
      sum += this.#ready[link] = (weights[link]! / THOUSAND) * rare;
    }
    this.#asked[node] = this.#changes;
    this.#strengths[node] = sum;
    return sum;
  }

  weight(link: number): number {
    return this.#ready[link]!;
  }

  #node(id: string, type?: number): number {
    let node = this.#numbers.get(id);
    if (node === undefined) {
      node = this.#ids.push(id) - 1;
      this.#numbers.set(id, node);
      this.#types.push(NODE.none);
      this.#begins.push(0);
      this.#ends.push(0);
      this.#fulls.push(0);
      this.#spread.push(0);
      this.#rare.push(0);
      this.#strengths.push(0);
      this.#asked.push(-1);
    }
    if (type !== undefined) this.#setType(node, type);
    return node;
  }

  #setType(node: number, type: number): void {
    if (this.#types[node] === type) return;
    this.#types[node] = type;
    this.#weigh(node);
  }

  #weigh(node: number): void {
    this.#changes += 1;
    this.#rare[node] = this.#types[node] === NODE.none ? 0 : rarity(this.#spread[node]!);
  }

  /** Lets a node tell just these links; those that it tells already stay where they are. */
  #write(node: number, links: Map<number, number>): void {
    const gone: number[] = [];
    for (let at = this.#begins[node]!; at < this.#ends[node]!; at++) {
      const held = this.#held.at(at);
      if (held & 1) continue;
      const weight = links.get(held >> 1);
      if (weight !== undefined && Math.round(weight * THOUSAND) === this.#weights.at(at))
        links.delete(held >> 1);
      else gone.push(held >> 1);
    }
    const entry = this.#types[node] === NODE.entry ? 1 : 0;
    const spread = (to: number, more: number): void => {
      this.#spread[to]! += more;
      this.#weigh(to);
    };
    for (const to of gone) {
      this.#pull(node, to * 2);
      this.#pull(to, node * 2 + 1);
      spread(to, -entry);
    }
    for (const [to, weight] of links) {
      this.#push(node, to * 2, Math.round(weight * THOUSAND));
      this.#push(to, node * 2 + 1, Math.round(weight * THOUSAND));
      spread(to, entry);
    }
  }

  #push(node: number, held: number, weight: number): void {
    if (this.#ends[node] === this.#fulls[node]) this.#makeRoom(node);
    const at = this.#ends[node]!;
    this.#held.put(at, held);
    this.#weights.put(at, weight);
    this.#ends[node] = at + 1;
  }

  #pull(node: number, held: number): void {
    const last = this.#ends[node]! - 1;
    for (let at = this.#begins[node]!; at <= last; at++) {
      if (this.#held.at(at) !== held) continue;
      this.#held.put(at, this.#held.at(last));
      this.#weights.put(at, this.#weights.at(last));
      this.#ends[node] = last;
      return;
    }
  }

  #makeRoom(node: number): void {
    const [begin, end] = [this.#begins[node]!, this.#ends[node]!];
    this.#left += end - begin;
    const to = this.#held.length;
    const full = to + Math.max(4, Math.ceil(1.5 * (end - begin)));
    for (const list of [this.#held, this.#weights]) {
      list.put(full - 1, 0);
      list.values.copyWithin(to, begin, end);
    }
    this.#begins[node] = to;
    this.#ends[node] = to + end - begin;
    this.#fulls[node] = full;
    if (this.#left > this.#held.length / 2 + 10_000) this.#clear();
  }

  /** Lays the rows out anew, without what was left behind. */
  #clear(): void {
    const [held, weights] = [new IntList(), new IntList()];
    for (let node = 0; node < this.size; node++) {
      const [begin, full] = [this.#begins[node]!, this.#fulls[node]!];
      const to = held.length;
      for (let at = begin; at < full; at++) {
        held.push(this.#held.at(at));
        weights.push(this.#weights.at(at));
      }
      this.#begins[node] = to;
      this.#ends[node] = to + this.#ends[node]! - begin;
      this.#fulls[node] = held.length;
    }
    [this.#held, this.#weights] = [held, weights];
    this.#changes += 1;
    this.#left = 0;
  }
}

function grown(list: Float64Array<ArrayBuffer>, length: number): Float64Array<ArrayBuffer> {
  const out = new Float64Array(length);
  out.set(list);
  return out;
}
