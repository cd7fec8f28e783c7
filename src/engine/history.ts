import type { Edit } from '../journal/edits';

/** What came of an edit: the rows as they became (to be stored), or one sentence why not. */
export type Applied =
  { ok: true; does: string; edit: Edit } | { ok: false; code: string; message: string };

/** How many edits can be taken back in one sitting. */
const REMEMBERED = 500;

/** The edits of this sitting in order, each kept as its inverse. A new edit forgets what was undone. */
export class History {
  #done: Edit[] = [];
  #undone: Edit[] = [];

  did(does: string, inverse: Edit): void {
    this.#done.push({ ...inverse, does });
    if (this.#done.length > REMEMBERED) this.#done.shift();
    this.#undone = [];
  }

  toUndo(): Edit | undefined {
    return this.#done.at(-1);
  }

  toRedo(): Edit | undefined {
    return this.#undone.at(-1);
  }

  undid(inverse: Edit): void {
    const edit = this.#done.pop();
    if (edit) this.#undone.push({ ...inverse, does: edit.does });
  }

  redid(inverse: Edit): void {
    const edit = this.#undone.pop();
    if (edit) this.#done.push({ ...inverse, does: edit.does });
  }

  /** Newest first, for the undo list in Keep. */
  list(): { does: string }[] {
    return this.#done.map(({ does }) => ({ does })).reverse();
  }
}
