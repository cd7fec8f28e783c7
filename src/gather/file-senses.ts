/** What a file says of all its pieces: by its folders and its name, by the book it is, by a day its first words name, by its labels. */
import type { Block, ReadWhole } from './block';
import { plainOf } from './plain';
import { datesIn } from './readers/tools/dates-found';
import type { Sense, Senses } from './senses';
import { tieByAuthors } from './ties';

/** The name of a file without its ending. */
export function nameOf(path: string): string {
  return (path.split('/').at(-1) ?? '').replace(/\.[A-Za-z0-9]{1,8}$/u, '').replace(/[_]+/gu, ' ');
}

/** Outermost first. Of a folder only the book it is named for counts: its other words sort files, not what is in them. */
export function fileSenses(senses: Senses, file: ReadWhole, path: string): Sense[] {
  const over: Sense[] = [];
  for (const folder of path.split('/').slice(0, -1)) {
    const books = senses.of(folder, 'file-name').ties.filter(({ kind }) => kind === 'book');
    if (books.length > 0) over.push({ ties: books, whole: true });
  }
  over.push(senses.of(nameOf(path), 'file-name'));
  const [book] = file.passages ? (file.books ?? []) : [];
  if (book) {
    over.push({ ties: [tieByAuthors(senses.names, book, 'about', 'sure', true)], whole: true });
  }
  return over;
}

/** Labels of the parts of an object lesson, as people write them. Common practice. */
const PART =
  /^(?<part>object|observe|observations?|what (?:they|you|we|to|can be) (?:see|seen|do|notice)|notice|idea|leads to|it leads to|so what|objective|aim|preparation|method|steps?|what to do|materials|you(?: will|’ll|'ll)? need|have ready)\s*[:–—]/iu;
/** So many different labels under one heading make a lesson of what stands there. */
const PARTS_OF_A_LESSON = 2;

/** The headings, as their lines joined, under which the labelled parts of one lesson stand. */
export function labelledLessons(blocks: readonly Block[]): Set<string> {
  const parts = new Map<string, Set<string>>();
  for (const { as, text, under } of blocks) {
    if (!under || (as !== 'paragraph' && as !== 'item')) continue;
    const part = PART.exec(text.slice(0, 60).replace(/^[*_\s]+/u, ''))?.groups?.['part'];
    if (!part) continue;
    const key = under.join('\n');
    parts.set(key, (parts.get(key) ?? new Set()).add(part.toLowerCase()));
  }
  return new Set([...parts].flatMap(([key, of]) => (of.size >= PARTS_OF_A_LESSON ? [key] : [])));
}

const EARLIEST_YEAR = 1950;
/** A longer opening is running text, and its dates may be of anything. */
const LONGEST_OPENING = 200;
const OF_SOMETHING_ELSE = /\b(?:publish|print|born|died|wrote|written in|edition|set in|first)/iu;

/** EDTF of the one day or month that the first paragraph of a file names, where the file's own date does not say otherwise. */
function sayDay(file: ReadWhole): string | undefined {
  const first = file.blocks.find(({ as }) => as !== 'title' && as !== 'heading');
  const plain = first?.as === 'paragraph' ? plainOf(first.text.slice(0, 400)) : '';
  if (plain === '' || plain.length > LONGEST_OPENING || OF_SOMETHING_ELSE.test(plain))
    return undefined;
  const dates = datesIn(plain);
  const [date] = dates;
  if (!date || dates.length > 1 || (date.exact !== 'day' && date.exact !== 'month'))
    return undefined;
  // A line that is a date is the head of a day, and governs until the next one.
  const rest = plain.slice(0, date.from) + plain.slice(date.to);
  if (rest.split(/[^\p{L}]+/u).filter(Boolean).length < 2) return undefined;
  if (Number(date.edtf.slice(0, 4)) < EARLIEST_YEAR) return undefined;
  if (file.written !== undefined && !date.edtf.startsWith(file.written)) return undefined;
  const began = FROM_MONTH.exec(plain.slice(0, date.from))?.[1];
  const month = began === undefined ? -1 : MONTHS.indexOf(began.slice(0, 3).toLowerCase());
  // "January to March 2015" is a stretch of time, and a day after "to" is the end of one.
  if (month >= 0)
    return `${date.edtf.slice(0, 4)}-${String(month + 1).padStart(2, '0')}/${date.edtf}`;
  return /\b(?:to|until|till|and)\s*$|[–-]\s*$/iu.test(plain.slice(0, date.from))
    ? undefined
    : date.edtf;
}

/**
 * EDTF of when a file says it was written. A year in its name that is of the title of the book it is named for says nothing: "1984
 * quotes". Of a book not known yet it cannot be told, for "2014 alps" is how notebooks are named.
 */
export function writtenOf(
  file: ReadWhole,
  path: string,
  over: readonly Sense[],
): string | undefined {
  const { written = '', ...rest } = file;
  const ofTitle =
    /^\d{4}$/u.test(written) &&
    nameOf(path).includes(written) &&
    over.some(({ ties }) =>
      ties.some(({ kind, name }) => kind === 'book' && name.includes(written)),
    );
  return sayDay(ofTitle ? rest : file) ?? (ofTitle ? undefined : file.written);
}

const MONTHS = 'jan feb mar apr may jun jul aug sep oct nov dec'.split(' ');
const FROM_MONTH =
  /\b((?:jan|febr?)(?:uary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|(?:nov|dec)(?:ember)?)(?:\sto\s|\sand\s|\s?[–-]\s?)$/iu;
