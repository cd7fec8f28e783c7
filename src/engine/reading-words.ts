/** Small phrases about books and readings, the same on every screen and page of the reading place. */
import type { BookHeading, Journal, PromptRule, Reading } from '../journal/records';
import { sayDate } from '../language/dates';
import { invertedName } from '../language/inverted-name';
import { letterNamed } from '../reading/rules';

export const FORM_SAYS: Record<Reading['form'], string> = {
  print: 'in print',
  ebook: 'on screen',
  audio: 'by ear',
};

/** "M. Shelley", "U. K. Le Guin"; a name of one word as it is. */
export function shortName(name: string): string {
  const [family = '', given = ''] = invertedName(name).split(', ');
  const initials = given
    .split(/[\s.]+/)
    .filter((part) => /^\p{L}/u.test(part))
    .map((part) => `${[...part][0]!.toUpperCase()}.`);
  return [...initials, family].join(' ');
}

export function authorNames(journal: Journal, book: BookHeading | undefined): string[] {
  return (book?.authors ?? []).flatMap((id) => journal.tables.headings.get(id)?.name ?? []);
}

/** "M. Shelley", "J. Grimm and W. Grimm", "A. Baker and others". */
export function authorsShort(journal: Journal, book: BookHeading | undefined): string {
  const [first, second, ...rest] = authorNames(journal, book).map(shortName);
  if (first === undefined) return '';
  if (second === undefined) return first;
  return rest.length > 0 ? `${first} and others` : `${first} and ${second}`;
}

/** A prompt in a letter, a decade or a number, to stand under a narrow column. */
export function promptLabel(rule: PromptRule, index: number): string {
  if (rule.by === 'title-letter' || rule.by === 'author-letter')
    return letterNamed(rule.is ?? '') || String(index + 1);
  const decade = rule.by === 'decade' ? /^\d{3}/.exec(rule.is ?? '')?.[0] : undefined;
  if (decade) return `${decade}0s`;
  if (rule.by === 'pages-in-all' && /^\d{4}-\d{2}$/.test(rule.from ?? ''))
    return sayDate(rule.from!).split(' ')[0]!;
  return String(index + 1);
}

/** "finished 18 Oct 2025", "in hand since 22 Oct 2025", "put down", "begun". */
export function readingSaid(reading: Reading): string {
  const { started, finished, abandoned } = reading;
  if (abandoned) return finished ? `put down ${sayDate(finished)}` : 'put down';
  if (finished) return started ? `${sayDate(started)} to ${sayDate(finished)}` : sayDate(finished);
  const since = started ?? reading.days?.toSorted()[0];
  return since ? `in hand since ${sayDate(since)}` : 'at a time not known';
}

/** The beginning of a text, of so many letters at most, ended at a word. */
export function beginningOf(text: string, letters: number): string {
  if (text.length <= letters) return text;
  const cut = text.slice(0, letters + 1);
  return `${cut.slice(0, cut.lastIndexOf(' ') > 0 ? cut.lastIndexOf(' ') : letters).trimEnd()} …`;
}
