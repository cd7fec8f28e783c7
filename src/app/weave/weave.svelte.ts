import type { Desk } from '../../engine/desk';
import type {
  BookFold,
  BookOrder,
  ClothThread,
  ClothView,
  KeptStrands,
  KnotView,
  Span,
  ThemeFold,
  ThemeOrder,
} from '../../engine/weave-answers';
import type { HeadingId } from '../../journal/records';
import {
  KINDS,
  QUARTER_KINDS,
  QUARTERS,
  quartersOf,
  QUARTER_SAYS,
  type Quarter,
} from './cloth-lay';
import { counted } from '../say';
import { largestGap } from './largest-gap';
import { keepSettings, keepStrands, keptSettings, keptStrands } from './kept-here';

export const BOOK_ORDER_SAYS: Record<BookOrder, string> = {
  read: 'reading order',
  likeness: 'likeness',
  filing: 'filing order',
  published: 'order of publication',
};
export const THEME_ORDER_SAYS: Record<ThemeOrder, string> = {
  strand: 'strand',
  likeness: 'likeness',
  name: 'name',
  size: 'size',
};
export const BOOK_FOLD_SAYS: Record<BookFold, string> = {
  each: 'each by itself',
  year: 'folded by year',
  decade: 'folded by decade',
  strand: 'folded by strand',
};
export const THEME_FOLD_SAYS: Record<ThemeFold, string> = {
  each: 'each by itself',
  strand: 'folded by strand',
};

/** What is shown in the large field of the place. */
export type Showing = 'cloth' | 'table' | 'map' | 'gaps' | 'strands';
export const SHOWINGS: readonly Showing[] = ['cloth', 'table', 'map', 'gaps', 'strands'];

export type Side = 'book' | 'theme' | 'chain';

/** Fewer books are no cloth. */
export const LEAST_BOOKS = 3;

/** What is chosen on the cloth: a crossing, or one whole thread. */
export interface Chosen {
  what: 'knot' | 'book' | 'theme';
  /** Thread ids. */
  book: string;
  theme: string;
}

interface Settings {
  books: BookOrder;
  themes: ThemeOrder;
  foldBooks?: BookFold;
  foldThemes?: ThemeFold;
  mark?: Quarter;
  /** Steps of zoom; 0 fits. */
  zoom: number;
}
const USUAL: Settings = { books: 'read', themes: 'strand', mark: 'lesson', zoom: 0 };

/** The cloth as it is looked at: how it lies, what is chosen on it, and what lies there. */
export class WeaveState {
  settings = $state.raw<Settings>(keptSettings(USUAL));
  kept = $state.raw<KeptStrands>({});
  open = $state.raw<string[]>([]);
  span = $state.raw<Span>({});
  cloth = $state.raw<ClothView | undefined>();
  chosen = $state.raw<Chosen | undefined>();
  knot = $state.raw<KnotView | undefined>();
  /** All entries of the crossing are listed. */
  whole = $state(false);
  showing = $state<Showing>('cloth');
  /** What is followed where one thread is shown at a time. */
  side = $state<Side>('book');
  busy = $state(false);

  #running = false;
  #again = false;
  #asked = 0;
  #journal: string | undefined;

  constructor(readonly desk: Desk) {}

  /** Looked at in the same way, with nothing shown yet. */
  anew(): WeaveState {
    const { settings, kept, open, span, chosen, whole, showing, side } = this;
    const looked = { settings, kept, open, span, chosen, whole, showing, side };
    const next = Object.assign(new WeaveState(this.desk), looked);
    next.#journal = this.#journal;
    return next;
  }

  /** What is remembered of strands belongs to one journal. */
  remember(journal: string): void {
    if (journal === this.#journal) return;
    this.#journal = journal;
    this.kept = keptStrands(journal);
  }

  /** Asks for the cloth anew; while one asking runs only the newest wish waits. */
  async ask(): Promise<void> {
    if (this.#running) {
      this.#again = true;
      return;
    }
    this.#running = true;
    this.busy = true;
    try {
      await this.#takeOver();
      do {
        this.#again = false;
        const { books, themes, foldBooks, foldThemes } = this.settings;
        const [asked, journal] = [this.kept, this.#journal];
        const cloth = await this.desk.weave.cloth({
          books,
          themes,
          ...(foldBooks ? { foldBooks } : {}),
          ...(foldThemes ? { foldThemes } : {}),
          open: this.open,
          span: this.span,
          strands: asked,
        });
        this.cloth = cloth;
        this.#keepRun(cloth.strands.kept, asked, journal);
        this.#choose();
      } while (this.#again);
    } finally {
      this.#running = false;
      this.busy = false;
    }
    await this.look();
  }

  /** What this browser kept of strands before journals did goes into the journal, once. */
  async #takeOver(): Promise<void> {
    const { names = {}, forward = [], moved = {}, ...kept } = this.kept;
    if (Object.keys(names).length + forward.length + Object.keys(moved).length === 0) return;
    const [asked, journal] = [this.kept, this.#journal];
    await this.desk.weave.takeStrandsOver(asked);
    this.#keepRun(kept, asked, journal);
  }

  /** Keeps what came of a run, but for the number of strands where the reader has chosen another since it was asked for. */
  #keepRun(run: KeptStrands, asked: KeptStrands, journal: string | undefined): void {
    if (journal !== this.#journal) return;
    const { resolution } = this.kept;
    const chosen = resolution !== undefined && this.kept !== asked;
    this.#keepStrands(chosen ? { ...run, resolution, chosen } : run);
  }

  #keepStrands(kept: KeptStrands): void {
    this.kept = kept;
    if (this.#journal) keepStrands(this.#journal, kept);
  }

  /** Fewer strands, or more. */
  async setResolution(resolution: number): Promise<void> {
    this.#keepStrands({ ...this.kept, resolution, chosen: true });
    await this.ask();
  }

  set(change: Partial<Settings>): void {
    this.settings = { ...this.settings, ...change };
    keepSettings(this.settings);
    if ('mark' in change) void this.look();
    if (Object.keys(change).some((key) => key !== 'mark' && key !== 'zoom')) void this.ask();
  }

  setSpan(span: Span): void {
    this.span = span;
    void this.ask();
  }

  toggleFold(key: string): Promise<void> {
    this.open = this.open.includes(key)
      ? this.open.filter((held) => held !== key)
      : [...this.open, key];
    return this.ask();
  }

  foldAll(): void {
    this.open = [];
    void this.ask();
  }

  thread(side: 'books' | 'themes', id: string | undefined): ClothThread | undefined {
    return this.cloth?.[side].find((thread) => thread.id === id);
  }

  /** There is a cloth: books enough, and a theme that crosses them. */
  get woven(): boolean {
    const { totals } = this.cloth ?? {};
    return totals !== undefined && totals.books >= LEAST_BOOKS && totals.themes > 0;
  }

  /** There is too little to weave: the cloth wants books and a theme, every other showing an entry. */
  get bare(): boolean {
    const { totals } = this.cloth ?? {};
    if (!totals) return false;
    const onCloth = this.showing === 'cloth' || this.showing === 'table';
    return totals.entries === 0 || (onCloth && !this.woven);
  }

  get book(): ClothThread | undefined {
    return this.thread('books', this.chosen?.book);
  }

  get theme(): ClothThread | undefined {
    return this.thread('themes', this.chosen?.theme);
  }

  /** Keeps the choice while its threads are there; at first, the largest crossing that lacks what is looked for. */
  #choose(): void {
    const { cloth, chosen } = this;
    if (!cloth || cloth.books.length === 0 || cloth.themes.length === 0) {
      this.chosen = undefined;
      return;
    }
    const held = (side: 'books' | 'themes', id: string | undefined): string | undefined =>
      (
        cloth[side].find(
          (thread) => thread.id === id || (id && thread.headings.includes(id as HeadingId)),
        ) ?? cloth[side].find(({ fold }) => fold && fold.key === id)
      )?.id;
    const [book, theme] = [held('books', chosen?.book), held('themes', chosen?.theme)];
    if (chosen && (book ?? theme)) {
      this.chosen = {
        what: book && theme ? chosen.what : book ? 'book' : 'theme',
        book: book ?? cloth.books[0]!.id,
        theme: theme ?? cloth.themes[0]!.id,
      };
      return;
    }
    this.chosen = largestGap(cloth, this.settings.mark);
  }

  /** Chooses the whole thread of a heading, if it lies on the cloth; answers of which kind the thread is. */
  chooseHeading(id: HeadingId): 'book' | 'theme' | undefined {
    const { cloth, chosen } = this;
    if (!cloth || !chosen || !this.woven) return undefined;
    const find = (side: 'books' | 'themes'): string | undefined =>
      cloth[side].find((thread) => thread.headings.includes(id))?.id;
    const [book, theme] = [find('books'), find('themes')];
    const what = book ? 'book' : theme ? 'theme' : undefined;
    if (what) {
      this.choose({ what, book: book ?? chosen.book, theme: theme ?? chosen.theme });
    }
    return what;
  }

  choose(chosen: Chosen): void {
    this.chosen = chosen;
    this.whole = false;
    void this.look();
  }

  /** Asks what lies at what is chosen. */
  async look(): Promise<void> {
    const turn = ++this.#asked;
    const { chosen, book, theme } = this;
    if (!chosen || !book || !theme) {
      this.knot = undefined;
      return;
    }
    const mark = this.settings.mark;
    const knot = await this.desk.weave.knot({
      books: chosen.what === 'theme' ? [] : book.headings,
      themes: chosen.what === 'book' ? [] : theme.headings,
      span: this.span,
      ...(mark ? { missing: QUARTER_KINDS[mark] } : {}),
      ...(this.whole ? { limit: 10_000 } : {}),
    });
    if (turn === this.#asked) this.knot = knot;
  }

  showAll(): void {
    this.whole = true;
    void this.look();
  }
}

/** The counts of a crossing, by kind; none where there is no knot. */
export function countsAt(cloth: ClothView, theme: number, book: number): number[] | undefined {
  let [low, high] = [cloth.starts[theme]!, cloth.starts[theme + 1]!];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (cloth.at[middle]! < book) low = middle + 1;
    else high = middle;
  }
  if (low >= cloth.starts[theme + 1]! || cloth.at[low] !== book) return undefined;
  return [...cloth.counts.subarray(low * KINDS, (low + 1) * KINDS)];
}

/** "Frankenstein, Learning to read: 9 entries, no lesson idea". */
export function sayCrossing(
  book: ClothThread,
  theme: ClothThread,
  counts: readonly number[] | undefined,
  mark: Quarter | undefined,
): string {
  const where = `${book.name}, ${theme.name}`;
  if (!counts) return `${where}: nothing`;
  const quarters = quartersOf(counts);
  const total = quarters.reduce((sum, count) => sum + count, 0);
  const lacks = mark && quarters[QUARTERS.indexOf(mark)] === 0;
  return `${where}: ${counted(total, 'entry', 'entries')}${lacks ? `, no ${QUARTER_SAYS[mark]}` : ''}`;
}
