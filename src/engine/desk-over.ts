/**
 * The desk over an engine and a store: the one way screens change and ask the journal. What is asked seldom stands in parts of it, loaded
 * when they are first asked; how a change travels stands in {@link DeskGateway}.
 */
import type { FindQuery } from '../find/query';
import {
  changeKind,
  mergeHeadings,
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
  EntryId,
  EntryKind,
  Guide,
  GuideId,
  Heading,
  HeadingId,
  HeadingKind,
  Meeting,
  MeetingId,
  Tie,
} from '../journal/records';
import type { TieAsked } from '../journal/ties';
import type { JournalStore } from '../keep/store';
import { readDate } from '../language/dates';
import type { EntryRow, FindShown, NearHit, Summed } from './answers';
import { benchPicture } from './bench-beside';
import type { CopiesInto, CopyMade } from './copy-folder';
import type {
  CopyAge,
  CopyLooked,
  Desk,
  Done,
  EntryDraft,
  EntryView,
  GuideSaid,
  HeadingChoice,
  HeadingView,
  KeepState,
  MeetingSaid,
  WritingHelp,
} from './desk';
import { copyAge } from './copy-age';
import { DeskGateway, type GatewaySurroundings } from './desk-gateway';
import { putDraft } from './entry-drafts';
import { headingNamed, renamed } from './heading-edits';
import type { DeskPart } from './desk-part';
import { shownResult } from './finding';
import type { FileReader } from './file-reader';
import type { Grouper } from './grouping';
import type { GatheringDesk } from './gathering-desk';
import { makingOf } from './history';
import { headOf, lineageOf } from './head';
import { guideSaid, meetingSaid } from './lists';
import { foundIds, summed } from './many';
import { MISFITS } from './opening';
import type { Faces } from './publishing';
import type { PlanningDesk } from './planning-desk';
import type { PrintingDesk } from './printing-desk';
import type { ReadingDesk } from './reading-desk';
import { rowOf } from './rows';
import { entryView, headingChoices, headingView } from './views';
import type { WeaveDesk } from './weave-desk';
import type { NearAsk } from './weaving';
import { once, whenAsked } from './when-asked';
import { writingHelp } from './writing-help';

export interface DeskSurroundings extends GatewaySurroundings {
  sha256: (bytes: Uint8Array) => Promise<string>;
  /** Text of the demo journal's file. */
  demo: () => Promise<string>;
  faces: Faces;
  /** How files are read; by the readers of the house unless given. */
  reader?: FileReader;
  /** Where the groups of a large journal are found; where the journal is unless given. */
  groups?: Grouper;
}

export class DeskOver extends DeskGateway implements Desk {
  declare readonly around: DeskSurroundings;
  readonly #part: DeskPart = {
    core: () => this.engine,
    apply: (edit, id) => this.apply(edit, id),
    change: (asked) => this.change(asked),
    loaded: () => this.loaded,
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
    return weaveDesk(this.#part, this.around.groups);
  });
  readonly gathering: GatheringDesk;

  readonly #copying = once(async () => {
    const { Copying } = await import('./copying');
    return new Copying(this.keeping.store, {
      nowIso: () => this.now(),
      today: () => this.around.now().toISOString().slice(0, 10),
      newId: () => this.newId(),
      sha256: this.around.sha256,
      aside: () => this.keeping.state.aside.map(({ part }) => part),
    });
  });

  readonly #copyFolder = once(async () => {
    const { CopyFolder } = await import('./copy-folder');
    return new CopyFolder(this.beside, {
      now: this.around.now,
      quiet: this.around.quiet ?? this.around.breathe,
      keeping: () => this.keeping.state,
      tell: (state) => this.keeping.foundFolder(state),
      made: async () => (this.keeping.meta ? this.#copyMade() : undefined),
    });
  });

  constructor(store: JournalStore, around: DeskSurroundings, memoryOnly?: string) {
    super(store, around, memoryOnly);
    this.gathering = whenAsked(async () =>
      (await import('./gathering-desk-over')).gatheringDesk({
        core: () => this.engine,
        records: this.beside,
        ready: () => this.loaded,
        breathe: around.breathe,
        change: (edit, beside) => this.applyBeside(edit, beside),
        keepPicture: (digest, bytes, type) => store.keepPicture(digest, bytes, type),
        ...(around.reader ? { reader: around.reader } : {}),
      }),
    );
  }

  async find(query: FindQuery): Promise<FindShown> {
    return { ...shownResult(this.engine, query), coming: this.coming };
  }

  async foundIds(query: FindQuery): Promise<EntryId[]> {
    return foundIds(this.engine, query);
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

  async summed(ids: EntryId[]): Promise<Summed> {
    return summed(this.engine.journal, ids);
  }

  async heading(id: HeadingId): Promise<HeadingView | undefined> {
    return headingView(this.engine, id);
  }

  async headings(typed: string, kind?: HeadingKind, limit = 12): Promise<HeadingChoice[]> {
    return headingChoices(this.engine.journal, typed, kind, limit);
  }

  async help(draft: {
    id?: EntryId;
    text: string;
    kind?: EntryKind;
    ties: Tie[];
    circle?: CircleId;
  }): Promise<WritingHelp> {
    return writingHelp(this.engine, draft);
  }

  async saveEntry(draft: EntryDraft): Promise<Done> {
    const { written } = draft;
    if (written === undefined || readDate(written).ok) return this.#putEntry(draft);
    const { dateTyped } = await import('./dates-typed');
    const date = dateTyped(written);
    if (!date.ok) return { ok: false, said: date.message, code: date.code };
    return this.#putEntry({ ...draft, written: date.edtf });
  }

  #putEntry(draft: EntryDraft): Promise<Done> {
    return this.change(putDraft(this.engine, draft, this.now()));
  }

  async removeEntries(ids: EntryId[]): Promise<Done> {
    return this.apply(removeEntries(this.engine.journal, ids));
  }

  async tie(ids: EntryId[], tie: TieAsked): Promise<Done> {
    return this.apply(tieEntries(this.engine.journal, ids, tie, this.now()));
  }

  async untie(ids: EntryId[], heading: HeadingId): Promise<Done> {
    return this.apply(untieEntries(this.engine.journal, ids, heading, this.now()));
  }

  async changeKind(ids: EntryId[], kind: EntryKind): Promise<Done> {
    return this.apply(changeKind(this.engine.journal, ids, kind, this.now()));
  }

  async makeHeading(kind: HeadingKind, name: string): Promise<Done> {
    return this.change(headingNamed(this.engine.journal, kind, name, () => this.around.newId()));
  }

  async saveHeading(heading: Heading): Promise<Done> {
    return this.apply(putHeading(this.engine.journal, heading), heading.id);
  }

  async renameHeading(id: HeadingId, name: string): Promise<Done> {
    return this.change(renamed(this.engine.journal, id, name));
  }

  async mergeHeadings(keep: HeadingId, gone: HeadingId): Promise<Done> {
    await this.loaded;
    return this.apply(mergeHeadings(this.engine.journal, keep, gone, this.now()), keep);
  }

  async removeHeading(id: HeadingId): Promise<Done> {
    await this.loaded;
    return this.apply(removeHeading(this.engine.journal, id, this.now()));
  }

  async decline(entry: EntryId, heading: HeadingId): Promise<Done> {
    const row: Declined = { id: this.around.newId(), entry, heading, on: this.now() };
    const edit = putRow(this.engine.journal, 'declined', row);
    const name = this.engine.journal.tables.headings.get(heading)?.name ?? 'it';
    return this.apply({ ...edit, does: `Decline a tie to ${name}` });
  }

  async keepPicture(bytes: ArrayBuffer, type: string): Promise<string> {
    const data = new Uint8Array(bytes);
    const digest = await this.around.sha256(data);
    await this.keeping.store.keepPicture(digest, data, type);
    return digest;
  }

  async picture(digest: string): Promise<{ bytes: ArrayBuffer; type: string } | undefined> {
    const found =
      (await this.keeping.store.picture(digest)) ?? (await benchPicture(this.beside, digest));
    return found && { bytes: found.bytes.slice().buffer as ArrayBuffer, type: found.type };
  }

  async copyOut(): Promise<{ name: string; type: string; bytes: ArrayBuffer }> {
    const { copy, copied } = await this.#copyMade();
    await copied();
    return copy;
  }

  /** A copy, and what is to be called once it is safe. */
  async #copyMade(): Promise<CopyMade> {
    await this.loaded;
    const copying = await this.#copying();
    const { sinceCopy, copyAt } = this.keeping.state;
    const making = copying.out(this.engine);
    const { site } = lineageOf(this.engine.journal) ?? {};
    const copy = await making;
    const copied = async (): Promise<void> => {
      const { journal } = this.engine;
      // Another may have been put in its place.
      if (lineageOf(journal)?.site === site)
        await this.keeping.copied(headOf(journal), sinceCopy, copyAt);
    };
    return { copy, copied, ...(site ? { site } : {}) };
  }

  protected override atRest(): void {
    super.atRest();
    void this.#copyFolder()
      .then((folder) => folder.rest())
      .catch(() => undefined);
  }

  async copyFolder(): Promise<CopiesInto | undefined> {
    return (await this.#copyFolder()).folder();
  }

  async useCopyFolder(folder: CopiesInto | undefined): Promise<Done> {
    const copies = await this.#copyFolder();
    if (!folder) {
      await copies.leave();
      return { ok: true, nothing: true, said: 'No more copies are written by themselves' };
    }
    const why = await copies.use(folder);
    if (why === undefined && !this.keeping.meta)
      return {
        ok: true,
        nothing: true,
        said: `Copies go into “${folder.name}” once there is a journal`,
      };
    return copiedSaid(why, folder.name);
  }

  async copyToFolder(): Promise<Done> {
    const copies = await this.#copyFolder();
    const folder = await copies.folder();
    if (!folder) return { ok: false, said: 'No folder is picked for copies.', code: 'not-copied' };
    return copiedSaid(await copies.write(), folder.name);
  }

  async lookInto(name: string, bytes: ArrayBuffer): Promise<CopyLooked> {
    await this.loaded;
    return (await this.#copying()).look(this.engine, name, bytes);
  }

  async takeCopy(how: 'replace' | 'merge'): Promise<Done> {
    await this.loaded;
    const begun = Boolean(this.keeping.meta);
    const taken = await (await this.#copying()).take(this.engine, how, begun);
    const done = await this.finish(taken);
    return { ...done, said: [done.said, ...(taken.besides ?? [])].join('; ') };
  }

  async copyAge(): Promise<CopyAge> {
    await this.loaded;
    return copyAge(this.engine.journal);
  }

  async begin(how: 'demo' | 'empty', name?: string): Promise<Done> {
    await this.loaded;
    if (this.keeping.meta) {
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
    const kept = await this.keeping.begin(headOf(this.engine.journal));
    this.tellChanged();
    const said = `${this.engine.journal.name} is begun`;
    return { ok: true, said: kept ? said : `${said}; not kept yet` };
  }

  async keepState(): Promise<KeepState> {
    return this.keeping.state;
  }

  async measure(): Promise<void> {
    await this.keeping.measure();
  }

  async asideOut(part: string): Promise<{ name: string; bytes: ArrayBuffer } | undefined> {
    if (part === MISFITS) {
      const rows = this.opening?.misfits();
      return rows && { name: `${part}.json`, bytes: rows.buffer as ArrayBuffer };
    }
    const bytes = await this.keeping.store.asideBytes(part);
    return bytes && { name: `${part}.bookweft-part`, bytes: bytes.slice().buffer as ArrayBuffer };
  }

  async circles(): Promise<Circle[]> {
    return [...this.engine.journal.tables.circles.values()].sort((a, b) =>
      a.name.localeCompare(b.name, 'en'),
    );
  }

  async saveCircle(circle: Omit<Circle, 'id'> & { id?: CircleId }): Promise<Done> {
    const id = (circle.id ?? this.around.newId()) as CircleId;
    return this.apply(putRow(this.engine.journal, 'circles', { ...circle, id }), id);
  }

  async guides(): Promise<GuideSaid[]> {
    return guideSaid(this.engine.journal);
  }

  async guide(id: GuideId): Promise<Guide | undefined> {
    return this.engine.journal.tables.guides.get(id);
  }

  async saveGuide(guide: Guide): Promise<Done> {
    return this.apply(putRow(this.engine.journal, 'guides', guide), guide.id);
  }

  async removeGuide(id: GuideId): Promise<Done> {
    return this.apply(removeRow(this.engine.journal, 'guides', id));
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
    if (done.ok || this.coming === 0) return done;
    // What it names may still be coming from the store.
    await this.loaded;
    return this.#putMeeting(meeting, id);
  }

  async #putMeeting(meeting: Omit<Meeting, 'id'>, id: MeetingId): Promise<Done> {
    // A meeting kept while it runs is one thing to take back, however often it is kept.
    const { history, journal } = this.engine;
    const made = makingOf(history.toUndo(), 'meetings', id);
    const doing = this.apply(putRow(journal, 'meetings', { ...meeting, id }), id);
    if (made && history.toUndo() !== made) history.forgetUndo();
    return doing;
  }
}

const copiedSaid = (why: string | undefined, folder: string): Done =>
  why === undefined
    ? { ok: true, nothing: true, said: `A copy is in “${folder}”` }
    : { ok: false, said: why, code: 'not-copied' };
