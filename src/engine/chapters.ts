/** Where in a book an entry stands, by chapters, and what lies beyond the chapters a meeting has read. */
import type { EntryId, Focus, Heading, Journal, Place } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { figureOf, isNumbered } from '../journal/place-order';

/** The first number in a chapter or page as printed: "13", "ch. 13", "xiii" is 13. */
export function placeNumber(place: Place | undefined): number | undefined {
  const said = place?.chapter ?? place?.page ?? '';
  if (isNumbered(said)) return figureOf(said)?.value;
  const digits = /\d+/.exec(said);
  return digits ? Number(digits[0]) : undefined;
}

/**
 * The number of the chapter a place is in: as printed, or by the book's own list where the chapter goes by a name or
 * only the page is known. Undefined where it cannot be told.
 */
export function chapterOf(place: Place | undefined, book: Heading | undefined): number | undefined {
  const listed = (book?.kind === 'book' && book.chapters) || [];
  const chapter = place?.chapter?.trim();
  if (chapter) {
    const named = listed.findIndex(({ name }) => name?.trim() === chapter);
    return named >= 0 ? named + 1 : placeNumber({ chapter });
  }
  const page = figureOf(place?.page);
  if (!page || page.roman || listed.some((one) => one.page === undefined)) return undefined;
  const at = listed.findLastIndex((one) => one.page! <= page.value);
  return at < 0 ? undefined : at + 1;
}

/**
 * Entries on chapters that come after all those the focus names of their book: they would give away how it goes on.
 * None where a book is named without an end, and none that were chosen by hand.
 */
export function aheadOf(journal: Journal, focus: Focus): Set<EntryId> {
  const { tables } = journal;
  const ahead = new Set<EntryId>();
  for (const { heading } of focus.headings) {
    const book = tables.headings.get(heading);
    const ends = focus.headings
      .filter((part) => part.heading === heading)
      .map(({ to }) => chapterOf(to === undefined ? undefined : { chapter: to }, book) ?? Infinity);
    const last = Math.max(...ends);
    for (const id of entriesTiedTo(journal, heading)) {
      const isBeyond = tables.entries
        .get(id)
        ?.ties.some((tie) => tie.heading === heading && (chapterOf(tie.place, book) ?? 0) > last);
      if (isBeyond) ahead.add(id);
    }
  }
  for (const id of focus.entries) ahead.delete(id);
  return ahead;
}
