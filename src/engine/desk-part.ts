import type { Edit } from '../journal/edits';
import type { Asked, Core } from './core';
import type { Done } from './desk';

/** What the desk lends to a part of it. */
export interface DeskPart {
  core: () => Core;
  /** Applies, tells and keeps an edit. */
  apply: (edit: Edit, id?: string) => Promise<Done>;
  /** The same for a wish, or says why not. */
  change: (asked: Asked) => Promise<Done>;
  /** Resolves when all of the journal is there. */
  loaded: () => Promise<void>;
}
