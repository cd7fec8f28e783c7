import { expect, it } from 'vitest';
import { clothView } from '../../../src/engine/cloth';
import { Engine } from '../../../src/engine/engine';
import { putRow } from '../../../src/journal/make-edits';
import type { Journal, Reading } from '../../../src/journal/records';
import { book, entry, journalOf, theme, tieTo } from '../journal/few';

const engineOver = (journal: Journal): Engine =>
  new Engine(journal, { now: () => new Date('2026-11-25T12:00:00Z'), newId: () => 'new' });
const shelf = (...published: (string | undefined)[]): Journal =>
  journalOf(
    theme('t'),
    ...published.flatMap((year, at) => [
      book(`b${at}`, year === undefined ? {} : { published: year }),
      entry(`e${at}`, { written: `2020-0${at + 1}-01`, ties: [tieTo(`b${at}`), tieTo('t')] }),
    ]),
  );

it('books stand where a reading that was just put down, altered or taken back puts them', () => {
  const engine = engineOver(shelf('1900', '1901', '1902'));
  const order = (): (string | number | undefined)[][] =>
    clothView(engine, { books: 'read' }).books.map(({ id, year }) => [id, year]);
  const put = (finished: string): void => {
    const reading = { id: 'r', book: 'b2', finished, form: 'print' } as unknown as Reading;
    expect(engine.apply(putRow(engine.journal, 'readings', reading))).toMatchObject({ ok: true });
  };
  const before = order();
  expect(before.map(([id]) => id)).toEqual(['b0', 'b1', 'b2']);
  put('1990-05-01');
  expect(order()).toEqual([
    ['b2', 1990],
    ['b0', 2020],
    ['b1', 2020],
  ]);
  put('2020-01-15');
  expect(order().map(([id]) => id)).toEqual(['b0', 'b2', 'b1']);
  engine.undo();
  engine.undo();
  expect(order()).toEqual(before);
});

it('books of antiquity stand before later ones by their publication, the oldest first', () => {
  const engine = engineOver(shelf('1818', '-0029', undefined, '-0750~', '0150', '-0399'));
  const { books } = clothView(engine, { books: 'published' });
  expect(books.map(({ id }) => id)).toEqual(['b3', 'b5', 'b1', 'b4', 'b0', 'b2']);
});
