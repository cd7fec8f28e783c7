/** The reading part of the desk over an engine: asks the reading room, and hands what is to change to the desk's one gateway. */
import type { Edit } from '../journal/edits';
import type { Core } from './core';
import type { Done } from './desk';
import type { ReadingDesk } from './reading-desk';
import { beginReading, dropReading, markDay, openOn, putReading, type Asked } from './reading-log';
import { allYears, yearView } from './reading-year';

/** What the desk lends to a part of it. */
export interface DeskPart {
  core: () => Core;
  /** Applies, tells and keeps an edit. */
  apply: (edit: Edit, id?: string) => Promise<Done>;
  /** Resolves when all of the journal is there. */
  loaded: () => Promise<void>;
}

export function readingDesk({ core, apply }: DeskPart): ReadingDesk {
  const change = async (asked: Asked): Promise<Done> =>
    asked.ok ? apply(asked.edit, asked.id) : { ok: false, said: asked.said, code: asked.code };
  return {
    year: async (ask) => yearView(core(), ask),
    allYears: async () => allYears(core()),
    reading: async (id) => core().journal.tables.readings.get(id),
    openOn: async (day) => openOn(core(), day),
    markDay: async (id, day, on) => change(markDay(core(), id, day, on)),
    begin: async (book, day, form) => change(beginReading(core(), book, day, form)),
    save: async (draft) => change(putReading(core(), draft)),
    remove: async (id) => change(dropReading(core(), id)),
  };
}
