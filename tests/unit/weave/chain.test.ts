import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Journal } from '../../../src/journal/records';
import { chain } from '../../../src/weave/chain';
import { WeaveIndex } from '../../../src/weave/weave-index';
import { arbitraryJournal } from '../journal/arbitrary-journal';
import { book, entry, journalOf, person, theme, tieTo } from '../journal/few';

const about = (id: string, ...headings: string[]): ReturnType<typeof entry> =>
  entry(id, { ties: headings.map((heading) => tieTo(heading)) });

const stepsOf = (journal: Journal, from: string, to: string): string[] | undefined =>
  chain(new WeaveIndex(journal), from, to)?.steps.map(({ id }) => id);

describe('a chain', () => {
  it('is told in words', () => {
    const place = { chapter: '13' };
    const journal = journalOf(
      book('b', { name: 'Frankenstein', authors: ['p' as never] }),
      person('p'),
      theme('t', { broader: ['u' as never] }),
      theme('u'),
      entry('e', { ties: [tieTo('b', { role: 'from', place }), tieTo('t')] }),
    );
    expect(chain(new WeaveIndex(journal), 'p', 'u')?.steps).toEqual([
      { id: 'p', type: 'heading' },
      { id: 'b', type: 'heading', via: 'who wrote' },
      { id: 'e', type: 'entry', via: 'which this is from, in chapter 13' },
      { id: 't', type: 'heading', via: 'which is about the theme' },
      { id: 'u', type: 'heading', via: 'which is part of the broader theme' },
    ]);
    const back = chain(new WeaveIndex(journal), 'u', 'p')?.steps.map(({ via }) => via);
    expect(back).toEqual([
      undefined,
      'which has the narrower theme',
      'which this is about',
      'which is from chapter 13 of the book',
      'which was written by',
    ]);
  });

  it('goes a little out of its way through rare headings rather than through one with everything', () => {
    const crowd = Array.from({ length: 300 }, (_, at) => about(`crowd${at}`, 'hub'));
    const journal = journalOf(
      ...[theme('hub'), theme('rare1'), theme('rare2'), ...crowd],
      ...[about('a', 'hub', 'rare1'), about('m', 'rare1', 'rare2'), about('z', 'hub', 'rare2')],
    );
    expect(stepsOf(journal, 'a', 'z')).toEqual(['a', 'rare1', 'm', 'rare2', 'z']);
    const shorter = journalOf(...[theme('hub'), ...crowd], about('a', 'hub'), about('z', 'hub'));
    expect(stepsOf(shorter, 'a', 'z')).toEqual(['a', 'hub', 'z']);
  });

  it('is none between what nothing joins, or for what is not there', () => {
    const journal = journalOf(theme('t'), about('a', 't'), about('z'));
    expect(stepsOf(journal, 'a', 'z')).toBeUndefined();
    expect(stepsOf(journal, 'a', 'nobody')).toBeUndefined();
    expect(stepsOf(journal, 'a', 'a')).toEqual(['a']);
  });

  it('steps only along ties and relations that the journal has', () => {
    const joined = (journal: Journal, a: string, b: string): boolean => {
      const names = (from: string, to: string): boolean => {
        const row = journal.tables.entries.get(from);
        if (row) return row.ties.some(({ heading }) => heading === to);
        const heading = journal.tables.headings.get(from);
        const lists = [
          ...(heading?.kind === 'book' ? heading.authors : []),
          ...(heading?.kind === 'person' ? (heading.books ?? []) : []),
          ...(heading?.kind === 'theme' ? [...heading.broader, ...heading.related] : []),
        ];
        return lists.some((id) => id === to);
      };
      return names(a, b) || names(b, a);
    };
    fc.assert(
      fc.property(arbitraryJournal(), fc.nat(50), fc.nat(50), (journal, first, second) => {
        const ids = [...journal.tables.entries.keys(), ...journal.tables.headings.keys()];
        if (ids.length === 0) return;
        const [from, to] = [ids[first % ids.length]!, ids[second % ids.length]!];
        const steps = stepsOf(journal, from, to);
        if (!steps) return;
        expect([steps[0], steps.at(-1)]).toEqual([from, to]);
        steps.slice(1).forEach((id, at) => expect(joined(journal, steps[at]!, id)).toBe(true));
      }),
    );
  });
});
