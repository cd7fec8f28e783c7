/** The books that a file lists, names with who wrote them, or has in a column for titles: known to all files of a gathering before any is sorted. */
import type { Block, ColumnRole, ReadWhole } from './block';
import type { KnownNames } from './known-names';
import { plainOf } from './plain';
import { bookOfHeading, booksNamed } from './proposed';
import { authorsIn } from './readers/tools/book-rows';

const BLOCKS_A_STEP = 50;

/** Steps of a few milliseconds. */
export function* learnBooks(file: ReadWhole, names: KnownNames): Generator<object, void> {
  for (const { title, authors } of file.books ?? []) names.learnBook(title, authors, true);
  yield {};
  for (const heading of file.journal?.tables.headings.values() ?? []) {
    if (heading.kind !== 'book') continue;
    const { headings } = file.journal?.tables ?? {};
    names.learnBook(
      heading.name,
      heading.authors.flatMap((id) => headings?.get(id)?.name ?? []),
      true,
    );
  }
  for (const [at, block] of file.blocks.entries()) {
    learnFrom(block, file.columns ?? {}, names);
    if (at % BLOCKS_A_STEP === 0) yield {};
  }
}

/** Longer blocks are running text of somebody else. */
const LONGEST = 2000;

function learnFrom(
  block: Block,
  columns: Readonly<Record<string, ColumnRole>>,
  names: KnownNames,
): void {
  if (block.as === 'row' && block.cells) {
    const cell = (role: ColumnRole): string | undefined =>
      Object.entries(block.cells ?? {}).find(
        ([name]) => Object.hasOwn(columns, name) && columns[name] === role,
      )?.[1];
    const [title, author] = [cell('title'), cell('author')];
    if (title) names.learnBook(title, author ? authorsIn(author) : []);
    return;
  }
  if (block.text.length > LONGEST || !/\bby \p{Lu}/u.test(block.text)) return;
  if (block.as === 'heading' || block.as === 'title') {
    const book = bookOfHeading(plainOf(block.text));
    if (book?.certainty === 'sure') names.learnBook(book.title, book.authors);
    return;
  }
  for (const book of booksNamed(block.text)) {
    if (book.certainty === 'sure') names.learnBook(book.title, book.authors);
  }
}
