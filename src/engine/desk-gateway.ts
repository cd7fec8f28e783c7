/**
 * What lies under the desk's questions: a store opened into an engine, and the gateway every change passes. An edit is applied, told to
 * the screens, and kept; the answer comes when the store has it. It asks the journal nothing of its own.
 */
import type { Change, Edit } from '../journal/edits';
import { emptyJournal } from '../journal/journal';
import type { Journal } from '../journal/records';
import { MemoryBeside, type RecordsBeside } from '../keep/beside';
import type { RowNow } from '../keep/document-store';
import type { Aside, JournalMeta, JournalStore } from '../keep/store';
import { loadRelatedWords, type RelatedWords } from '../language/related-words';
import type { Asked, Surroundings } from './core';
import { UNREAD } from './desk';
import type { DeskEvents, Done, KeepState, Totals, UndoState } from './desk';
import { EntryIds } from './entry-ids';
import { headOf, lineageOf, takeHead } from './head';
import { HeldJournal } from './held-journal';
import type { Applied, Beside } from './history';
import { Keeping } from './keeping';
import { keepLearning } from './learning';
import { laterThanCopies, readLineage } from './lineage';
import { Opening } from './opening';
import { Readied } from './readied';
import { step } from './taking-back';

export interface GatewaySurroundings extends Surroundings {
  /** Lets other work through between slices of loading. */
  breathe: () => Promise<void>;
  /** Resolves when screens have asked nothing for a while; breathes unless given. */
  quiet?: () => Promise<void>;
  /** Where what is under way is held between windows; memory unless given. */
  beside?: RecordsBeside;
  /** Names the program, so that what it has made ready is read at the next opening by no other; without it nothing is. */
  edition?: string;
}

/** While a journal comes from its store, screens hear how far it is this often. */
const ARRIVING_MS = 500;

export class DeskGateway {
  engine: HeldJournal;
  protected readonly keeping: Keeping;
  protected opening: Opening | undefined;
  protected loaded: Promise<void> = Promise.resolve();
  protected readonly beside: RecordsBeside;
  #readied: Readied | undefined;
  #events: DeskEvents[] = [];
  #ids = new EntryIds();
  #thesaurus?: RelatedWords | undefined;
  #widened: Promise<void> = Promise.resolve();
  /** Screens know that every entry is read. */
  #toldAll = false;
  /** When screens were last told how many entries are there, ms. */
  #arrivedAt = 0;

  constructor(
    store: JournalStore,
    readonly around: GatewaySurroundings,
    memoryOnly?: string,
  ) {
    this.keeping = new Keeping(
      store,
      () => around.now().toISOString(),
      (state) => this.#tellKeeping(state),
      memoryOnly,
      () => this.atRest(),
    );
    this.beside = around.beside ?? new MemoryBeside();
    this.engine = this.#engineOver(emptyJournal(around.newId(), 'My reading', this.now()));
  }

  /** Nothing has been kept for a while. */
  protected atRest(): void {
    void this.#readied?.rest();
  }

  /** ISO time now; what is changed after a copy was saved is later than the copy, whatever the clock says. */
  protected now(): string {
    return laterThanCopies(this.engine && lineageOf(this.engine.journal), this.around.now());
  }

  #engineOver(journal: Journal): HeldJournal {
    const engine = new HeldJournal(journal, { now: this.around.now, newId: () => this.newId() });
    if (this.#thesaurus) engine.useRelatedWords(this.#thesaurus);
    return engine;
  }

  protected newId(): string {
    return this.#ids.next(this.around.newId());
  }

  async listen(events: DeskEvents): Promise<void> {
    this.#events.push(events);
  }

  /** Opens the store and hands rows to the engine in slices; resolves when the first entries can be asked about. */
  async open(): Promise<Totals> {
    const meta = await this.keeping.open();
    const journal = emptyJournal(
      meta?.id ?? this.around.newId(),
      meta?.name ?? 'My reading',
      meta?.made ?? this.now(),
    );
    this.engine = this.#engineOver(journal);
    if (meta) this.#takeMeta(journal, meta);
    this.#ids.clear();
    const { edition, breathe, quiet = breathe } = this.around;
    if (edition) this.#readied = new Readied(this.engine, this.beside, edition, { breathe, quiet });
    this.opening = new Opening(
      this.engine,
      (changes) => this.#ids.wrote(changes),
      breathe,
      () => this.#tellArriving(),
    );
    this.#toldAll = false;
    this.#arrivedAt = this.around.now().getTime();
    let first: () => void = () => {};
    const ready = new Promise<void>((resolve) => {
      first = resolve;
    });
    const loading = this.#load(this.opening, first);
    this.loaded = loading.catch(() => undefined);
    // The first entries wait neither for what is stored of all nor for related words.
    void ready.then(() => this.#readied?.resumeFind());
    this.#widened = ready.then(breathe).then(() => this.#widen());
    await Promise.race([ready, loading]);
    return this.#totals();
  }

  /** Resolves when every row of the store that can be read has been taken in. */
  whenLoaded(): Promise<void> {
    return this.loaded;
  }

  async #load(opening: Opening, first: () => void): Promise<void> {
    try {
      this.keeping.opened(await opening.read(this.keeping.store, first));
    } catch (error) {
      // With nothing read there is no journal to show; with some of it read, the rest is told to be missing.
      const { tables } = this.engine.journal;
      if (tables.entries.size === 0 && tables.headings.size === 0) throw error;
      this.keeping.opened([{ part: UNREAD, why: (error as Error).message }]);
    }
    first();
    await this.#readied?.allRead();
    this.#toldAll = true;
    this.tellChanged();
    void this.#settle();
  }

  /** Related words are no part of the journal: finding works without them meanwhile, by the reader's own headings. */
  async #widen(): Promise<void> {
    this.#thesaurus ??= await loadRelatedWords().catch(() => undefined);
    if (!this.#thesaurus) return;
    this.engine.useRelatedWords(this.#thesaurus);
    if (this.#toldAll) this.tellChanged();
  }

  async #settle(): Promise<void> {
    await this.#widened;
    if (this.#readied) await this.#readied.settle();
    else await keepLearning(this.engine, this.around.breathe);
  }

  /** Rows that another window has changed: taken in as they now are. */
  takeRows(rows: RowNow[]): void {
    for (const { table, id, row } of rows) {
      const before = this.engine.journal.tables[table].get(id);
      if (!before && !row) continue;
      const change = { table, id, ...(before ? { before } : {}), ...(row ? { after: row } : {}) };
      const changes = [change as Change];
      if (this.engine.take({ does: 'Another window', changes }).ok) this.#ids.wrote(changes);
    }
    if (rows.length > 0) this.tellChanged();
  }

  /** What another window knows of the journal as a whole. */
  takeMeta(meta: JournalMeta): void {
    this.#takeMeta(this.engine.journal, meta);
    this.keeping.tookMeta(meta);
    this.tellChanged();
  }

  #takeMeta(journal: Journal, { lineage, ...meta }: JournalMeta): void {
    const read = readLineage(lineage);
    takeHead(journal, { ...meta, ...(read ? { lineage: read } : {}) });
  }

  /** Parts that were found unreadable after the journal was opened. */
  takeAside(aside: Aside[]): void {
    if (this.coming === 0) this.keeping.foundAside(aside);
  }

  protected get coming(): number {
    return this.opening?.coming ?? 0;
  }

  async totals(): Promise<Totals> {
    return this.#totals();
  }

  #totals(): Totals {
    const { tables, name } = this.engine.journal;
    return {
      entries: tables.entries.size,
      headings: tables.headings.size,
      ties: this.engine.tieCount(),
      books: [...tables.headings.values()].filter(({ kind }) => kind === 'book').length,
      guides: tables.guides.size,
      meetings: tables.meetings.size,
      circles: tables.circles.size,
      loading: this.coming,
      name,
      empty:
        this.coming === 0 &&
        tables.entries.size === 0 &&
        tables.headings.size === 0 &&
        !this.keeping.meta,
    };
  }

  #undoState(): UndoState {
    const undo = this.engine.history.toUndo()?.does;
    const redo = this.engine.history.toRedo()?.does;
    return { ...(undo ? { undo } : {}), ...(redo ? { redo } : {}) };
  }

  protected tellChanged(): void {
    const totals = this.#totals();
    for (const events of this.#events) events.changed(totals, this.#undoState());
  }

  /** The numbers alone: at each slice they would cost screens more than they tell. */
  #tellArriving(): void {
    const now = this.around.now().getTime();
    if (now - this.#arrivedAt < ARRIVING_MS) return;
    this.#arrivedAt = now;
    const totals = this.#totals();
    for (const events of this.#events) events.arriving(totals);
  }

  #tellKeeping(state: KeepState): void {
    for (const events of this.#events) events.keeping(state);
  }

  /** The gateway: every change of the journal by this window passes here. */
  protected async apply(edit: Edit, id?: string): Promise<Done> {
    if (edit.changes.length === 0)
      return { ok: true, nothing: true, said: 'It is so already', ...(id ? { id } : {}) };
    return this.finish(this.engine.apply(edit), id);
  }

  protected async change(asked: Asked): Promise<Done> {
    return asked.ok
      ? this.apply(asked.edit, asked.id)
      : { ok: false, said: asked.said, code: asked.code };
  }

  /** An edit, or none, and what goes along with it outside the journal: one thing to take back. */
  protected async applyBeside(edit: Edit, beside: Beside): Promise<Done> {
    const { history } = this.engine;
    const applied = edit.changes.length > 0 ? this.engine.apply(edit) : undefined;
    if (applied && !applied.ok) return this.finish(applied);
    if (!applied) history.did(edit.does, { does: edit.does, changes: [] });
    history.alongside(beside);
    beside.redo();
    if (applied) return this.finish(applied);
    this.tellChanged();
    return { ok: true, said: edit.does };
  }

  /** Keeps what was applied. The store is called at once, so that edits are stored in the order they were made. */
  protected async finish(applied: Applied, id?: string): Promise<Done> {
    if (!applied.ok) return { ok: false, said: applied.message, code: applied.code };
    const { edit, does } = applied;
    this.#ids.wrote(edit.changes);
    const { journal } = this.engine;
    const keeping = this.keeping.keep(edit.changes, headOf(journal), journal.tables.entries.size);
    const kept = await keeping;
    this.tellChanged();
    return { ok: true, said: kept ? does : `${does}; not kept yet`, ...(id ? { id } : {}) };
  }

  async undo(): Promise<Done> {
    return this.finish(step(this.engine, 'undo'));
  }

  async redo(): Promise<Done> {
    return this.finish(step(this.engine, 'redo'));
  }

  async undoList(): Promise<string[]> {
    return this.engine.history.list().map(({ does }) => does);
  }
}
