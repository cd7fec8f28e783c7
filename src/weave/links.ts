import type { Entry, Heading, Journal, Tie } from '../journal/records';
import { IntList } from '../language/int-list';
import { fold } from '../language/tokens';
import type { Csr } from './csr';
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
 * Who is joined to whom, by node number. An edit writes the row's links again at the end of the lists; what it leaves behind
 * is cleared when it outgrows what stands. The symmetric weighted graph is made from it when asked for after a change.
 */
export class LinkTable {
  #ids: string[] = [];
  #types: number[] = [];
  #numbers = new Map<string, number>();
  #starts: number[] = [];
  #lengths: number[] = [];
  #targets = new IntList();
  #weights = new IntList();
  #standing = 0;
  #csr: Csr | undefined;
  #spread = new Int32Array(0);

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

  /** Takes out an entry or a heading. */
  remove(id: string): void {
    const node = this.#numbers.get(id);
    if (node === undefined) return;
    this.#types[node] = NODE.none;
    this.#standing -= this.#lengths[node] ?? 0;
    this.#lengths[node] = 0;
    this.#csr = undefined;
  }

  /** How many entries are joined to a node. */
  spreadOf(node: number): number {
    void this.csr;
    return this.#spread[node] ?? 0;
  }

  /** Every link both ways, weighted by role and by the rarity of the headings it touches. */
  get csr(): Csr {
    return (this.#csr ??= this.#build());
  }

  #node(id: string, type?: number): number {
    let node = this.#numbers.get(id);
    if (node === undefined) {
      node = this.#ids.push(id) - 1;
      this.#numbers.set(id, node);
      this.#types.push(NODE.none);
      this.#starts.push(0);
      this.#lengths.push(0);
    }
    if (type !== undefined) this.#types[node] = type;
    return node;
  }

  #write(node: number, links: ReadonlyMap<number, number>): void {
    this.#standing += links.size - (this.#lengths[node] ?? 0);
    this.#starts[node] = this.#targets.length;
    this.#lengths[node] = links.size;
    for (const [target, weight] of links) {
      this.#targets.push(target);
      this.#weights.push(Math.round(weight * THOUSAND));
    }
    this.#csr = undefined;
    if (this.#targets.length > 2 * this.#standing + 10_000) this.#clear();
  }

  #clear(): void {
    const [targets, weights] = [new IntList(), new IntList()];
    for (let node = 0; node < this.size; node++) {
      const start = this.#starts[node] ?? 0;
      this.#starts[node] = targets.length;
      for (let at = start; at < start + (this.#lengths[node] ?? 0); at++) {
        targets.push(this.#targets.at(at));
        weights.push(this.#weights.at(at));
      }
    }
    [this.#targets, this.#weights] = [targets, weights];
  }

  #eachLink(found: (from: number, to: number, weight: number) => void): void {
    for (let node = 0; node < this.size; node++) {
      const start = this.#starts[node] ?? 0;
      for (let at = start; at < start + (this.#lengths[node] ?? 0); at++) {
        const target = this.#targets.at(at);
        // What is named but not there (yet) joins nothing.
        if (this.#types[target] !== NODE.none) found(node, target, this.#weights.at(at));
      }
    }
  }

  #build(): Csr {
    const degrees = new Int32Array(this.size + 1);
    const spread = new Int32Array(this.size);
    this.#eachLink((from, to) => {
      degrees[from + 1]! += 1;
      degrees[to + 1]! += 1;
      if (this.#types[from] === NODE.entry) spread[to]! += 1;
    });
    for (let node = 0; node < this.size; node++) degrees[node + 1]! += degrees[node]!;
    const starts = degrees;
    const rare = Float64Array.from(spread, rarity);
    const next = starts.slice();
    const targets = new Int32Array(starts[this.size] ?? 0);
    const weights = new Float64Array(targets.length);
    this.#eachLink((from, to, thousandths) => {
      const weight = (thousandths / THOUSAND) * rare[to]!;
      targets[next[from]!] = to;
      weights[next[from]!++] = weight;
      targets[next[to]!] = from;
      weights[next[to]!++] = weight;
    });
    this.#spread = spread;
    return { size: this.size, starts, targets, weights };
  }
}
