/**
 * The bench of gathering: files become pieces, the reader settles them one after another, and all of it is held between windows.
 * It owns what was decided; the journal changes only by the edits it hands to the desk.
 */
import { sayPlace } from '../gather/piece';
import type { Edit } from '../journal/edits';
import type { EntryId, Gathering, GatheringId } from '../journal/records';
import { plainText } from '../language/markdown';
import type { BesideChange, RecordsBeside } from '../keep/beside';
import { BenchItems } from './bench-items';
import {
  BenchLedger,
  fileKey,
  HEAD,
  itemKey,
  type FileHeld,
  type ItemHeld,
  type Patch,
} from './bench-ledger';
import {
  BenchReading,
  noting,
  PICTURES,
  picturesOf,
  TABLES,
  twinsAcross,
  withoutKnown,
} from './bench-reading';
import { nameOf, stemOf, tieSaid } from './bench-rows';
import { nextOf } from './bench-shapes';
import { BenchStanding } from './bench-standing';
import { gatheringOf, madeKey, planStep } from './bench-steps';
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
import type { Core } from './core';
import type { Done } from './desk';
import { gatherFiles, type FileReader, type GatherResult } from './gathering';
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

/** A pause longer than this is no part of the pace, in milliseconds. */
const PAUSE_MS = 90_000;
/** Steps after which a pace can be told. */
const STEPS_FOR_PACE = 5;

export class GatherBench {
  #ledger: BenchLedger;
  #items: BenchItems;
  #standing: BenchStanding;
  #reading: BenchReading;
  #opened: Promise<void> | undefined;
  #touched: string | undefined;
  #pace = { steps: 0, ms: 0, last: 0 };

  constructor(readonly around: BenchSurroundings) {
    const { records } = around;
    this.#ledger = new BenchLedger(records, () => this.#items.rebuild());
    this.#items = new BenchItems(this.#ledger);
    this.#standing = new BenchStanding(this.#items, this.#ledger, () => around.core().journal);
    this.#reading = new BenchReading({
      core: around.core,
      records,
      ready: around.ready,
      add: (result, columns) => this.#add(result, columns),
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
  }

  async #openOnce(): Promise<void> {
    await this.around.ready();
    await this.#ledger.load();
    await this.#reading.load();
    this.#items.rebuild();
    this.#forgetStrange();
    await this.#sweep();
  }

  /** Where the journal knows nothing of this gathering (another journal was put in its place), nothing of it is accepted. */
  #forgetStrange(): void {
    const { head } = this.#ledger;
    if (!head || this.around.core().journal.tables.gatherings.has(head.id)) return;
    const patch: Patch = [...this.#ledger.items()].flatMap(([id, { as, entry: _, ...rest }]) =>
      as === 'accepted' ? [[itemKey(id), rest] as const] : [],
    );
    if (patch.length > 0) this.#lay(patch);
  }

  /** Lets go of pictures and tables of gatherings that were put away. */
  async #sweep(): Promise<void> {
    const { records } = this.around;
    const wanted = new Set<string>();
    for (const [, { pieces, told }] of this.#ledger.files()) {
      wanted.add(TABLES + told.path);
      for (const { picture } of pieces) if (picture) wanted.add(PICTURES + picture.digest);
    }
    const held = await records.all('bench-').catch(() => []);
    const gone = held.filter(
      ([key]) => (key.startsWith(TABLES) || key.startsWith(PICTURES)) && !wanted.has(key),
    );
    if (gone.length > 0)
      await records.put(gone.map(([key]) => [key, undefined])).catch(() => undefined);
  }

  async view(ask: BenchAsk): Promise<BenchView> {
    const { around } = this;
    const { head } = this.#ledger;
    const shown = listShown(this.#parts, ask);
    const row = shown.rows.find(({ id }) => id === ask.around);
    const { progress, waiting, path } = this.#reading;
    const coming = waiting.map((file, at) => ({
      key: -1 - at,
      path: file.path,
      name: nameOf(file.path),
      status: file.path === path ? ('reading' as const) : ('waiting' as const),
      settled: 0,
      total: 0,
    }));
    const minutes = this.#minutesFor(shown.counts.left);
    return {
      ...(head ? { gathering: head.id } : {}),
      name: head?.name ?? '',
      on: head?.on ?? around.core().nowIso(),
      ...shown,
      files: [...shown.files, ...coming],
      rules: this.#items.rules(ask.file ?? row?.file).map(({ id, says }) => ({ id, says })),
      ...(progress ? { progress } : {}),
      ...(this.#touched ? { touched: this.#touched } : {}),
      ...(minutes === undefined ? {} : { minutes }),
      ...(this.#ledger.why ? { why: this.#ledger.why } : {}),
    };
  }

  #minutesFor(left: number): number | undefined {
    const { steps, ms } = this.#pace;
    if (steps < STEPS_FOR_PACE || left === 0) return undefined;
    return Math.max(1, Math.round((left * ms) / steps / 60_000));
  }

  /** Takes files in and reads them; resolves when all are read or it was stopped. */
  async gather(files: FileHanded[]): Promise<Done> {
    await this.open();
    const before = this.#items.all.length;
    const alone = await this.#reading.offer(files);
    await this.#reading.run();
    const more = this.#items.all.length - before;
    const left = alone > 0 ? `; ${alone} hidden ${alone === 1 ? 'file' : 'files'} left alone` : '';
    const said =
      this.#reading.progress?.stage === 'stopped'
        ? `Stopped; ${this.#reading.waiting.length} still to be read`
        : `${more} ${more === 1 ? 'piece' : 'pieces'} to look at${left}`;
    return { ok: true, said };
  }

  stop(): void {
    this.#reading.stop();
  }

  /** Forgets files that wait to be read. */
  async forgetWaiting(): Promise<void> {
    this.#reading.stop();
    await this.#reading.forget();
  }

  async #add(
    found: GatherResult,
    columns: ReadonlyMap<string, Record<string, ColumnRole>>,
  ): Promise<void> {
    const held = this.#ledger.files();
    const result = withoutKnown(found, new Set(held.map(([, { told }]) => told.digest)));
    if (result.files.length === 0) return;
    await twinsAcross(
      this.#items.all.flatMap((item) => (item.type === 'piece' ? [item.now] : [])),
      result.pieces,
      this.around.breathe,
    );
    const from = (held.at(-1)?.[0] ?? -1) + 1;
    const patch: BesideChange[] = result.files.map((told, at) => [
      fileKey(from + at),
      fileHeld(result, told, columns.get(told.path)),
    ]);
    if (!this.#ledger.head) {
      const { id, on } = result.gathering;
      const name = nameFor(result.files.map(({ path }) => path));
      patch.push([HEAD, { id, on, ...(name ? { name } : {}) }]);
    }
    this.#lay(patch);
  }

  /** Does one thing. Refused steps change nothing. */
  async step(step: BenchStep): Promise<Done> {
    await this.open();
    if (step.do === 'put-away') this.#reading.stop();
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
    if (settles === 1) this.#noteStep();
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

  #lay(patch: Patch): Patch {
    const back = this.#ledger.lay(patch);
    this.#items.follow(patch);
    return back;
  }

  #noteStep(): void {
    const now = this.around.core().around.now().getTime();
    const gap = now - this.#pace.last;
    if (this.#pace.last > 0 && gap < PAUSE_MS) {
      this.#pace.steps += 1;
      this.#pace.ms += gap;
    }
    this.#pace.last = now;
  }

  /** Pictures of pieces that are being accepted go into the journal's own store first. */
  async #keepPictures(patch: Patch): Promise<void> {
    for (const [key, value] of patch) {
      if ((value as ItemHeld | undefined)?.as !== 'accepted') continue;
      const picture = this.#items.piece(key.slice(itemKey('').length))?.now.picture;
      const found = picture && (await this.picture(picture.digest));
      if (found) await this.around.keepPicture(picture.digest, found.bytes, found.type);
    }
  }

  /** A picture that waits with its piece. */
  picture(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined> {
    return this.around.records
      .get<{ bytes: Uint8Array; type: string }>(PICTURES + digest)
      .catch(() => undefined);
  }

  /** A piece, book or meeting whole, to be altered. */
  whole(id: string): BenchWhole | undefined {
    const item = this.#items.get(id);
    if (!item) return undefined;
    if (item.type === 'book') return { type: 'book', id, book: item.now };
    if (item.type === 'meeting') return { type: 'meeting', id, meeting: item.now };
    const { kind, text, title, written, answer, picture, ties, source, cells } = item.now;
    const next = nextOf(this.#parts, id);
    return {
      type: 'piece',
      piece: {
        id,
        kind,
        text,
        title: title ?? '',
        written: written ?? '',
        answer: answer ?? '',
        ...(picture ? { alt: picture.alt } : {}),
        ties: ties.map(tieSaid),
        place: [nameOf(source.path), sayPlace(source.place)].filter(Boolean).join(', '),
        under: source.under ?? [],
        ...(cells ? { cells } : {}),
        ...(next ? { next: plainText(next.now.text).slice(0, 200) } : {}),
      },
    };
  }

  columns(file: number): BenchTable | undefined {
    return tableSaid(this.#ledger.file(file));
  }

  /** Reads a table again with its columns told by the reader; refused once something of it was accepted. */
  async tellColumns(file: number, told: Record<string, ColumnRole>): Promise<Done> {
    const held = this.#ledger.file(file);
    const bytes = held && (await this.around.records.get<Blob>(TABLES + held.told.path));
    if (!held || !bytes) {
      return {
        ok: false,
        code: 'gone',
        said: 'The table is not here any more. Drop the file again to tell its columns.',
      };
    }
    const items = this.#items.all.filter((item) => item.file === file);
    if (items.some(({ id }) => this.#ledger.item(id)?.as === 'accepted')) {
      return {
        ok: false,
        code: 'accepted',
        said: 'Some of this table is accepted. Put that back first, then tell its columns.',
      };
    }
    const columns = new Map<string, Record<string, ColumnRole>>();
    const { path } = held.told;
    const offered = { path, bytes: async () => new Uint8Array(await bytes.arrayBuffer()) };
    const result = await gatherFiles(
      this.around.core(),
      [offered],
      undefined,
      undefined,
      noting(this.around.reader, columns, told),
    );
    const [read] = result.files;
    if (!read || read.status === 'unreadable') {
      return { ok: false, code: 'unread', said: read?.reason ?? 'The table could not be read.' };
    }
    await this.around.records.put(picturesOf(result)).catch(() => undefined);
    const patch: Patch = [
      ...items.map(({ id }) => [itemKey(id), undefined] as const),
      [fileKey(file), fileHeld(result, read, columns.get(path))],
    ];
    const does = `Read ${nameOf(path)} with other columns`;
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
      for (const [item, { as, entry, ...rest }] of this.#ledger.items()) {
        if (as !== 'accepted' || (entry && kept.has(entry))) continue;
        gone.push([itemKey(item), rest]);
      }
    }
    return this.#change(edit, edit.does, gone);
  }

  /** The record of the gathering in hand. */
  get gathering(): Gathering | undefined {
    return this.#ledger.head && gatheringOf(this.#parts);
  }

  /** Resolves when everything decided so far is stored. */
  whenStored(): Promise<void> {
    return this.#ledger.whenStored();
  }
}

function fileHeld(
  result: GatherResult,
  told: FileHeld['told'],
  columns: Record<string, ColumnRole> | undefined,
): FileHeld {
  const own = ({ source }: { source: { path: string } }): boolean => source.path === told.path;
  return {
    told,
    pieces: result.pieces.filter(own),
    books: result.books.filter(own),
    meetings: result.meetings.filter(own),
    ...(columns ? { columns } : {}),
  };
}

/** The folder they all lie in, or the one file there is. */
function nameFor(paths: readonly string[]): string | undefined {
  const [first] = paths;
  if (first === undefined) return undefined;
  const folder = first.includes('/') ? first.slice(0, first.indexOf('/') + 1) : '';
  if (folder && paths.every((path) => path.startsWith(folder))) return folder.slice(0, -1);
  return paths.length === 1 ? stemOf(first) : undefined;
}
