import type {
  BenchAsk,
  BenchFile,
  BenchOrder,
  BenchRow,
  BenchShow,
  BenchStep,
  BenchView,
  BenchWhole,
  FileHanded,
  TwinChoice,
} from '../../engine/bench-types';
import type { Desk, Done } from '../../engine/desk';
import type { EntryKind } from '../../journal/records';
import { afterPaint } from '../after-paint';
import type { House } from '../house.svelte';
import { asHeld, nextOf } from './rows';
import { alteredChoice, usualChoice } from './usual';

/** Rows asked for at first, and how many more when the list nears its end. */
const SLICE = 60;
/** Rows held at once; beyond these the earlier ones are let go. */
const MOST = 180;
const LOOK_AGAIN_MS = 300;
/** A change made here is looked at by what made it; changes told are looked at a little later. */
const SETTLES_MS = 60;

export type Sheet =
  | { is: 'alter'; whole: BenchWhole; place: string; back: string }
  | { is: 'tie'; row: BenchRow }
  | { is: 'columns'; file: number; name: string }
  | { is: 'paste' | 'files' | 'gatherings' | 'put-away' };

/**
 * The bench as the screen holds it: which part of the list is in view, the piece in hand, and the one just settled, which stays one
 * step in view. Everything done goes through one queue, so that keys pressed fast each meet the next piece.
 */
export class GatherState {
  view = $state.raw<BenchView | undefined>();
  /** Files of the gathering, those still to be read last. */
  files = $state.raw<BenchFile[]>([]);
  show = $state<BenchShow>('left');
  order = $state<BenchOrder>('notebook');
  file = $state<number | undefined>();
  /** The piece in hand. */
  current = $state<string | undefined>();
  sheet = $state.raw<Sheet | undefined>();
  /** Grows when focus is to go to the piece in hand. */
  moved = $state(0);
  /** How often files were handed over by this screen and are not read yet. */
  #handing = $state(0);
  #desk: Desk;
  #linger: string | undefined;
  #from = 0;
  #limit = SLICE;
  #follow = true;
  #seen = -1;
  #running: Promise<void> | undefined;
  #again = false;
  #queue: Promise<unknown> = Promise.resolve();
  #poll: ReturnType<typeof setTimeout> | undefined;

  constructor(readonly house: House) {
    this.#desk = house.desk;
  }

  get rows(): BenchRow[] {
    return this.view?.rows ?? [];
  }

  get row(): BenchRow | undefined {
    return this.#rowOf(this.current);
  }

  #rowOf(id: string | undefined): BenchRow | undefined {
    return this.rows.find((row) => row.id === id);
  }

  /** Files are being read, whichever screen handed them over. */
  get reading(): boolean {
    const { progress } = this.view ?? {};
    return this.#handing > 0 || (progress !== undefined && progress.stage !== 'stopped');
  }

  /** How many files are still to be read. */
  get waiting(): number {
    return this.files.filter(({ status }) => status === 'waiting').length;
  }

  /** Whether a gathering is in hand, or on its way. */
  get inHand(): boolean {
    return Boolean(this.view?.gathering) || this.reading || this.files.length > 0;
  }

  get #ask(): BenchAsk {
    return {
      show: this.show,
      order: this.order,
      ...(this.file === undefined ? {} : { file: this.file }),
      ...(this.#linger ? { linger: this.#linger } : {}),
      from: this.#from,
      ...(this.#follow && this.current ? { around: this.current } : {}),
      limit: this.#limit,
      ...(this.view ? { filesAt: this.view.filesAt } : {}),
    };
  }

  /** Takes in what earlier and other windows left. */
  async open(): Promise<void> {
    await this.#look(true);
  }

  close(): void {
    clearTimeout(this.#poll);
  }

  /** Asks anew; while one question runs only one more waits. */
  look(): Promise<void> {
    if (this.#running) this.#again = true;
    this.#running ??= this.#lookAll().finally(() => (this.#running = undefined));
    return this.#running;
  }

  async #lookAll(): Promise<void> {
    do {
      this.#again = false;
      await this.#look();
    } while (this.#again);
  }

  /** The journal changed, here or elsewhere: looked at again unless that has been done since. */
  changed(): void {
    setTimeout(() => {
      if (this.#seen < this.house.revision) void this.look();
    }, SETTLES_MS);
  }

  async #look(open = false): Promise<void> {
    this.#seen = this.house.revision;
    const view = await this.#desk.gathering.bench(this.#ask, open);
    this.#from = view.from;
    if (view.files) this.files = asHeld(this.files, view.files, ({ key }) => key);
    this.view = { ...view, rows: asHeld(this.rows, view.rows, ({ id }) => id) };
    if (this.file !== undefined && !this.files.some(({ key }) => key === this.file)) {
      this.file = undefined;
      this.#again = true;
    }
    if (!view.rows.some(({ id }) => id === this.current)) {
      const first = view.rows.find(({ id }) => id !== this.#linger) ?? view.rows[0];
      this.current = first?.id;
    }
    clearTimeout(this.#poll);
    if (this.reading) this.#poll = setTimeout(() => void this.look(), LOOK_AGAIN_MS);
  }

  /** The list from its start: another file, order or choice of what is shown. */
  async relist(): Promise<void> {
    this.#linger = undefined;
    this.current = undefined;
    this.#from = 0;
    this.#limit = SLICE;
    await this.look();
  }

  chooseFile(file: number | undefined): Promise<void> {
    this.file = this.file === file ? undefined : file;
    return this.relist();
  }

  /** The list was scrolled near an end. */
  async more(towards: 'start' | 'end'): Promise<void> {
    const { view } = this;
    if (!view || this.#running) return;
    const end = view.from + view.rows.length;
    if (towards === 'end' ? end >= view.total : view.from === 0) return;
    this.#follow = false;
    const rows = Math.min(MOST, view.rows.length + SLICE);
    this.#limit = rows;
    this.#from =
      towards === 'end' ? Math.max(0, end + SLICE - rows) : Math.max(0, view.from - SLICE);
    await this.look();
  }

  /** Does things one after another, each with what the one before left. */
  queued<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#queue.then(work, work);
    this.#queue = done.catch(() => undefined);
    return done;
  }

  move(step: number): Promise<void> {
    return this.queued(async () => {
      const at = this.rows.findIndex(({ id }) => id === this.current);
      const to = this.rows[Math.max(0, Math.min(this.rows.length - 1, at + step))]?.id;
      // What was just settled and is gone to stays in view until it is left.
      if (to !== this.#linger) this.#linger = undefined;
      await this.#goTo(to);
    });
  }

  /** Takes a piece in hand. */
  take(id: string): void {
    if (this.current === id) return;
    this.current = id;
    this.#follow = true;
  }

  async #goTo(id: string | undefined): Promise<void> {
    this.#follow = true;
    if (id) this.current = id;
    await this.look();
    this.moved += 1;
  }

  /** Settles the piece in hand and goes on to the next. */
  settle(
    id: string | undefined,
    step: (id: string) => BenchStep | undefined,
  ): Promise<Done | undefined> {
    return this.queued(async () => {
      const own = id ?? this.current;
      const asked = own && step(own);
      if (!own || !asked) return undefined;
      const next = nextOf(this.rows, own, this.#linger);
      const done = await this.#desk.gathering.step(asked);
      if (!done.ok) {
        this.house.say(done.said);
        return done;
      }
      this.#linger = own;
      await this.#goTo(next ?? own);
      return done;
    });
  }

  accept(id?: string, choice?: TwinChoice, usual = usualChoice): Promise<Done | undefined> {
    return this.settle(id, (own) => {
      const row = this.#rowOf(own);
      if (row?.status === 'accepted') return undefined;
      const chosen = choice ?? (row?.status === 'left' ? usual(row) : undefined);
      return { do: 'accept', ids: [own], ...(chosen ? { choice: chosen } : {}) };
    });
  }

  /** Accepts what the reader has just altered. */
  acceptAltered(id: string): Promise<Done | undefined> {
    return this.accept(id, undefined, alteredChoice);
  }

  skip(id?: string): Promise<Done | undefined> {
    return this.settle(id, (own) =>
      this.#rowOf(own)?.status === 'accepted' ? undefined : { do: 'skip', ids: [own] },
    );
  }

  /** Does something to the piece in hand that leaves it in hand. */
  change(step: BenchStep, told = false): Promise<Done> {
    return this.queued(() => this.#change(step, told));
  }

  async #change(step: BenchStep, told: boolean): Promise<Done> {
    const done = await this.#desk.gathering.step(step);
    if (!done.ok || told) this.house.say(done.said, done.ok);
    if (!done.ok) return done;
    const { current } = this;
    // Where it no longer belongs to what is shown it stays in view all the same.
    if (this.show !== 'left') this.#linger = current;
    await this.look();
    // Split and joined pieces have ids of their own.
    if (this.view?.touched && !this.rows.some(({ id }) => id === current))
      this.current = this.view.touched;
    await this.#goTo(this.current);
    return done;
  }

  putBack(id: string): Promise<Done> {
    this.current = id;
    return this.change({ do: 'put-back', ids: [id] });
  }

  setKind(kind: EntryKind): Promise<Done | undefined> {
    return this.queued(async () => {
      const { row } = this;
      if (row?.type !== 'piece' || row.status === 'accepted') return undefined;
      return this.#change({ do: 'kind', ids: [row.id], kind }, false);
    });
  }

  acceptSure(): Promise<Done> {
    return this.queued(async () => {
      const ask = { show: this.show, ...(this.file === undefined ? {} : { file: this.file }) };
      const done = await this.#desk.gathering.step({ do: 'accept-sure', ask });
      this.house.say(done.said, done.ok);
      this.#linger = undefined;
      await this.#goTo(undefined);
      return done;
    });
  }

  /** Takes the newest thing back, and has what it was about in hand again. */
  undo(way: 'undo' | 'redo' = 'undo'): Promise<void> {
    return this.queued(async () => {
      this.#linger = undefined;
      await (way === 'undo' ? this.house.undo() : this.house.redo());
      await this.look();
      const { touched } = this.view ?? {};
      await this.#goTo(touched);
    });
  }

  async alter(id = this.current): Promise<void> {
    const row = this.#rowOf(id);
    if (!row || row.status === 'accepted') return;
    this.take(row.id);
    const whole = await this.#desk.gathering.piece(row.id);
    if (!whole) return;
    if (whole.type === 'meeting') {
      this.house.say('A meeting is kept as its calendar says; alter it in Plan once it is kept.');
      return;
    }
    this.sheet = { is: 'alter', whole, place: row.place, back: row.id };
  }

  tie(): void {
    const { row } = this;
    if (row?.type === 'piece' && row.status !== 'accepted') this.sheet = { is: 'tie', row };
  }

  /** Reads files onto the bench; without any, goes on with those that wait. */
  async gather(files: FileHanded[]): Promise<void> {
    if (files.length === 0 && !this.view?.progress) {
      this.house.say('There are no files in it.');
      return;
    }
    this.#handing += 1;
    this.sheet = undefined;
    // The bench first: reading begins with workers that are started and take the processor.
    const shown = new Promise<void>((resolve) => afterPaint(resolve));
    const doing = shown.then(() => this.#desk.gathering.gather(files));
    setTimeout(() => void this.look(), LOOK_AGAIN_MS / 3);
    const done = await doing.finally(() => (this.#handing -= 1));
    this.house.say(done.said);
    await this.look();
    this.moved += 1;
  }

  async stop(): Promise<void> {
    await this.#desk.gathering.stop();
    await this.look();
  }

  async forgetWaiting(): Promise<void> {
    await this.#desk.gathering.forgetWaiting();
    await this.look();
  }

  async putAway(): Promise<void> {
    this.sheet = undefined;
    await this.house.tell(this.#desk.gathering.step({ do: 'put-away' }));
    this.show = 'left';
    this.file = undefined;
    await this.relist();
  }
}
