/** Saving copies out and taking them in: what the desk does with {@link copyOut} and the edits of `merging`. */
import type { JournalStore } from '../keep/store';
import { copyOut, lookedSaid, lookInto, type Copy, type LookedInto } from './copies';
import type { CopyLooked } from './desk';
import type { HeldJournal } from './held-journal';
import { headOf, lineageOf, takeHead } from './head';
import type { Applied } from './history';
import { begunFrom, joinedWith, parted, saved, type Lineage } from './lineage';
import { mergeIn, replaceWith } from './merging';
import { takeUnchecked } from './taking-back';

interface CopyingAround {
  nowIso: () => string;
  newId: () => string;
  sha256: (bytes: Uint8Array) => Promise<string>;
}

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
    const copy = await copyOut(journal, lineage, this.store, now.slice(0, 10));
    takeHead(journal, { ...headOf(journal), lineage });
    return copy;
  }

  #lineage({ journal }: HeldJournal): Lineage {
    return lineageOf(journal) ?? { site: this.around.newId(), had: {} };
  }

  look(engine: HeldJournal, name: string, bytes: ArrayBuffer): CopyLooked {
    const looked = lookInto(name, bytes);
    this.#looked = looked.ok ? looked.found : undefined;
    return looked.ok ? lookedSaid(looked.found, engine.journal) : looked;
  }

  /** Takes the copy last looked into. A journal that has not `begun` becomes the one that is opened. */
  async take(engine: HeldJournal, how: 'replace' | 'merge', begun: boolean): Promise<Applied> {
    const looked = this.#looked;
    if (!looked) return { ok: false, message: 'Choose the copy first.', code: 'no-copy' };
    const unkept = await this.#keepPictures(looked);
    if (unkept) return { ok: false, message: unkept, code: 'not-kept' };
    const { journal } = engine;
    const head = headOf(journal);
    const here = this.#lineage(engine);
    const { newId, nowIso } = this.around;
    const now = nowIso();
    const inPlace = how === 'replace' || !begun;
    const wanted = inPlace
      ? replaceWith(looked.journal, journal)
      : mergeIn(looked.journal, journal, { newId, now, parted: parted(here, looked.lineage) });
    const taken = takeUnchecked(engine, wanted);
    if (!taken.ok) return taken;
    if (inPlace) {
      const lineage = begunFrom(looked.lineage, looked.print, newId(), now);
      takeHead(journal, { ...headOf(looked.journal), lineage });
    } else takeHead(journal, { ...head, lineage: joinedWith(here, looked.lineage) });
    const { edit, inverse } = taken;
    if (edit.changes.length > 0) engine.history.did(edit.does, inverse, head);
    return { ok: true, does: edit.does, edit };
  }

  /** Answers a sentence where they cannot be kept. */
  async #keepPictures({ pictures }: LookedInto): Promise<string | undefined> {
    try {
      for (const { digest, bytes, type } of pictures) {
        // A picture is found by the digest of its bytes: another one under that name would be taken for it.
        if ((await this.around.sha256(bytes)) !== digest) continue;
        await this.store.keepPicture(digest, bytes, type);
      }
      return undefined;
    } catch (error) {
      return `The pictures of this copy could not be kept: ${(error as Error).message}`;
    }
  }
}
