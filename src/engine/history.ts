import type { Edit } from '../journal/edits';
import type { TableName } from '../journal/records';
import type { Lineage } from './lineage';

/** What came of an edit: the rows as they became (to be stored), or one sentence why not. */
export type Applied =
  { ok: true; does: string; edit: Edit } | { ok: false; code: string; message: string };

/** What a journal is called and which it is: changed when a copy is put in place of it. */
export interface Head {
  id: string;
  name: string;
  made: string;
  unknown?: Record<string, unknown>;
  lineage?: Lineage;
}

/** What goes along with an edit outside the journal. Neither may fail. */
export interface Beside {
  undo: () => void;
  redo: () => void;
}

/** An edit that takes back (or does again) another, with the journal's head where that changes too. */
export interface Remembered extends Edit {
  head?: Head;
  beside?: Beside;
}

/** How many edits can be taken back in one sitting. */
const REMEMBERED = 500;

/** The edits of this sitting in order, each kept as its inverse. A new edit forgets what was undone. */
export class History {
  #done: Remembered[] = [];
  #undone: Remembered[] = [];

  /** `head` is the head to go back to, where the edit has changed it. */
  did(does: string, inverse: Edit, head?: Head): void {
    this.#done.push({ ...inverse, does, ...(head ? { head } : {}) });
    if (this.#done.length > REMEMBERED) this.#done.shift();
    this.#undone = [];
  }

  /** Has something taken back and done again along with the newest edit. */
  alongside(beside: Beside): void {
    const edit = this.#done.pop();
    if (edit) this.#done.push({ ...edit, beside });
  }

  toUndo(): Remembered | undefined {
    return this.#done.at(-1);
  }

  toRedo(): Remembered | undefined {
    return this.#undone.at(-1);
  }

  undid(inverse: Edit, head?: Head): void {
    const edit = this.#done.pop();
    if (edit) this.#undone.push(again(edit, inverse, head));
  }

  redid(inverse: Edit, head?: Head): void {
    const edit = this.#undone.pop();
    if (edit) this.#done.push(again(edit, inverse, head));
  }

  /** Lets go of an edit that can no longer be taken back, so that those before it can. */
  forgetUndo(): void {
    this.#done.pop();
  }

  forgetRedo(): void {
    this.#undone.pop();
  }

  /** Newest first, for the undo list in Keep. */
  list(): { does: string }[] {
    return this.#done.map(({ does }) => ({ does })).reverse();
  }
}

function again({ does, beside }: Remembered, inverse: Edit, head?: Head): Remembered {
  return { ...inverse, does, ...(head ? { head } : {}), ...(beside ? { beside } : {}) };
}

/** The edit, where all it takes back is the making of this row. */
export function makingOf(
  edit: Remembered | undefined,
  table: TableName,
  id: string,
): Remembered | undefined {
  const [change, more] = edit?.changes ?? [];
  const makes = change && !more && change.table === table && change.id === id && !change.after;
  return makes ? edit : undefined;
}
