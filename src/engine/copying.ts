/** Saving copies out and taking them in: what the desk does with {@link copyOut} and the edits of `merging`. */
import type { JournalStore } from '../keep/store';
import { counted } from '../journal/labels';
import { copyOut, lookedSaid, lookInto, type Copy, type LookedInto } from './copies';
import type { CopyLooked } from './desk';
import type { HeldJournal } from './held-journal';
import { headOf, lineageOf, takeHead } from './head';
import type { Applied } from './history';
import { begunFrom, joinedWith, parted, saved, type Lineage } from './lineage';
import { mergeIn, removedHere, replaceWith } from './merging';
import { takeUnchecked } from './taking-back';

interface CopyingAround {
  nowIso: () => string;
  /** ISO day by the clock, which {@link nowIso} may be ahead of. */
  today: () => string;
  newId: () => string;
  sha256: (bytes: Uint8Array) => Promise<string>;
  /** Parts of the journal that could not be read. */
  aside: () => readonly string[];
}

/** What came of it, and what else there is to say of it. */
type Taken = Applied & { besides?: string[] };

export class Copying {
  #looked: LookedInto | undefined;

  constructor(
    readonly store: JournalStore,
    readonly around: CopyingAround,
  ) {}

  /** The journal as a file; it knows from then on that this copy was saved. */
  async out(engine: HeldJournal): Promise<Copy> {
    const { journal } = engine;
    const now = this.around.nowIso();
    const lineage = saved(this.#lineage(engine), now);
    // At once: pictures take their time, and meanwhile another journal may be put in place.
    takeHead(journal, { ...headOf(journal), lineage });
    return copyOut(journal, lineage, this.store, this.around.today());
  }

  #lineage({ journal }: HeldJournal): Lineage {
    return lineageOf(journal) ?? { site: this.around.newId(), had: {} };
  }

  async look(engine: HeldJournal, name: string, bytes: ArrayBuffer): Promise<CopyLooked> {
    const looked = await lookInto(name, bytes);
    this.#looked = looked.ok ? looked.found : undefined;
    if (!looked.ok) return looked;
    const { journal, lineage } = looked.found;
    const { theirs } = parted(this.#lineage(engine), lineage);
    const removed = removedHere(journal, engine.journal, theirs, this.around.aside());
    return lookedSaid(looked.found, engine.journal, removed);
  }

  /** Takes the copy last looked into. A journal that has not `begun` becomes the one that is opened. */
  async take(engine: HeldJournal, how: 'replace' | 'merge', begun: boolean): Promise<Taken> {
    const looked = this.#looked;
    if (!looked) return { ok: false, message: 'Choose the copy first.', code: 'no-copy' };
    const pictures = await this.#keepPictures(looked);
    if (!pictures.ok) return { ok: false, message: pictures.said, code: 'not-kept' };
    const { journal } = engine;
    const head = headOf(journal);
    const here = this.#lineage(engine);
    const { newId, nowIso } = this.around;
    const now = nowIso();
    const inPlace = how === 'replace' || !begun;
    const since = parted(here, looked.lineage);
    const removed = removedHere(looked.journal, journal, since.theirs, this.around.aside());
    const wanted = inPlace
      ? { edit: replaceWith(looked.journal, journal), left: 0 }
      : mergeIn(looked.journal, journal, { newId, now, parted: since, removed });
    const taken = takeUnchecked(engine, wanted.edit);
    if (!taken.ok) return taken;
    if (inPlace) {
      const lineage = begunFrom(looked.lineage, looked.print, newId(), now);
      takeHead(journal, { ...headOf(looked.journal), lineage });
    } else takeHead(journal, { ...head, lineage: joinedWith(here, looked.lineage) });
    const { edit, inverse } = taken;
    if (edit.changes.length > 0) engine.history.did(edit.does, inverse, head);
    const besides = [...leftSaid(wanted.left), ...picturesSaid(pictures.left)];
    return { ok: true, does: edit.does, edit, ...(besides.length > 0 ? { besides } : {}) };
  }

  /** How many were left out because they are damaged, or a sentence where they cannot be kept. */
  async #keepPictures({
    pictures,
    damaged,
  }: LookedInto): Promise<{ ok: true; left: number } | { ok: false; said: string }> {
    const left = new Set(damaged);
    try {
      for (const { digest, bytes, type } of pictures) {
        // A picture is found by the digest of its bytes: another one under that name would be taken for it.
        if ((await this.around.sha256(bytes)) === digest)
          await this.store.keepPicture(digest, bytes, type);
        else left.add(digest);
      }
      return { ok: true, left: left.size };
    } catch (error) {
      const said = `The pictures of this copy could not be kept: ${(error as Error).message}`;
      return { ok: false, said };
    }
  }
}

const leftSaid = (left: number): string[] =>
  left === 0
    ? []
    : [
        `${left} that ${left === 1 ? 'differs is left as it is' : 'differ are left as they are'} here`,
      ];
const picturesSaid = (left: number): string[] =>
  left === 0 ? [] : [`${counted(left, 'damaged picture')} left out`];
