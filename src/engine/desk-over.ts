/**
 * The desk over an engine and a store: the one way screens change and ask the journal. An edit is applied,
 * told to the screens, and kept; the answer comes when the store has it.
 */
import type { FindQuery } from '../find/query';
import type { Edit } from '../journal/edits';
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
  Level,
  Meeting,
  MeetingId,
  Tie,
} from '../journal/records';
import { partsFor } from '../plan/shapes';
import { rolledId, ROLL_AT, shardOf } from '../keep/shards';
import type { JournalStore, Slice } from '../keep/store';
import { nameKey } from '../language/filing';
import type { Composed, EntryRow, FindResult, NearHit } from './answers';
import { copyOut, lookedSaid, lookInto, takeCopy, type LookedInto } from './copies';
import type {
  CopyLooked,
  Desk,
  DeskEvents,
  Done,
  EntryDraft,
  EntryView,
  GuideSaid,
  GuideView,
  HeadingChoice,
  HeadingView,
  KeepState,
  MeetingSaid,
  PublishHow,
  SuggestAsk,
  Suggestion,
  Totals,
  UndoState,
  WritingHelp,
} from './desk';
import { Engine, type Surroundings } from './engine';
import type { Applied } from './history';
import { Keeping } from './keeping';
import { framesFor } from './frames';
import { guideView } from './guide-view';
import { guideSaid, meetingSaid } from './lists';
import type { PlanAsk } from './planning';
import { publishGuide, type Faces } from './publishing';
import { rowOf } from './rows';
import { suggestions, whyNotThis } from './suggesting';
import { entryView, headingChoices, headingView } from './views';
import type { NearAsk } from './weaving';
import { writingHelp } from './writing-help';

export interface DeskSurroundings extends Surroundings {
  /** Lets other work through between slices of loading. */
  breathe: () => Promise<void>;
  sha256: (bytes: Uint8Array) => Promise<string>;
  /** Text of the demo journal's file. */
  demo: () => Promise<string>;
  faces: Faces;
}

/** Rows taken in between breaths while the journal loads. */
const SLICE_ROWS = 250;

export class DeskOver implements Desk {
  engine: Engine;
  #keeping: Keeping;
  #events: DeskEvents[] = [];
  #coming = 0;
  #looked: LookedInto | undefined;
  #loaded: Promise<void> = Promise.resolve();

  constructor(
    store: JournalStore,
    readonly around: DeskSurroundings,
    memoryOnly?: string,
  ) {
    this.#keeping = new Keeping(
      store,
      () => this.#now(),
      (state) => this.#tellKeeping(state),
      memoryOnly,
    );
    this.engine = this.#engineOver(emptyJournal(around.newId(), 'My reading', this.#now()));
  }

  #now(): string {
    return this.around.now().toISOString();
  }

  #engineOver(journal: Journal): Engine {
    return new Engine(journal, { now: this.around.now, newId: () => this.#newId() });
  }

  /** A new id that names the document its entry goes to: a busy month rolls over. */
  #newId(): string {
    const id = this.around.newId();
    const month = shardOf('entries', rolledId(id, 0)).slice(0, 'entries-0000-00'.length);
    const roll = Math.floor((this.#countInMonth(month) ?? 0) / ROLL_AT);
    return rolledId(id, roll);
  }

  #monthCounts = new Map<string, number>();
  #countInMonth(month: string): number {
    const held = this.#monthCounts.get(month);
    if (held !== undefined) {
      this.#monthCounts.set(month, held + 1);
      return held;
    }
    let count = 0;
    for (const id of this.engine.journal.tables.entries.keys()) {
      if (shardOf('entries', id).startsWith(month)) count += 1;
    }
    this.#monthCounts.set(month, count + 1);
    return count;
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
    this.#monthCounts.clear();
    let first: () => void = () => {};
    const ready = new Promise<void>((resolve) => {
      first = resolve;
    });
    this.#loaded = this.#load(first);
    await Promise.race([ready, this.#loaded]);
    return this.#totals();
  }

  /** Resolves when every row of the store has been taken in. */
  whenLoaded(): Promise<void> {
    return this.#loaded;
  }

  async #load(first: () => void): Promise<void> {
    this.#coming = 1;
    const { aside } = await this.#keeping.store.load(async (slice) => {
      for (let at = 0; at < slice.rows.length; at += SLICE_ROWS) {
        this.#take({ ...slice, rows: slice.rows.slice(at, at + SLICE_ROWS) } as Slice);
        if (slice.table === 'entries') first();
        await this.around.breathe();
      }
    });
    this.#coming = 0;
    this.#keeping.opened(aside);
    this.#tellChanged();
  }

  #take(slice: Slice): void {
    const held = this.engine.journal.tables[slice.table];
    const fresh = (slice.rows as { id: string }[]).filter((row) => !held.has(row.id));
    const changes = fresh.map((after) => ({ table: slice.table, id: after.id, after }));
    const taken = this.engine.take({ does: 'Open', changes: changes as Edit['changes'] });
    if (!taken.ok) {
      // One bad row must not keep the others out.
      for (const change of changes)
        this.engine.take({ does: 'Open', changes: [change] as Edit['changes'] });
    }
  }

  /** Rows that another window has changed: taken in as they now are. */
  takeRows(rows: { table: Slice['table']; id: string; row: unknown }[]): void {
    const changes = rows.flatMap(({ table, id, row }) => {
      const before = this.engine.journal.tables[table].get(id);
      if (!before && !row) return [];
      return [{ table, id, ...(before ? { before } : {}), ...(row ? { after: row } : {}) }];
    });
    this.engine.take({ does: 'Another window', changes: changes as Edit['changes'] });
    this.#tellChanged();
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

  async #finish(applied: Applied, id?: string): Promise<Done> {
    if (!applied.ok) return { ok: false, said: applied.message, code: applied.code };
    if (!this.#keeping.meta) await this.#beginMeta();
    const kept = await this.#keeping.keep(applied.edit.changes);
    this.#tellChanged();
    const said = kept ? applied.does : `${applied.does}; not kept yet`;
    return { ok: true, said, ...(id ? { id } : {}) };
  }

  async #beginMeta(): Promise<void> {
    const { id, name, made } = this.engine.journal;
    await this.#keeping.begin({ id, name, made, sinceCopy: 0 }).catch(() => undefined);
  }

  async find(query: FindQuery): Promise<FindResult> {
    return this.engine.find(query);
  }

  async near(ask: NearAsk): Promise<NearHit[]> {
    return this.engine.near(ask);
  }

  async entry(id: EntryId): Promise<EntryView | undefined> {
    return entryView(this.engine, id);
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
    const entry: Entry = { ...draft, id, added: held ? held.added : now, changed: now };
    return this.#do(putEntry(this.engine.journal, entry), id);
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
    const alternates = [
      ...new Set([...heading.alternates.filter((one) => one !== name), heading.name]),
    ];
    const edit = putHeading(this.engine.journal, { ...heading, name, alternates });
    return this.#do({ ...edit, does: `Rename ${heading.name} to ${name}` }, id);
  }

  async mergeHeadings(keep: HeadingId, gone: HeadingId): Promise<Done> {
    return this.#do(mergeHeadings(this.engine.journal, keep, gone, this.#now()), keep);
  }

  async removeHeading(id: HeadingId): Promise<Done> {
    return this.#do(removeHeading(this.engine.journal, id, this.#now()));
  }

  async decline(entry: EntryId, heading: HeadingId): Promise<Done> {
    const row: Declined = { id: this.around.newId(), entry, heading, on: this.#now() };
    const edit = putRow(this.engine.journal, 'declined', row);
    const name = this.engine.journal.tables.headings.get(heading)?.name ?? 'it';
    return this.#do({ ...edit, does: `Not tied to ${name}` });
  }

  async undo(): Promise<Done> {
    return this.#finish(this.engine.undo());
  }

  async redo(): Promise<Done> {
    return this.#finish(this.engine.redo());
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
    const found = await this.#keeping.store.picture(digest);
    return found && { bytes: found.bytes.slice().buffer as ArrayBuffer, type: found.type };
  }

  async copyOut(): Promise<{ name: string; type: string; bytes: ArrayBuffer }> {
    await this.#loaded;
    const copy = await copyOut(this.engine.journal, this.#keeping.store, this.#now().slice(0, 10));
    await this.#keeping.copied();
    return copy;
  }

  async lookInto(name: string, bytes: ArrayBuffer): Promise<CopyLooked> {
    const looked = lookInto(name, bytes);
    this.#looked = looked.ok ? looked.found : undefined;
    return looked.ok ? lookedSaid(looked.found, this.engine.journal) : looked;
  }

  async takeCopy(how: 'replace' | 'merge'): Promise<Done> {
    const looked = this.#looked;
    if (!looked) return { ok: false, said: 'Choose the copy first.', code: 'no-copy' };
    await this.#loaded;
    if (!this.#keeping.meta) await this.#begin(looked.journal.name);
    for (const { digest, bytes, type } of looked.pictures) {
      await this.#keeping.store.keepPicture(digest, bytes, type);
    }
    return this.#do(takeCopy(looked.journal, this.engine.journal, how));
  }

  async begin(how: 'demo' | 'empty', name?: string): Promise<Done> {
    if (how === 'demo') {
      const looked = lookInto(
        'Harbour Lane',
        new TextEncoder().encode(await this.around.demo()).buffer as ArrayBuffer,
      );
      if (!looked.ok) return { ok: false, said: looked.said };
      this.#looked = looked.found;
      const done = await this.takeCopy('merge');
      return { ...done, said: 'Harbour Lane is open' };
    }
    await this.#begin(name ?? 'My reading');
    this.#tellChanged();
    return { ok: true, said: `${this.engine.journal.name} is begun` };
  }

  async #begin(name: string): Promise<void> {
    this.engine.journal.name = name;
    await this.#beginMeta();
  }

  async keepState(): Promise<KeepState> {
    return this.#keeping.state;
  }

  async measure(): Promise<void> {
    await this.#keeping.measure();
  }

  async asideOut(part: string): Promise<{ name: string; bytes: ArrayBuffer } | undefined> {
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

  async copyGuide(id: GuideId): Promise<Done> {
    const held = this.engine.journal.tables.guides.get(id);
    if (!held) return { ok: false, said: 'That guide is no longer there.', code: 'gone' };
    const { starts: _starts, ...rest } = held;
    const copy: Guide = {
      ...rest,
      id: this.around.newId() as GuideId,
      title: `${held.title}, again`,
      made: this.#now(),
    };
    return this.#do(
      { ...putRow(this.engine.journal, 'guides', copy), does: `Copy the guide ${held.title}` },
      copy.id,
    );
  }

  async meetings(): Promise<MeetingSaid[]> {
    return meetingSaid(this.engine.journal);
  }

  async meeting(id: string): Promise<Meeting | undefined> {
    return this.engine.journal.tables.meetings.get(id);
  }

  async saveMeeting(meeting: Omit<Meeting, 'id'> & { id?: string }): Promise<Done> {
    const id = (meeting.id ?? this.around.newId()) as MeetingId;
    return this.#do(putRow(this.engine.journal, 'meetings', { ...meeting, id }), id);
  }

  async compose(ask: PlanAsk): Promise<Composed> {
    return this.engine.compose(ask);
  }

  async guideView(guide: Guide): Promise<GuideView> {
    return guideView(this.engine, guide);
  }

  async usualParts(
    shape: Guide['shape'],
    minutes: number,
  ): Promise<{ name: string; minutes: number; aim?: string }[]> {
    return partsFor(shape, minutes).map(({ name, minutes: long, aim }) => ({
      name,
      minutes: long,
      ...(aim ? { aim } : {}),
    }));
  }

  async frames(guide: Guide, level: Level): Promise<string[]> {
    return framesFor(this.engine, guide, level);
  }

  async suggest(ask: SuggestAsk): Promise<Suggestion[]> {
    return suggestions(this.engine, ask);
  }

  async whyNot(ask: PlanAsk, entry: EntryId): Promise<string> {
    return whyNotThis(this.engine, ask, entry);
  }

  async publish(
    guide: Guide,
    how: PublishHow,
  ): Promise<{ name: string; type: string; bytes: ArrayBuffer }> {
    return publishGuide(this.engine, guide, how, this.around.faces);
  }
}
