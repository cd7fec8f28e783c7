import type { ClothView } from '../../engine/weave-answers';
import { number } from '../say';
import { layRows, rowsBetween, type Row } from './cloth-lay';
import type { WeaveState } from './weave.svelte';

const COARSE = globalThis.matchMedia?.('(pointer: coarse)').matches ?? false;
/** Rows and columns in the page past the edges of what is in view. */
const SPARE = 6;
/** Narrower than this the key is left out and labels are short. */
const NARROW = 620;
const LEAST_HEAD = 96;

/** How the cloth lies in the room there is for it, in pixels: sizes of rows and columns, and which of them are in view. */
export class ClothRoom {
  /** The room, and how far it is scrolled. */
  wide = $state(880);
  high = $state(600);
  left = $state(0);
  top = $state(0);

  constructor(
    readonly weave: () => WeaveState,
    readonly cloth: () => ClothView,
  ) {}

  readonly keyHigh = $derived.by(() => (this.wide < NARROW ? 0 : 132));
  /** Heads are as high as their longest name, as far as that leaves the cloth the larger part; a letter of an upright name takes about 7.6 pixels. */
  readonly headHigh = $derived.by(() => {
    const letters = Math.max(
      0,
      ...this.cloth().books.map(({ short, folded }) => short.length * (folded ? 8.8 : 7.6)),
    );
    const most = Math.max(LEAST_HEAD, this.keyHigh, Math.min(208, this.high * 0.42));
    return Math.round(Math.max(this.keyHigh, Math.min(most, letters + 44)));
  });
  readonly labels = $derived.by(() => (this.wide < NARROW ? 158 : 212));
  readonly mostEntries = $derived.by(() =>
    Math.max(1, ...this.cloth().themes.map(({ counts }) => counts.reduce((a, b) => a + b, 0))),
  );
  /** A bar and the longest number beside it. */
  readonly totals = $derived.by(() =>
    Math.max(66, Math.round(46 + 7.5 * number(this.mostEntries).length)),
  );
  /** Wide threads have room for a name in two lines. */
  readonly rowHigh = $derived.by(() => {
    const plain = this.cloth().themes.some(({ folded }) => folded) ? 36 : 24;
    return Math.max(COARSE ? 44 : 24, plain + this.weave().settings.zoom * 4);
  });
  readonly columnWide = $derived.by(() => {
    const { books } = this.cloth();
    const fits = (this.wide - this.labels - this.totals - 4) / Math.max(1, books.length);
    const least = COARSE ? 44 : 25;
    const most = books.every(({ folded }) => folded) ? 52 : 42;
    return Math.max(
      COARSE ? 44 : 20,
      Math.min(most, Math.max(least, fits)) + this.weave().settings.zoom * 5,
    );
  });
  readonly lay = $derived.by(() =>
    layRows(this.cloth(), this.weave().settings.themes === 'strand', this.rowHigh, 18),
  );
  readonly fieldWide = $derived.by(() => this.columnWide * this.cloth().books.length);

  /** The rows in view and some more. */
  readonly rows = $derived.by((): Row[] => {
    const [from, to] = rowsBetween(
      this.lay.rows,
      this.top - this.headHigh,
      this.top + this.high - this.headHigh,
    );
    return this.lay.rows.slice(Math.max(0, from - SPARE), to + SPARE);
  });
  /** The first column in view, and one past the last. */
  readonly columns = $derived.by((): [number, number] => {
    const first = Math.floor(this.left / this.columnWide) - SPARE;
    const last = Math.ceil((this.left + this.wide - this.labels) / this.columnWide) + SPARE;
    return [Math.max(0, first), Math.min(this.cloth().books.length, last)];
  });
  readonly shown = $derived.by(() =>
    Array.from({ length: this.columns[1] - this.columns[0] }, (_, at) => this.columns[0] + at),
  );

  /** Where to scroll so that a crossing is clear of heads and labels. */
  bring(book: number, theme: number): { left: number; top: number } {
    const { columnWide, rowHigh } = this;
    const x = book * columnWide;
    const y = this.lay.rows[theme]?.y ?? 0;
    const roomX = this.wide - this.labels - this.totals;
    const roomY = this.high - this.headHigh;
    let { left, top } = this;
    if (x < left) left = x - columnWide;
    else if (x + columnWide > left + roomX) left = x + 2 * columnWide - roomX;
    if (y - rowHigh < top) top = y - 2 * rowHigh;
    else if (y + rowHigh > top + roomY) top = y + 2 * rowHigh - roomY;
    return { left, top };
  }
}
