/**
 * The desk over an engine and a store: the one way screens change and ask the journal. An edit is applied,
 * told to the screens, and kept; the answer comes when the store has it.
 */
import type { FindQuery } from '../find/query';
import type { Change, Edit } from '../journal/edits';
import { emptyJournal } from '../journal/journal';
import {
  changeKind,
  mergeHeadings,
  putEntry,
  putHeading,
  putRow,
  removeEntries,
  removeHeading,
  removeRow,
  tieEntries,
  untieEntries,
} from '../journal/make-edits';
import type {
  Circle,
  CircleId,
  Declined,
  Entry,
  EntryId,
  EntryKind,
  Guide,
  GuideId,
  Heading,
  HeadingId,
  HeadingKind,
  Journal,
  Meeting,
  MeetingId,
  Tie,
} from '../journal/records';
import type { RowNow } from '../keep/document-store';
import type { Aside, JournalMeta, JournalStore } from '../keep/store';
import { readDate } from '../language/dates';
import { nameKey } from '../language/filing';
import { MemoryBeside, type RecordsBeside } from '../keep/beside';
import type { EntryRow, FindShown, NearHit } from './answers';
import { benchPicture } from './bench-beside';
import type {
  CopyLooked,
  Desk,
  DeskEvents,
  Done,
  EntryDraft,
  EntryView,
  GuideSaid,
  HeadingChoice,
  HeadingView,
  KeepState,
  MeetingSaid,
  Totals,
  UndoState,
  WritingHelp,
} from './desk';
import type { Surroundings } from './core';
import { HeldJournal } from './held-journal';
import { EntryIds } from './entry-ids';
import { shownResult } from './finding';
import type { FileReader } from './file-reader';
import type { GatheringDesk } from './gathering-desk';
import { loadRelatedWords, type RelatedWords } from '../language/related-words';
import { keepLearning } from './learning';
import { makingOf, type Applied, type Beside } from './history';
import { Keeping } from './keeping';
import { headOf, lineageOf, takeHead } from './head';
import { guideSaid, meetingSaid } from './lists';
import { newestOwn, readLineage } from './lineage';
import { MISFITS, Opening } from './opening';
import type { Faces } from './publishing';
import type { PlanningDesk } from './planning-desk';
import type { PrintingDesk } from './printing-desk';
import type { ReadingDesk } from './reading-desk';
import type { DeskPart } from './reading-desk-over';
import { rowOf } from './rows';
import { step } from './taking-back';
import { entryView, headingChoices, headingView } from './views';
import type { WeaveDesk } from './weave-desk';
import type { NearAsk } from './weaving';
import { once, whenAsked } from './when-asked';
import { broughtOnto } from './written-apart';
import { writingHelp } from './writing-help';

export interface DeskSurroundings extends Surroundings {
  /** Lets other work through between slices of loading. */
  breathe: () => Promise<void>;
  sha256: (bytes: Uint8Array) => Promise<string>;
  /** Text of the demo journal's file. */
  demo: () => Promise<string>;
  faces: Faces;
  /** Where what is under way is held between windows; memory unless given. */
  beside?: RecordsBeside;
  /** How files are read; by the readers of the house unless given. */
  reader?: FileReader;
}

/** Entries handed out to be altered that are remembered as they were, to tell what was changed in them. */
const SHOWN = 200;

export class DeskOver implements Desk {
  engine: HeldJournal;
  #keeping: Keeping;
  #events: DeskEvents[] = [];
  #ids = new EntryIds();
  #opening: Opening | undefined;
  #shown = new Map<string, Entry>();
  #loaded: Promise<void> = Promise.resolve();
  #thesaurus?: RelatedWords | undefined;
  readonly #part: DeskPart = {
    core: () => this.engine,
    apply: (edit, id) => this.#do(edit, id),
    loaded: () => this.#loaded,
  };
  readonly reading: ReadingDesk = whenAsked(async () => {
    const { readingDesk } = await import('./reading-desk-over');
    return readingDesk(this.#part);
  });
  readonly printing: PrintingDesk = whenAsked(async () => {
    const { printingDesk } = await import('./printing-desk-over');
    return printingDesk(this.#part, (which) => this.around.faces(which));
  });
  readonly planning: PlanningDesk = whenAsked(async () => {
    const { planningDesk } = await import('./planning-desk-over');
    return planningDesk(this.#part, (which) => this.around.faces(which));
  });
  readonly weave: WeaveDesk = whenAsked(async () => {
    const { weaveDesk } = await import('./weave-desk-over');
    return weaveDesk(this.#part);
  });
  readonly gathering: GatheringDesk;
  readonly #beside: RecordsBeside;

  readonly #copying = once(async () => {
    const { Copying } = await import('./copying');
    return new Copying(this.#keeping.store, {
      nowIso: () => this.#now(),
      newId: () => this.#newId(),
      sha256: this.around.sha256,
    });
  });

  constructor(
    store: JournalStore,
    readonly around: DeskSurroundings,
    memoryOnly?: string,
  ) {
    this.#keeping = new Keeping(
      store,
      () => around.now().toISOString(),
      (state) => this.#tellKeeping(state),
      memoryOnly,
    );
    this.engine = this.#engineOver(emptyJournal(around.newId(), 'My reading', this.#now()));
    this.#beside = around.beside ?? new MemoryBeside();
    this.gathering = whenAsked(async () =>
      (await import('./gathering-desk-over')).gatheringDesk({
        core: () => this.engine,
        records: this.#beside,
        ready: () => this.#loaded,
        breathe: around.breathe,
        change: (edit, beside) => this.#doBeside(edit, beside),
        keepPicture: (digest, bytes, type) => store.keepPicture(digest, bytes, type),
        ...(around.reader ? { reader: around.reader } : {}),
      }),
    );
  }

  /** ISO time now; what is changed after a copy was saved is later than the copy, whatever the clock says. */
  #now(): string {
    const now = this.around.now().toISOString();
    const copied = this.engine && newestOwn(lineageOf(this.engine.journal));
    return copied && now <= copied ? new Date(Date.parse(copied) + 1).toISOString() : now;
  }

  #engineOver(journal: Journal): HeldJournal {
    const engine = new HeldJournal(journal, { now: this.around.now, newId: () => this.#newId() });
    if (this.#thesaurus) engine.useRelatedWords(this.#thesaurus);
    return engine;
  }

  #newId(): string {
    return this.#ids.next(this.around.newId());
  }

  async listen(events: DeskEvents): Promise<void> {
    this.#events.push(events);
  }

  /** Opens the store and hands rows to the engine in slices; resolves when the first entries can be asked about. */
  async open(): Promise<Totals> {
    const meta = await this.#keeping.open();
    const journal = emptyJournal(
      meta?.id ?? this.around.newId(),
      meta?.name ?? 'My reading',
      meta?.made ?? this.#now(),
    );
    this.engine = this.#engineOver(journal);
    if (meta) this.#takeMeta(journal, meta);
    this.#ids.clear();
    this.#opening = new Opening(
      this.engine,
      (changes) => this.#ids.wrote(changes),
      this.around.breathe,
    );
    let first: () => void = () => {};
    const ready = new Promise<void>((resolve) => {
      first = resolve;
    });
    const loading = this.#load(this.#opening, first);
    this.#loaded = loading.catch(() => undefined);
    await Promise.race([ready, loading]);
    return this.#totals();
  }

  /** Resolves when every row of the store that can be read has been taken in. */
  whenLoaded(): Promise<void> {
    return this.#loaded;
  }

  async #load(opening: Opening, first: () => void): Promise<void> {
    try {
      this.#keeping.opened(await opening.read(this.#keeping.store, first));
    } catch (error) {
      // With nothing read there is no journal to show; with some of it read, the rest is told to be missing.
      const { tables } = this.engine.journal;
      if (tables.entries.size === 0 && tables.headings.size === 0) throw error;
      this.#keeping.opened([{ part: 'the rest', why: (error as Error).message }]);
    }
    this.#tellChanged();
    void this.#widen();
  }

  /** Related words come after the journal itself: finding works without them meanwhile, by the reader's own headings. */
  async #widen(): Promise<void> {
    this.#thesaurus ??= await loadRelatedWords().catch(() => undefined);
    if (!this.#thesaurus) return;
    this.engine.useRelatedWords(this.#thesaurus);
    this.#tellChanged();
    await keepLearning(this.engine, this.around.breathe);
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
    if (rows.length > 0) this.#tellChanged();
  }

  /** What another window knows of the journal as a whole. */
  takeMeta(meta: JournalMeta): void {
    this.#takeMeta(this.engine.journal, meta);
    this.#keeping.tookMeta(meta);
    this.#tellChanged();
  }

  #takeMeta(journal: Journal, { lineage, ...meta }: JournalMeta): void {
    const read = readLineage(lineage);
    takeHead(journal, { ...meta, ...(read ? { lineage: read } : {}) });
  }

  /** Parts that were found unreadable after the journal was opened. */
  takeAside(aside: Aside[]): void {
    if (this.#coming === 0) this.#keeping.foundAside(aside);
  }

  get #coming(): number {
    return this.#opening?.coming ?? 0;
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
      loading: this.#coming,
      name,
      empty:
        this.#coming === 0 &&
        tables.entries.size === 0 &&
        tables.headings.size === 0 &&
        !this.#keeping.meta,
    };
  }

  #undoState(): UndoState {
    const undo = this.engine.history.toUndo()?.does;
    const redo = this.engine.history.toRedo()?.does;
    return { ...(undo ? { undo } : {}), ...(redo ? { redo } : {}) };
  }

  #tellChanged(): void {
    const totals = this.#totals();
    for (const events of this.#events) events.changed(totals, this.#undoState());
  }

  #tellKeeping(state: KeepState): void {
    for (const events of this.#events) events.keeping(state);
  }

  /** The gateway: every change of the journal by this window passes here. */
  async #do(edit: Edit, id?: string): Promise<Done> {
    if (edit.changes.length === 0) return { ok: true, said: edit.does, ...(id ? { id } : {}) };
    return this.#finish(this.engine.apply(edit), id);
  }

  /** An edit, or none, and what goes along with it outside the journal: one thing to take back. */
  async #doBeside(edit: Edit, beside: Beside): Promise<Done> {
    const { history } = this.engine;
    const applied = edit.changes.length > 0 ? this.engine.apply(edit) : undefined;
    if (applied && !applied.ok) return this.#finish(applied);
    if (!applied) history.did(edit.does, { does: edit.does, changes: [] });
    history.alongside(beside);
    beside.redo();
    if (applied) return this.#finish(applied);
    this.#tellChanged();
    return { ok: true, said: edit.does };
  }

  /** Keeps what was applied. The store is called at once, so that edits are stored in the order they were made. */
  async #finish(applied: Applied, id?: string): Promise<Done> {
    if (!applied.ok) return { ok: false, said: applied.message, code: applied.code };
    const { edit, does } = applied;
    this.#ids.wrote(edit.changes);
    const { journal } = this.engine;
    const keeping = this.#keeping.keep(edit.changes, headOf(journal), journal.tables.entries.size);
    const kept = await keeping;
    this.#tellChanged();
    return { ok: true, said: kept ? does : `${does}; not kept yet`, ...(id ? { id } : {}) };
  }

  async find(query: FindQuery): Promise<FindShown> {
    return shownResult(this.engine, query);
  }

  async near(ask: NearAsk): Promise<NearHit[]> {
    return this.engine.near(ask);
  }

  async entry(id: EntryId): Promise<EntryView | undefined> {
    const view = entryView(this.engine, id);
    if (view) this.#remember(view.entry);
    return view;
  }

  async rows(ids: EntryId[]): Promise<EntryRow[]> {
    return ids.flatMap((id) => rowOf(this.engine.journal, id) ?? []);
  }

  async heading(id: HeadingId): Promise<HeadingView | undefined> {
    return headingView(this.engine, id);
  }

  async headings(typed: string, kind?: HeadingKind, limit = 12): Promise<HeadingChoice[]> {
    return headingChoices(this.engine.journal, typed, kind, limit);
  }

  async help(draft: {
    text: string;
    kind?: EntryKind;
    ties: Tie[];
    circle?: CircleId;
  }): Promise<WritingHelp> {
    return writingHelp(this.engine, draft);
  }

  async saveEntry(draft: EntryDraft): Promise<Done> {
    const now = this.#now();
    const held = draft.id && this.engine.journal.tables.entries.get(draft.id);
    const id = (draft.id ?? this.#newId()) as EntryId;
    const { changed, ...fields } = draft;
    if (fields.written !== undefined && !readDate(fields.written).ok) {
      const { dateTyped } = await import('./dates-typed');
      const date = dateTyped(fields.written);
      if (!date.ok) return { ok: false, said: date.message, code: date.code };
      fields.written = date.edtf;
    }
    const entry: Entry = { ...fields, id, added: held ? held.added : now, changed: now };
    const base = changed === undefined ? undefined : this.#shown.get(`${id} ${changed}`);
    const wanted = held && base ? broughtOnto(held, base, entry) : entry;
    return this.#do(putEntry(this.engine.journal, wanted), id);
  }

  #remember(entry: Entry): void {
    const key = `${entry.id} ${entry.changed}`;
    this.#shown.delete(key);
    this.#shown.set(key, entry);
    if (this.#shown.size > SHOWN) this.#shown.delete(this.#shown.keys().next().value!);
  }

  async removeEntries(ids: EntryId[]): Promise<Done> {
    return this.#do(removeEntries(this.engine.journal, ids));
  }

  async tie(ids: EntryId[], tie: Tie): Promise<Done> {
    return this.#do(tieEntries(this.engine.journal, ids, tie, this.#now()));
  }

  async untie(ids: EntryId[], heading: HeadingId): Promise<Done> {
    return this.#do(untieEntries(this.engine.journal, ids, heading, this.#now()));
  }

  async changeKind(ids: EntryId[], kind: EntryKind): Promise<Done> {
    return this.#do(changeKind(this.engine.journal, ids, kind, this.#now()));
  }

  async makeHeading(kind: HeadingKind, name: string): Promise<Done> {
    const key = nameKey(name, kind);
    for (const heading of this.engine.journal.tables.headings.values()) {
      const names = [heading.name, ...heading.alternates];
      if (heading.kind === kind && names.some((one) => nameKey(one, kind) === key)) {
        return { ok: true, said: heading.name, id: heading.id };
      }
    }
    const id = this.around.newId() as HeadingId;
    const base = { id, name: name.trim(), alternates: [] };
    const heading: Heading =
      kind === 'book'
        ? { ...base, kind, authors: [] }
        : kind === 'theme'
          ? { ...base, kind, broader: [], related: [] }
          : { ...base, kind, roles: [] };
    return this.#do(putHeading(this.engine.journal, heading), id);
  }

  async saveHeading(heading: Heading): Promise<Done> {
    return this.#do(putHeading(this.engine.journal, heading), heading.id);
  }

  /** A new name; the old one stays findable as an alternate. */
  async renameHeading(id: HeadingId, name: string): Promise<Done> {
    const heading = this.engine.journal.tables.headings.get(id);
    if (!heading) return { ok: false, said: 'That heading is no longer there.', code: 'gone' };
    const to = name.trim();
    if (to === '') return { ok: false, said: 'A heading needs a name.', code: 'no-name' };
    if (to === heading.name) return { ok: true, said: `It is called ${to} already`, id };
    const rest = heading.alternates.filter((one) => one !== to && one !== heading.name);
    const changed = { ...heading, name: to, alternates: [...rest, heading.name] };
    const edit = putHeading(this.engine.journal, changed);
    return this.#do({ ...edit, does: `Rename ${heading.name} to ${to}` }, id);
  }

  async mergeHeadings(keep: HeadingId, gone: HeadingId): Promise<Done> {
    await this.#loaded;
    return this.#do(mergeHeadings(this.engine.journal, keep, gone, this.#now()), keep);
  }

  async removeHeading(id: HeadingId): Promise<Done> {
    await this.#loaded;
    return this.#do(removeHeading(this.engine.journal, id, this.#now()));
  }

  async decline(entry: EntryId, heading: HeadingId): Promise<Done> {
    const row: Declined = { id: this.around.newId(), entry, heading, on: this.#now() };
    const edit = putRow(this.engine.journal, 'declined', row);
    const name = this.engine.journal.tables.headings.get(heading)?.name ?? 'it';
    return this.#do({ ...edit, does: `Not tied to ${name}` });
  }

  async undo(): Promise<Done> {
    return this.#finish(step(this.engine, 'undo'));
  }

  async redo(): Promise<Done> {
    return this.#finish(step(this.engine, 'redo'));
  }

  async undoList(): Promise<string[]> {
    return this.engine.history.list().map(({ does }) => does);
  }

  async keepPicture(bytes: ArrayBuffer, type: string): Promise<string> {
    const data = new Uint8Array(bytes);
    const digest = await this.around.sha256(data);
    await this.#keeping.store.keepPicture(digest, data, type);
    return digest;
  }

  async picture(digest: string): Promise<{ bytes: ArrayBuffer; type: string } | undefined> {
    const found =
      (await this.#keeping.store.picture(digest)) ?? (await benchPicture(this.#beside, digest));
    return found && { bytes: found.bytes.slice().buffer as ArrayBuffer, type: found.type };
  }

  async copyOut(): Promise<{ name: string; type: string; bytes: ArrayBuffer }> {
    await this.#loaded;
    const copy = await (await this.#copying()).out(this.engine);
    await this.#keeping.copied(headOf(this.engine.journal));
    return copy;
  }

  async lookInto(name: string, bytes: ArrayBuffer): Promise<CopyLooked> {
    await this.#loaded;
    return (await this.#copying()).look(this.engine, name, bytes);
  }

  async takeCopy(how: 'replace' | 'merge'): Promise<Done> {
    await this.#loaded;
    return this.#finish(
      await (await this.#copying()).take(this.engine, how, Boolean(this.#keeping.meta)),
    );
  }

  async begin(how: 'demo' | 'empty', name?: string): Promise<Done> {
    await this.#loaded;
    if (this.#keeping.meta) {
      return { ok: false, said: 'There is a journal here already.', code: 'begun' };
    }
    if (how === 'demo') {
      const demo = new TextEncoder().encode(await this.around.demo());
      const looked = await this.lookInto('Harbour Lane', demo.buffer as ArrayBuffer);
      if (!looked.ok) return { ok: false, said: looked.said };
      const done = await this.takeCopy('merge');
      return done.ok ? { ...done, said: 'Harbour Lane is open' } : done;
    }
    this.engine.journal.name = name?.trim() || 'My reading';
    const kept = await this.#keeping.begin(headOf(this.engine.journal));
    this.#tellChanged();
    const said = `${this.engine.journal.name} is begun`;
    return { ok: true, said: kept ? said : `${said}; not kept yet` };
  }

  async keepState(): Promise<KeepState> {
    return this.#keeping.state;
  }

  async measure(): Promise<void> {
    await this.#keeping.measure();
  }

  async asideOut(part: string): Promise<{ name: string; bytes: ArrayBuffer } | undefined> {
    if (part === MISFITS) {
      const rows = this.#opening?.misfits();
      return rows && { name: `${part}.json`, bytes: rows.buffer as ArrayBuffer };
    }
    const bytes = await this.#keeping.store.asideBytes(part);
    return bytes && { name: `${part}.bookweft-part`, bytes: bytes.slice().buffer as ArrayBuffer };
  }

  async circles(): Promise<Circle[]> {
    return [...this.engine.journal.tables.circles.values()].sort((a, b) =>
      a.name.localeCompare(b.name, 'en'),
    );
  }

  async saveCircle(circle: Omit<Circle, 'id'> & { id?: CircleId }): Promise<Done> {
    const id = (circle.id ?? this.around.newId()) as CircleId;
    return this.#do(putRow(this.engine.journal, 'circles', { ...circle, id }), id);
  }

  async guides(): Promise<GuideSaid[]> {
    return guideSaid(this.engine.journal);
  }

  async guide(id: GuideId): Promise<Guide | undefined> {
    return this.engine.journal.tables.guides.get(id);
  }

  async saveGuide(guide: Guide): Promise<Done> {
    return this.#do(putRow(this.engine.journal, 'guides', guide), guide.id);
  }

  async removeGuide(id: GuideId): Promise<Done> {
    return this.#do(removeRow(this.engine.journal, 'guides', id));
  }

  async meetings(): Promise<MeetingSaid[]> {
    return meetingSaid(this.engine.journal);
  }

  async meeting(id: string): Promise<Meeting | undefined> {
    return this.engine.journal.tables.meetings.get(id);
  }

  async saveMeeting(meeting: Omit<Meeting, 'id'> & { id?: string }): Promise<Done> {
    const id = (meeting.id ?? this.around.newId()) as MeetingId;
    const done = await this.#putMeeting(meeting, id);
    if (done.ok || this.#coming === 0) return done;
    // What it names may still be coming from the store.
    await this.#loaded;
    return this.#putMeeting(meeting, id);
  }

  async #putMeeting(meeting: Omit<Meeting, 'id'>, id: MeetingId): Promise<Done> {
    // A meeting kept while it runs is one thing to take back, however often it is kept.
    const { history, journal } = this.engine;
    const made = makingOf(history.toUndo(), 'meetings', id);
    const doing = this.#do(putRow(journal, 'meetings', { ...meeting, id }), id);
    if (made && history.toUndo() !== made) history.forgetUndo();
    return doing;
  }
}
