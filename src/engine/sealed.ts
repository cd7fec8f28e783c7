/** What of an answer may be written out: nothing of a sealed list. */
import type { EntryId, Guide, HeadingId, Journal } from '../journal/records';
import { closedHeadings } from '../publish/open-rows';
import type { PlanResult } from './answers';

/** Whether a book is on a sealed list. */
export const isSealed = (journal: Journal, book: HeadingId): boolean =>
  closedHeadings(journal).has(book);

/** Whether a guide is for a book of a sealed list. */
export const isForSealed = (journal: Journal, { focus }: Pick<Guide, 'focus'>): boolean =>
  focus.headings.some(({ heading }) => isSealed(journal, heading));

/** A plan without what is tied to a book of a sealed list. */
export function openAnswer(journal: Journal, answer: PlanResult): PlanResult {
  const closed = closedHeadings(journal);
  const isOpen = ({ entry }: { entry?: EntryId }): boolean =>
    !(entry && journal.tables.entries.get(entry)?.ties.some(({ heading }) => closed.has(heading)));
  return {
    ...answer,
    parts: answer.parts.map((part) => ({ ...part, items: part.items.filter(isOpen) })),
    spare: answer.spare.filter(isOpen),
  };
}
