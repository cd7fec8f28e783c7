/**
 * The bench of gathering: files become pieces, the reader settles them one after another, and all of it is held between windows.
 * It owns what was decided; the journal changes only by the edits it hands to the desk.
 */
import type { Edit } from '../journal/edits';
import type { EntryId, GatheringId } from '../journal/records';
import type { BesideChange, RecordsBeside } from '../keep/beside';
import { awayAndBack } from './bench-away';
import { benchPicture, madeKey } from './bench-beside';
import { columnsTold } from './bench-columns';
import { filesAdded, FilesTold, filesWaiting, sweep } from './bench-files';
import { BenchItems } from './bench-items';
import { BenchKnown } from './bench-known';
import { BenchLedger, itemKey, unsettled } from './bench-ledger';
import type { ItemHeld, Patch } from './bench-ledger';
import { Pace } from './bench-pace';
import { BenchReading, twinsAcross, withoutKnown } from './bench-reading';
import { gatheredSaid } from './bench-said';
import { BenchStanding } from './bench-standing';
import { planStep } from './bench-steps';
import type {
  BenchAsk,
  BenchStep,
  BenchTable,
  BenchView,
  BenchWhole,
  ColumnRole,
  FileHanded,
  GatheringLooked,
  GatheringSaid,
} from './bench-types';
import { tableSaid } from './bench-table';
import { listShown, type BenchParts } from './bench-view';
import { benchWhole } from './bench-whole';
import type { Core } from './core';
import type { Done } from './desk';
import type { FileReader } from './file-reader';
import type { GatherResult } from './gathering';
import { gatheringsSaid, lookAt, takeBackEdit, type MadeRow } from './gathering-back';
import type { Beside } from './history';

export interface BenchSurroundings {
  /** The journal as it is open now. */
  core: () => Core;
  records: RecordsBeside;
  /** Resolves when the whole journal is there. */
  ready: () => Promise<void>;
  breathe: () => Promise<void>;
  /** Applies and keeps an edit, and lays what goes along with it. */
  change: (edit: Edit, beside: Beside) => Promise<Done>;
  keepPicture: (digest: string, bytes: Uint8Array, type: string) => Promise<void>;
  reader?: FileReader;
}

export class GatherBench {
  #ledger: BenchLedger;
  #items: BenchItems;
  #standing: BenchStanding;
  #known: BenchKnown;
  #reading: BenchReading;
  #opened: Promise<void> | undefined;
  /** Settled when nothing handed over is being read. */
  #gathering: Promise<unknown> = Promise.resolve();
  #touched: string | undefined;
  #pace = new Pace();
  #files = new FilesTold();

  constructor(readonly around: BenchSurroundings) {
    const { records } = around;
    this.#ledger = new BenchLedger(records, () => this.#items.rebuild());
    this.#items = new BenchItems(this.#ledger);
    this.#known = new BenchKnown(this.#ledger, around.core);
    this.#standing = new BenchStanding(
      this.#items,
      this.#ledger,
      () => around.core().journal,
      this.#known,
    );
    this.#reading = new BenchReading({
      core: around.core,
      records,
      ready: around.ready,
      add: (result, columns) => this.#add(result, columns),
      breathe: around.breathe,
      paths: () => new Set(this.#ledger.files().map(([, { told }]) => told.path)),
      ...(around.reader ? { reader: around.reader } : {}),
    });
  }

  get #parts(): BenchParts {
    const { around } = this;
    return {
      core: around.core(),
      items: this.#items,
      ledger: this.#ledger,
      standing: this.#standing,
    };
  }

  /** Takes in what an earlier window left, and what another one has done since. */
  async open(): Promise<void> {
    this.#opened ??= this.#openOnce();
    await this.#opened;
    if (await this.#ledger.load()) this.#items.rebuild();
    await this.#known.load(this.around.records);
  }

  async #openOnce(): Promise<void> {
    await this.around.ready();
    await this.#ledger.load();
    await this.#reading.load();
    this.#items.rebuild();
    this.#forgetStrange();
    await sweep(this.around.records, this.#ledger);
  }

  /** Where the journal knows nothing of this gathering (another journal was put in its place), nothing of it is accepted. */
  #forgetStrange(): void {
    const { head } = this.#ledger;
    if (!head || this.around.core().journal.tables.gatherings.has(head.id)) return;
    const patch: Patch = [...this.#ledger.items()].flatMap(([id, held]) =>
      held.as === 'accepted' ? [[itemKey(id), unsettled(held)] as const] : [],
    );
    if (patch.length > 0) this.#lay(patch);
  }

  async view(ask: BenchAsk): Promise<BenchView> {
    const { around } = this;
    const { head } = this.#ledger;
    const shown = listShown(this.#parts, ask);
    const row = shown.rows.find(({ id }) => id === ask.around);
    const { progress, waiting } = this.#reading;
    const files = this.#files.told(
      [...shown.files, ...filesWaiting(waiting, this.#reading.read)],
      ask.filesAt,
    );
    const minutes = this.#pace.minutesFor(shown.counts.left);
    return {
      ...(head ? { gathering: head.id } : {}),
      name: head?.name ?? '',
      on: head?.on ?? around.core().nowIso(),
      counts: shown.counts,
      sure: shown.sure,
      total: shown.total,
      from: shown.from,
      rows: shown.rows,
      at: shown.at,
      ...files,
      rules: this.#items.rules(ask.file ?? row?.file).map(({ id, says }) => ({ id, says })),
      ...(progress ? { progress } : {}),
      ...(this.#touched ? { touched: this.#touched } : {}),
      ...(minutes === undefined ? {} : { minutes }),
      ...(this.#ledger.why ? { why: this.#ledger.why } : {}),
    };
  }

  /** Takes files in and reads them; resolves when all are read or it was stopped. */
  gather(handed: FileHanded[]): Promise<Done> {
    const doing = this.#gather(handed);
    this.#gathering = Promise.allSettled([this.#gathering, doing]);
    return doing;
  }

  async #gather(handed: FileHanded[]): Promise<Done> {
    await this.open();
    const files = this.#ledger.files().length;
    const before = new Set(this.#items.all.map(({ id }) => id));
    const alone = await this.#reading.offer(handed);
    await this.#reading.run();
    const { progress, waiting } = this.#reading;
    if (progress?.stage === 'stopped')
      return { ok: true, said: `Stopped; ${waiting.length} still to be read` };
    const said = gatheredSaid(this.#standing, {
      handed: handed.length,
      alone,
      files: this.#ledger
        .files()
        .slice(files)
        .map(([, file]) => file),
      items: this.#items.all.filter(({ id }) => !before.has(id)),
    });
    return { ok: true, said };
  }

  stop(): void {
    this.#reading.stop();
  }

  /** Forgets files that wait to be read; what is being read comes onto the bench first. Answers those forgotten. */
  async forgetWaiting(): Promise<FileHanded[]> {
    if (!this.#opened) await this.open();
    const these = new Set(this.#reading.waiting);
    this.#reading.stop();
    await this.#gathering;
    return this.#reading.forget(these);
  }

  async #add(
    found: GatherResult,
    columns: ReadonlyMap<string, Record<string, ColumnRole>>,
  ): Promise<boolean> {
    const held = this.#ledger.files();
    const result = withoutKnown(found, new Set(held.map(([, { told }]) => told.digest)));
    if (result.files.length > 0) {
      await twinsAcross(
        this.#items.all.flatMap((item) => (item.type === 'piece' ? [item.now] : [])),
        result.pieces,
        this.around.breathe,
      );
      this.#lay(filesAdded(this.#ledger, result, columns));
      await this.#known.load(this.around.records);
    }
    await this.#ledger.whenStored();
    return this.#ledger.why === undefined;
  }

  /** Does one thing. Refused steps change nothing. */
  async step(step: BenchStep): Promise<Done> {
    // What is brought from here on is not of what is put away.
    const waiting = step.do === 'put-away' ? await this.forgetWaiting() : [];
    await this.open();
    const { around } = this.around.core();
    const planned = planStep(this.#parts, step);
    if (!planned.ok) return { ok: false, said: planned.message, code: planned.code };
    if (step.do === 'accept' || step.do === 'accept-sure') {
      try {
        await this.#keepPictures(planned.patch);
      } catch (error) {
        const said = `Its picture could not be kept, so it waits here: ${(error as Error).message}`;
        return { ok: false, said, code: 'not-kept' };
      }
    }
    const { does, edit, patch, touched, settles } = planned;
    if (step.do === 'put-away') return this.#putAway(does, patch, waiting);
    if (settles === 1) this.#pace.settled(around.now().getTime());
    return this.#change(edit ?? { does, changes: [] }, does, patch, touched);
  }

  /** Changes the journal and the bench together; undo takes both back. */
  #change(edit: Edit, does: string, patch: Patch, touched?: string): Promise<Done> {
    let back: Patch = [];
    const lay = (which: Patch): Patch => {
      this.#touched = touched;
      return this.#lay(which);
    };
    return this.around.change(
      { ...edit, does },
      {
        redo: () => {
          back = lay(patch);
        },
        undo: () => void lay(back),
      },
    );
  }

  /** Undo brings it back, and what of it was not read waits again. */
  #putAway(does: string, patch: Patch, waiting: FileHanded[]): Promise<Done> {
    const core = this.around.core();
    const beside = awayAndBack(this.#ledger, patch, {
      lay: (which) => this.#lay(which),
      head: () => ({ id: core.around.newId() as GatheringId, on: core.nowIso() }),
      back: () => void this.#reading.wait(waiting.splice(0)),
    });
    return this.around.change({ does, changes: [] }, beside);
  }

  #lay(patch: Patch): Patch {
    const back = this.#ledger.lay(patch);
    this.#items.follow(patch);
    return back;
  }

  /** Pictures of pieces that are being accepted go into the journal's own store first. */
  async #keepPictures(patch: Patch): Promise<void> {
    for (const [key, value] of patch) {
      if ((value as ItemHeld | undefined)?.as !== 'accepted') continue;
      const picture = this.#items.piece(key.slice(itemKey('').length))?.now.picture;
      const found = picture && (await benchPicture(this.around.records, picture.digest));
      if (found) await this.around.keepPicture(picture.digest, found.bytes, found.type);
    }
  }

  /** A piece, book or meeting whole, to be altered. */
  whole(id: string): BenchWhole | undefined {
    return benchWhole(this.#parts, id);
  }

  columns(file: number): BenchTable | undefined {
    return tableSaid(this.#ledger.file(file));
  }

  /** Reads a table again with its columns told by the reader; refused once something of it was accepted. */
  async tellColumns(file: number, told: Record<string, ColumnRole>): Promise<Done> {
    const planned = await columnsTold(this.#parts, this.around, file, told);
    if (!planned.ok) return { ok: false, said: planned.message, code: planned.code };
    const { does, patch } = planned;
    return this.#change({ does, changes: [] }, does, patch);
  }

  gatherings(): GatheringSaid[] {
    return gatheringsSaid(this.around.core().journal);
  }

  lookAt(id: GatheringId): GatheringLooked | undefined {
    return lookAt(this.around.core().journal, id);
  }

  /** Takes a gathering back whole, but for the entries named; what it brought and nothing else uses goes too. */
  async takeBack(id: GatheringId, keep: readonly EntryId[]): Promise<Done> {
    await this.open();
    const { core, records } = this.around;
    const made = await records.all<MadeRow[]>(madeKey(id, '')).catch(() => []);
    const kept = new Set(keep);
    const edit = takeBackEdit(
      core(),
      id,
      made.flatMap(([, rows]) => rows),
      kept,
    );
    const gone: BesideChange[] = kept.size > 0 ? [] : made.map(([key]) => [key, undefined]);
    if (this.#ledger.head?.id === id) {
      for (const [item, held] of this.#ledger.items()) {
        if (held.as !== 'accepted' || (held.entry && kept.has(held.entry))) continue;
        gone.push([itemKey(item), unsettled(held)]);
      }
    }
    return this.#change(edit, edit.does, gone);
  }
}
