import type {
  BookLine,
  CatalogueAsk,
  CatalogueOrder,
  CatalogueView,
} from '../../engine/reading-books';
import type { HeadingId } from '../../journal/records';
import type { House } from '../house.svelte';
import { prefs } from '../prefs.svelte';

export const ORDER_SAYS: Record<CatalogueOrder, string> = {
  title: 'title',
  author: 'author',
  read: 'when read',
  school: 'school year',
  published: 'published',
  pages: 'pages',
  rating: 'rating',
  entries: 'entries',
  used: 'times used',
};

/** The catalogue in view: what is asked of it, the line chosen and the lines marked. It outlives the page, so that one comes back to the same place. */
export class BooksState {
  ask = $state.raw<CatalogueAsk>({ order: 'title' });
  view = $state.raw<CatalogueView | undefined>();
  chosen = $state(0);
  marked = $state.raw<ReadonlySet<HeadingId>>(new Set());
  #asked = 0;

  constructor(readonly house: House) {}

  get lines(): BookLine[] {
    return this.view?.lines ?? [];
  }

  get narrowed(): boolean {
    const { order: _order, back: _back, ...rest } = this.ask;
    return Object.values(rest).some((value) => value !== undefined && value !== '');
  }

  /** Asks anew with some of the question changed. */
  async change(part: Partial<CatalogueAsk>): Promise<void> {
    this.ask = { ...this.ask, ...part };
    this.chosen = 0;
    await this.look();
  }

  async clear(): Promise<void> {
    const { order, back } = this.ask;
    this.ask = { ...(order ? { order } : {}), ...(back ? { back } : {}) };
    this.chosen = 0;
    await this.look();
  }

  /** The order asked for, or the other way round when it is that already. */
  async sort(order: CatalogueOrder): Promise<void> {
    await this.change(order === this.ask.order ? { back: !this.ask.back } : { order, back: false });
  }

  async look(): Promise<void> {
    const asked = (this.#asked += 1);
    const plain = Object.fromEntries(
      Object.entries(this.ask).filter(([, value]) => value !== undefined && value !== ''),
    );
    const view = await this.house.desk.reading.catalogue({
      ...plain,
      schoolStart: prefs.held.schoolYearStart,
    });
    if (asked !== this.#asked) return;
    this.view = view;
    this.chosen = Math.max(0, Math.min(this.chosen, view.lines.length - 1));
    const there = new Set(view.lines.map(({ id }) => id));
    if ([...this.marked].some((id) => !there.has(id)))
      this.marked = new Set([...this.marked].filter((id) => there.has(id)));
  }

  mark(id: HeadingId): void {
    const marked = new Set(this.marked);
    if (!marked.delete(id)) marked.add(id);
    this.marked = marked;
  }

  /** Marks every line from the chosen one to another. */
  markThrough(to: number): void {
    const [from, last] = [Math.min(this.chosen, to), Math.max(this.chosen, to)];
    this.marked = new Set([
      ...this.marked,
      ...this.lines.slice(from, last + 1).map(({ id }) => id),
    ]);
  }

  markAll(): void {
    this.marked = new Set(this.lines.map(({ id }) => id));
  }

  unmark(): void {
    this.marked = new Set();
  }
}

const held = new WeakMap<House, BooksState>();

export function booksOf(house: House): BooksState {
  let state = held.get(house);
  if (!state) held.set(house, (state = new BooksState(house)));
  return state;
}
