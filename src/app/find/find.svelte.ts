import { calledSo } from '../write/ties-now';
import type { FindQuery } from '../../find/query';
import type { EntryRow, FindShown } from '../../engine/answers';
import type { Desk } from '../../engine/desk';
import type { Circle, EntryId, EntryKind, HeadingId } from '../../journal/records';
import { afterPaint } from '../after-paint';

/** Rows asked for at a time, some screens full; more are fetched as the list is scrolled. */
const SLICE = 30;
const FIRST_ROWS = 4;
/** A choice made by typing is read out in the pane once no key has followed its answer for so long, in ms. */
const TYPING_RESTS = 150;

export type Order = 'nearest' | 'written' | 'added' | 'place';
export const ORDERS: Record<Order, string> = {
  nearest: 'nearest',
  written: 'when written',
  added: 'when added',
  place: 'place in the book',
};

export type FacetName = 'theme' | 'book' | 'person';
export const FACETS: readonly FacetName[] = ['theme', 'book', 'person'];

/**
 * What is being looked for and what was found. One query runs at a time; while it runs only the newest
 * wish waits, so that fast typing never queues.
 */
export class FindState {
  text = $state('');
  kinds = $state.raw<EntryKind[]>([]);
  theme = $state.raw<HeadingId[]>([]);
  book = $state.raw<HeadingId[]>([]);
  person = $state.raw<HeadingId[]>([]);
  from = $state<string | undefined>();
  to = $state<string | undefined>();
  use = $state.raw<FindQuery['use']>(undefined);
  onlyMyWords = $state(false);
  order = $state<Order>('nearest');

  result = $state.raw<FindShown | undefined>();
  rows = $state.raw<FindShown['hits']>([]);
  /** What narrows the search, drawn a frame after the rows, so that neither holds up typing. */
  facets = $state.raw<FindShown['facets'] | undefined>();
  values = $state.raw<FindShown['values'] | undefined>();
  selected = $state(0);
  /** Counts the answers that begin the list anew, from its first row. */
  anew = $state(0);
  marked = $state.raw<ReadonlySet<EntryId>>(new Set());
  /** Names of headings met in facets or chosen, by id. */
  names = $state.raw<Record<string, string>>({});
  busy = $state(false);
  /** Circles that what was found may not have been used with. */
  circles = $state.raw<Circle[]>([]);

  #running = false;
  /** The wish that waits for its turn. */
  #again: { keep: boolean } | undefined;
  /** What the reader typed last; while it stands its last word may still be begun only, whoever asks. */
  #typed = '';
  /** A key has not been answered yet. */
  #keyed = false;
  #answeredAt = -Infinity;
  #waiting: (() => void)[] = [];
  /** The choice is the reader's, and not only the first row of an answer. */
  #chose = false;

  constructor(readonly desk: Desk) {}

  get query(): FindQuery {
    return {
      text: this.text,
      ...(this.kinds.length > 0 ? { kinds: this.kinds } : {}),
      ...(this.theme.length > 0 ? { themes: this.theme } : {}),
      ...(this.book.length > 0 ? { books: this.book } : {}),
      ...(this.person.length > 0 ? { people: this.person } : {}),
      ...(this.from ? { from: this.from } : {}),
      ...(this.to ? { to: this.to } : {}),
      ...(this.use ? { use: this.use } : {}),
      ...(this.onlyMyWords ? { onlyMyWords: true } : {}),
      order: this.text.trim() ? this.order : this.order === 'nearest' ? 'written' : this.order,
      typing: this.text === this.#typed,
    };
  }

  get narrowed(): boolean {
    return Boolean(
      this.kinds.length ||
      this.theme.length ||
      this.book.length ||
      this.person.length ||
      this.from ||
      this.to ||
      this.use,
    );
  }

  /** Asks anew; `keep` leaves the choice with its entry (after an edit). While another question runs the wish waits for its turn. */
  async ask({ typing = false, keep = false } = {}): Promise<void> {
    if (typing) [this.#typed, this.#keyed] = [this.text, true];
    this.#wish(keep);
    if (!this.#running) await this.#answer();
  }

  /** What waits keeps the choice only where all that wished for it would. */
  #wish(keep: boolean): void {
    this.#again = { keep: keep && this.#again?.keep !== false };
  }

  async #answer(): Promise<void> {
    this.#running = true;
    this.busy = true;
    try {
      for (let wish = this.#again; wish; wish = this.#again) {
        this.#again = undefined;
        await this.#turn(wish.keep);
      }
    } finally {
      this.#running = false;
      this.busy = false;
      for (const go of this.#waiting.splice(0)) go();
    }
  }

  /** When what was asked last is answered; at once where no question is open. */
  answered(): Promise<void> {
    if (!this.busy && !this.#again) return Promise.resolve();
    return new Promise((resolve) => this.#waiting.push(resolve));
  }

  async #turn(keep: boolean): Promise<void> {
    const rows = keep ? this.rows.length : 0;
    // Room for what comes before the chosen row and pushes it down.
    const result = await this.desk.find({ ...this.query, limit: rows + SLICE });
    if (this.#keyed) this.#answeredAt = performance.now();
    this.#keyed = this.#again !== undefined;
    if (await this.#leaveGone(result.names)) {
      this.#wish(keep);
      return;
    }
    if (!keep) this.#chose = false;
    const at = keep ? this.#placeIn(result.hits) : 0;
    const hits = result.hits.slice(0, Math.max(SLICE, rows, at + 1));
    this.result = { ...result, hits };
    this.#showRows(this.result);
    this.selected = at;
    if (!keep) this.anew += 1;
    this.names = result.names;
    this.#showFacets(this.result);
  }

  /** Chooses a row, which stays chosen wherever its entry comes to stand. */
  choose(at: number): void {
    this.selected = at;
    this.#chose = true;
  }

  /** Where the choice stands in newer rows. What was first only because those before it had not come yet is no choice: the first row is. */
  #placeIn(hits: FindShown['hits']): number {
    if (!this.#chose && this.result && this.result.coming > 0) return 0;
    return placeIn(hits, this.rows[this.selected]?.id, this.selected);
  }

  /** Rows take the place of others, and the choice stays with its entry. */
  #showAfresh(found: FindShown): void {
    this.selected = this.#placeIn(found.hits);
    this.result = found;
    this.rows = found.hits;
    this.names = found.names;
    this.#showFacets(found);
  }

  /** Headings that are no more narrow nothing; one that was merged goes on as what it was merged into. Whether there were any. */
  async #leaveGone(names: Record<string, string>): Promise<boolean> {
    const gone = FACETS.flatMap((facet) =>
      this[facet].filter((id) => names[id] === '').map((id) => ({ facet, id })),
    );
    if (gone.length === 0) return false;
    const known = this.names;
    const went = new Map<HeadingId, HeadingId | undefined>();
    for (const { facet, id } of gone) {
      const name = known[id];
      went.set(id, name ? (await calledSo(this.desk, { name, kind: facet }))?.heading : undefined);
    }
    for (const facet of FACETS) {
      const left = this[facet].flatMap((id) => (went.has(id) ? (went.get(id) ?? []) : id));
      this[facet] = [...new Set(left)];
    }
    return true;
  }

  /** Rows that take the place of others cost little; the first ones of all are drawn in two frames, so that a key between them is heard. */
  #showRows(result: FindShown): void {
    const all = (): void => {
      if (this.result === result) this.rows = result.hits;
    };
    if (this.rows.length > 0) return all();
    this.rows = result.hits.slice(0, FIRST_ROWS);
    afterPaint(all);
  }

  #showFacets(result: FindShown): void {
    afterPaint(() => {
      if (this.result !== result) return;
      this.facets = result.facets;
      this.values = result.values;
    });
  }

  /** Milliseconds until typing can be said to rest; 0 where it does. */
  get untilRest(): number {
    return Math.max(0, TYPING_RESTS - (performance.now() - this.#answeredAt));
  }

  /** Fetches the next rows when the list nears its end; all of them where entries still come, which stand among those it has. */
  async more(coming = false): Promise<void> {
    if (this.#running || !this.result || this.rows.length >= this.result.total) return;
    this.#running = true;
    try {
      const { length } = this.rows;
      const slice = coming ? { limit: length + SLICE } : { offset: length, limit: SLICE };
      const found = await this.desk.find({ ...this.query, ...slice });
      if (coming) this.#showAfresh(found);
      else this.rows = [...this.rows, ...without(found.hits, this.rows)];
    } finally {
      this.#running = false;
      if (this.#again) await this.#answer();
    }
  }

  toggleKind(kind: EntryKind): void {
    this.kinds = this.kinds.includes(kind)
      ? this.kinds.filter((held) => held !== kind)
      : [...this.kinds, kind];
    void this.ask();
  }

  toggle(facet: FacetName, id: HeadingId): void {
    this[facet] = this[facet].includes(id)
      ? this[facet].filter((held) => held !== id)
      : [...this[facet], id];
    void this.ask();
  }

  setSpan(from: string | undefined, to: string | undefined): void {
    this.from = from;
    this.to = to;
    void this.ask();
  }

  /** Whether the search is narrowed by just this use. */
  usesOnly(use: FindQuery['use']): boolean {
    return JSON.stringify(use) === JSON.stringify(this.use);
  }

  setUse(use: FindQuery['use']): void {
    this.use = this.usesOnly(use) ? undefined : use;
    void this.ask();
  }

  /** The circles of the journal; one that is there no more narrows nothing. */
  knowCircles(circles: Circle[]): void {
    this.circles = circles;
    const { use } = this;
    if (use && 'unusedWith' in use && !circles.some(({ id }) => id === use.unusedWith))
      this.setUse(use);
  }

  clear(): void {
    this.kinds = [];
    this.theme = [];
    this.book = [];
    this.person = [];
    this.from = undefined;
    this.to = undefined;
    this.use = undefined;
    void this.ask();
  }

  /** What is typed becomes this: the way out of an empty answer. */
  type(text: string): void {
    this.text = text;
    void this.ask();
  }

  mark(id: EntryId): void {
    const marked = new Set(this.marked);
    if (!marked.delete(id)) marked.add(id);
    this.marked = marked;
  }

  markThrough(index: number): void {
    const [low, high] = [Math.min(this.selected, index), Math.max(this.selected, index)];
    this.marked = new Set([...this.marked, ...this.rows.slice(low, high + 1).map((row) => row.id)]);
  }

  /** Marks everything found, not only the rows fetched so far, beside what is marked already. */
  async markAll(): Promise<void> {
    const all = await this.desk.foundIds(this.query);
    this.marked = new Set([...this.marked, ...all]);
  }

  /** Entries that were removed while Find was not shown are marked no more. */
  async unmarkGone(): Promise<void> {
    const marked = [...this.marked];
    if (marked.length === 0) return;
    const there = new Set(await this.desk.foundIds({ text: '' }));
    this.unmark(marked.filter((id) => !there.has(id)));
  }

  /** Unmarks these, or all. */
  unmark(ids: readonly EntryId[] = [...this.marked]): void {
    const gone = new Set(ids);
    this.marked = new Set([...this.marked].filter((id) => !gone.has(id)));
  }
}

const asLeft = new WeakMap<Desk, FindState>();

/** What is looked for in a journal, as it was left last: kept as long as the window is open, wherever one goes in it. */
export function findOf(desk: Desk): FindState {
  const find = asLeft.get(desk) ?? new FindState(desk);
  asLeft.set(desk, find);
  return find;
}

/** What has come before them since may have pushed rows on that are here already. */
function without(hits: FindShown['hits'], rows: FindShown['hits']): FindShown['hits'] {
  const held = new Set(rows.map(({ id }) => id));
  return hits.filter(({ id }) => !held.has(id));
}

/** Where the chosen entry stands now; where it stands no more, its place before or the last. */
function placeIn(hits: FindShown['hits'], id: EntryId | undefined, before: number): number {
  const at = hits.findIndex((hit) => hit.id === id);
  return at < 0 ? Math.max(0, Math.min(before, hits.length - 1)) : at;
}

export type { EntryRow };
