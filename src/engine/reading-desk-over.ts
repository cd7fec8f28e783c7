/** The reading part of the desk over an engine: asks the reading room, and hands what is to change to the desk's one gateway. */
import { ruleOfWords, sayRule } from './challenge-rules';
import type { DeskPart } from './desk-part';
import { addBooks } from './reading-add';
import { allYears } from './reading-all-years';
import { bookPage } from './reading-book-page';
import { catalogueView } from './reading-books';
import { changeBooks } from './reading-bulk';
import {
  challengesView,
  challengeView,
  chooseReadings,
  dropChallenge,
  presetDraft,
  putChallenge,
  readingsToChoose,
} from './reading-challenges';
import type { ReadingDesk } from './reading-desk';
import { figuresView } from './reading-figures';
import { lookAtIsbn, readBooks } from './reading-in';
import {
  dropList,
  keepOrder,
  moveReadOut,
  paceList,
  placeOnList,
  putList,
  takeOffList,
} from './reading-list-edits';
import { listsView, listView } from './reading-lists';
import { beginReading, dropReading, markDay, openOn, putReading } from './reading-log';
import { booksOut } from './reading-out';
import { yearView } from './reading-year';

export function readingDesk({ core, change, loaded }: DeskPart): ReadingDesk {
  return {
    year: async (ask) => yearView(core(), ask),
    allYears: async () => allYears(core()),
    reading: async (id) => core().journal.tables.readings.get(id),
    openOn: async (day) => openOn(core(), day),
    markDay: async (id, day, on) => change(markDay(core(), id, day, on)),
    begin: async (book, day, form) => change(beginReading(core(), book, day, form)),
    save: async (draft) => change(putReading(core(), draft)),
    remove: async (id) => change(dropReading(core(), id)),

    catalogue: async (ask) => catalogueView(core(), ask),
    book: async (id, start) => bookPage(core(), id, start),
    lookAtIsbn: async (text) => lookAtIsbn(core(), text),
    lookAtBooks: async (name, bytes) => readBooks(core(), name, new Uint8Array(bytes)),
    addBooks: async (books) => change(addBooks(core(), books)),
    changeBooks: async (ids, wanted) => {
      // Removing takes mentions out of entries, so that all of them must be there.
      await loaded();
      return change(changeBooks(core(), ids, wanted));
    },
    booksOut: async (form, ids) => {
      await loaded();
      return booksOut(core(), form, ids);
    },

    lists: async (ask) => listsView(core(), ask),
    list: async (id, ask) => listView(core(), id, ask),
    saveList: async (draft) => change(putList(core(), draft)),
    placeOnList: async (id, book, at) => change(placeOnList(core(), id, book, at)),
    takeOffList: async (id, book) => change(takeOffList(core(), id, book)),
    moveReadOut: async (id, ask) => change(moveReadOut(core(), id, ask)),
    keepOrder: async (id, books) => change(keepOrder(core(), id, books)),
    paceList: async (id, plan) => change(paceList(core(), id, plan)),
    removeList: async (id) => change(dropList(core(), id)),

    challenges: async () => challengesView(core()),
    challenge: async (id) => challengeView(core(), id),
    preset: async (ask) => presetDraft(core(), ask),
    ruleOf: async (text) => ruleOfWords(core(), text),
    sayRules: async (rules) => rules.map((rule) => sayRule(core(), rule)),
    saveChallenge: async (draft) => change(putChallenge(core(), draft)),
    readingsFor: async (id) => readingsToChoose(core(), id),
    chooseReadings: async (id, prompt, readings) =>
      change(chooseReadings(core(), id, prompt, readings)),
    removeChallenge: async (id) => change(dropChallenge(core(), id)),

    figures: async (ask) => figuresView(core(), ask),
  };
}
