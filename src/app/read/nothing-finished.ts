import type { YearView } from '../../engine/reading-year';

/** What is said of a year in which nothing was finished. Where `lastKept` is known the sentence ends in a colon, and that follows it. */
export function nothingFinished(view: YearView): string {
  const { title, today, to, lastKept, months, loose, days } = view;
  const past = today > to;
  const mark = `Mark any day on which you ${past ? 'remember reading' : 'read'}`;
  if (lastKept) {
    const [kept, last] = past ? ['', 'last before it'] : [' yet', 'last'];
    return `Nothing is kept in ${title}${kept}. ${mark}, or look at what you kept ${last}:`;
  }
  if (!past) return `Nothing is finished in it yet. ${mark}.`;
  const lies = days > 0 || loose.length > 0 || months.some(({ lanes }) => lanes.length > 0);
  return lies
    ? `Nothing was finished in ${title}.`
    : `Nothing is kept in ${title}, nor before it. ${mark}.`;
}
