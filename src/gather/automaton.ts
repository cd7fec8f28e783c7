/**
 * Finds every name of a set in a text in one pass: the automaton of Aho and Corasick (Efficient string matching: an aid to
 * bibliographic search, CACM 18(6), 1975) over words instead of letters, so that "Emma" is not found in "dilemma".
 */

/** A name found; `first` and `last` are places in the list of words searched, both inclusive. */
export interface Found<T> {
  value: T;
  first: number;
  last: number;
}

interface State<T> {
  next: Map<string, number>;
  /** Where to go on when no edge fits: the longest proper suffix that is a state. */
  fail: number;
  /** The nearest state along `fail` that ends a name, or 0. */
  report: number;
  /** Words from the root. */
  depth: number;
  ends: T[];
}

export class WordAutomaton<T> {
  readonly #states: State<T>[] = [{ next: new Map(), fail: 0, report: 0, depth: 0, ends: [] }];
  #linked = true;

  /** Adds a name as its words, already normalised. A name without words is left out. */
  add(words: readonly string[], value: T): void {
    if (words.length === 0) return;
    let at = 0;
    for (const word of words) {
      const state = this.#at(at);
      let next = state.next.get(word);
      if (next === undefined) {
        next = this.#states.length;
        this.#states.push({
          next: new Map(),
          fail: 0,
          report: 0,
          depth: state.depth + 1,
          ends: [],
        });
        state.next.set(word, next);
      }
      at = next;
    }
    this.#at(at).ends.push(value);
    this.#linked = false;
  }

  /** Every occurrence of every name, overlapping ones too, by where they end and then longest first. */
  find(words: readonly string[]): Found<T>[] {
    if (!this.#linked) this.#link();
    const found: Found<T>[] = [];
    let at = 0;
    words.forEach((word, index) => {
      at = this.#step(at, word);
      for (let end = at; end !== 0; end = this.#at(end).report) {
        const { ends, depth } = this.#at(end);
        for (const value of ends) found.push({ value, first: index - depth + 1, last: index });
      }
    });
    return found;
  }

  #at(index: number): State<T> {
    return this.#states[index] as State<T>;
  }

  #step(from: number, word: string): number {
    for (let at = from; ; at = this.#at(at).fail) {
      const next = this.#at(at).next.get(word);
      if (next !== undefined) return next;
      if (at === 0) return 0;
    }
  }

  /** Breadth first: a state's suffix is shorter, so it is linked before. */
  #link(): void {
    const queue: number[] = [...this.#at(0).next.values()];
    for (const child of queue) this.#at(child).fail = 0;
    for (let head = 0; head < queue.length; head += 1) {
      const index = queue[head] as number;
      const state = this.#at(index);
      const fail = this.#at(state.fail);
      state.report = fail.ends.length > 0 ? state.fail : fail.report;
      for (const [word, child] of state.next) {
        this.#at(child).fail = this.#step(state.fail, word);
        queue.push(child);
      }
    }
    this.#linked = true;
  }
}

/**
 * Of overlapping finds the ones that stand: longest first, then earliest. Names over the very same words all stand, since one
 * name may belong to several headings.
 */
export function longestFirst<T>(found: readonly Found<T>[]): Found<T>[] {
  const order = [...found].sort(
    (a, b) => b.last - b.first - (a.last - a.first) || a.first - b.first,
  );
  const taken = new Map<number, string>();
  const standing: Found<T>[] = [];
  for (const each of order) {
    const span = `${each.first}-${each.last}`;
    let free = true;
    for (let at = each.first; at <= each.last && free; at += 1) {
      const by = taken.get(at);
      free = by === undefined || by === span;
    }
    if (!free) continue;
    for (let at = each.first; at <= each.last; at += 1) taken.set(at, span);
    standing.push(each);
  }
  return standing.sort((a, b) => a.first - b.first);
}
