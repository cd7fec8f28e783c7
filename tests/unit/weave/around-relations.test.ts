import { describe, expect, it } from 'vitest';
import { aroundView } from '../../../src/engine/around';
import { Engine } from '../../../src/engine/engine';
import type { HeadingId, Journal } from '../../../src/journal/records';
import { book, journalOf, person, theme } from '../journal/few';

const ids = (...names: string[]): HeadingId[] => names as HeadingId[];
const journal = (): Journal =>
  journalOf(
    ...[person('writer', { name: 'Mary Shelley' }), person('figure', { books: ids('novel') })],
    book('novel', { authors: ids('writer') }),
    ...[theme('wide'), theme('narrow', { broader: ids('wide'), related: ids('beside') })],
    theme('beside'),
  );

describe('what the journal says of two headings is on the map around either of them', () => {
  const engine = new Engine(journal(), {
    now: () => new Date('2026-11-25T12:00:00Z'),
    newId: () => 'new',
  });
  it.each([
    ['writer', { novel: 'by Mary Shelley' }],
    ['figure', { novel: 'is in it' }],
    ['novel', { writer: 'wrote it', figure: 'is in it' }],
    ['wide', { narrow: 'the narrower theme' }],
    ['narrow', { wide: 'the broader theme', beside: 'related' }],
    ['beside', { narrow: 'related' }],
  ])('around %s', (root, said) => {
    const { links } = aroundView(engine, { roots: [root] });
    expect(Object.fromEntries(links.map(({ to, says }) => [to, says]))).toEqual(said);
  });
});
