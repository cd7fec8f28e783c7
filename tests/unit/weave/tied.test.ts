import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readJournalFile } from '../../../src/journal/file';
import type { Journal } from '../../../src/journal/records';
import {
  chanceOf,
  GUESS_FROM,
  LIKELY_FROM,
  SURE_FROM,
  type Evidence,
} from '../../../src/weave/evidence';
import { seededRandom } from '../../../src/weave/rng';
import { narrowerThan, proposeFor, proposeHeadingsFor, tiedTo } from '../../../src/weave/tied';
import { WeaveIndex } from '../../../src/weave/weave-index';
import deserved from '../demo/deserved-ties.json';
import { book, entry, journalOf, person, theme, tieTo } from '../journal/few';
import { thesaurus } from './true-reasons';

const about = (id: string, ...headings: string[]): ReturnType<typeof entry> =>
  entry(id, { text: id, ties: headings.map((heading) => tieTo(heading)) });

describe('what is tied to a heading', () => {
  const journal = journalOf(
    theme('virtue', { broader: ['patience' as never] }),
    theme('courage', { broader: ['virtue' as never] }),
    theme('patience', { broader: ['courage' as never] }),
    about('a', 'virtue'),
    entry('b', { kind: 'quote', ties: [tieTo('courage', { role: 'for' })] }),
    about('c', 'patience', 'courage'),
    about('d'),
  );

  it('is tied in any role, each entry once, in order of ids', () => {
    expect(tiedTo(journal, 'courage' as never)).toEqual(['b', 'c']);
    expect(tiedTo(journal, 'courage' as never, { kinds: ['quote'] })).toEqual(['b']);
  });

  it('takes in narrower themes however far down, and themes in a circle do no harm', () => {
    expect(tiedTo(journal, 'virtue' as never, { narrower: true })).toEqual(['a', 'b', 'c']);
    expect(narrowerThan(journal, 'virtue' as never).sort()).toEqual(['courage', 'patience']);
  });

  it('is nothing for a heading that is not there', () => {
    expect(tiedTo(journal, 'none' as never, { narrower: true })).toEqual([]);
    expect(proposeFor(new WeaveIndex(journal), 'none' as never)).toEqual([]);
  });
});

describe('what probably should be tied', () => {
  const frankenstein = book('b', { name: 'Frankenstein', alternates: ['The Modern Prometheus'] });
  const victor = person('p', { name: 'Victor Frankenstein', books: ['b' as never] });
  const courage = theme('t', { name: 'Courage' });

  function proposed(journal: Journal, heading: string): Record<string, string[]> {
    const rows = proposeFor(new WeaveIndex(journal), heading as never);
    return Object.fromEntries(rows.map(({ id, reasons }) => [id, reasons.map(({ text }) => text)]));
  }

  it('has the name of the heading, an alternate, or for a theme another form', () => {
    const journal = journalOf(
      frankenstein,
      courage,
      entry('name', { text: 'It takes courage.' }),
      entry('form', { text: 'A courageous thing' }),
      entry('alternate', { text: 'On the *Modern* Prometheus' }),
      entry('small', { text: 'a modern prometheus' }),
      entry('neither', { text: 'Bread' }),
    );
    expect(proposed(journal, 't')).toEqual({
      name: ['has “courage”'],
      form: ['has “courageous”, close to Courage'],
    });
    expect(proposed(journal, 'b')).toEqual({ alternate: ['has “Modern Prometheus”'] });
  });

  it('has a word near the heading in meaning, where a thesaurus is there', () => {
    const journal = journalOf(courage, entry('e', { text: 'Such bravery!' }), entry('f'));
    const found = proposeFor(new WeaveIndex(journal, thesaurus), 't' as never, { least: 0.05 });
    expect(found.map(({ id, reasons }) => [id, reasons[0]?.text])).toEqual([
      ['e', 'has “bravery”, near Courage in meaning'],
    ]);
    const [heading] = proposeHeadingsFor(new WeaveIndex(journal, thesaurus), 'e' as never, {
      least: 0.05,
    });
    expect(heading?.reasons[0]?.text).toBe('has “bravery”, near Courage in meaning');
    expect(proposed(journal, 't')).toEqual({});
  });

  it('is about somebody in the book', () => {
    const journal = journalOf(frankenstein, victor, about('e', 'p'));
    expect(proposed(journal, 'b')).toEqual({
      e: ['tied to Victor Frankenstein, who is in Frankenstein'],
    });
  });

  it('is tied to what usually goes with the heading', () => {
    const both = ['1', '2', '3', '4', '5', '6'].map((id) => about(`e${id}`, 'fear', 't'));
    const journal = journalOf(
      courage,
      theme('fear', { name: 'Fear' }),
      ...both,
      about('f', 'fear'),
    );
    expect(proposed(journal, 't')).toEqual({
      f: ['tied to Fear; 6 of its 7 entries are tied to Courage too'],
    });
  });

  it('is never what the reader has turned down, for the heading or for the entry', () => {
    const journal = journalOf(courage, entry('e', { text: 'It takes courage.' }));
    expect(proposeHeadingsFor(new WeaveIndex(journal), 'e' as never)).toHaveLength(1);
    journal.tables.declined.set('d', {
      id: 'd',
      entry: 'e' as never,
      heading: 't' as never,
      on: '2024-01-01',
    });
    expect(proposeFor(new WeaveIndex(journal), 't' as never)).toEqual([]);
    expect(proposeHeadingsFor(new WeaveIndex(journal), 'e' as never)).toEqual([]);
    const draft = { text: 'It takes courage.', ties: [] };
    expect(proposeHeadingsFor(new WeaveIndex(journal), draft)).toHaveLength(1);
    expect(proposeHeadingsFor(new WeaveIndex(journal), { ...draft, id: 'e' as never })).toEqual([]);
  });

  it('is less sure of a name the more ties by it were turned down', () => {
    const journal = journalOf(
      courage,
      ...['a', 'b', 'c', 'd'].map((id) => entry(id, { text: 'It takes courage.' })),
    );
    const chance = (): number => proposeFor(new WeaveIndex(journal), 't' as never)[0]?.chance ?? 0;
    const before = chance();
    journal.tables.declined.set('d', {
      id: 'd',
      entry: 'a' as never,
      heading: 't' as never,
      on: '2024-01-01',
    });
    expect(chance()).toBeGreaterThan(0);
    expect(chance()).toBeLessThan(before);
  });

  it('is not what has a narrower theme already, nor a theme above one that is held', () => {
    const journal = journalOf(
      courage,
      theme('n', { name: 'Pluck', broader: ['t' as never] }),
      entry('e', { text: 'It takes courage.', ties: [tieTo('n')] }),
    );
    expect(proposeFor(new WeaveIndex(journal), 't' as never)).toEqual([]);
    expect(proposeHeadingsFor(new WeaveIndex(journal), 'e' as never)).toEqual([]);
  });
});

/** The demo with three ties in ten taken out by seed, and what would be right to propose: those, and the ties it lacks on purpose. */
function withHiddenTies(seed: number): { journal: Journal; right: (id: string) => boolean } {
  const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
  if (!read.ok) throw new Error(read.message);
  const { journal } = read;
  const random = seededRandom(seed);
  const wanted = new Set(deserved.map(({ entry, heading }) => `${entry} ${heading}`));
  for (const row of journal.tables.entries.values()) {
    const ties = row.ties.filter((tie) => {
      const hide = random() < 0.3;
      if (hide) wanted.add(`${row.id} ${tie.heading}`);
      return !hide;
    });
    journal.tables.entries.set(row.id, { ...row, ties });
  }
  return { journal, right: (tie) => wanted.has(tie) };
}

describe('certainty', () => {
  const ground = (share: number): Evidence => ({ share, counts: 0.6 });

  it('grows with every ground for it, shrinks with one against it, and never reaches 1', () => {
    const one = chanceOf(0.1, [ground(0.5)], false);
    expect(chanceOf(0.1, [], false)).toBeLessThan(one);
    expect(chanceOf(0.1, [ground(0.5), ground(0.5)], false)).toBeGreaterThan(one);
    expect(chanceOf(0.1, [ground(0.5), ground(0.01)], false)).toBeLessThan(one);
    const many = Array.from({ length: 30 }, () => ground(0.99));
    expect(chanceOf(0.1, many, false)).toBeLessThan(1);
  });

  it('is lower for an entry that was gone through and not tied', () => {
    expect(chanceOf(0.5, [], true)).toBeLessThan(chanceOf(0.5, [], false));
  });

  // Held out: none of the settings were chosen by these seeds (2 to 6 were used for that).
  it('can be believed: of hidden ties proposed again, nine in ten called sure are right, from either side', () => {
    const right = { sure: [0, 0], likely: [0, 0], guess: [0, 0] };
    for (const seed of [7, 8, 9]) {
      const hidden = withHiddenTies(seed);
      const { entries, headings } = hidden.journal.tables;
      const index = new WeaveIndex(hidden.journal, thesaurus);
      const count = (certainty: keyof typeof right, tie: string): void => {
        right[certainty][0]! += hidden.right(tie) ? 1 : 0;
        right[certainty][1]! += 1;
      };
      for (const heading of headings.keys())
        for (const { id, certainty } of proposeFor(index, heading as never, { limit: 500 }))
          count(certainty, `${id} ${heading}`);
      for (const entry of entries.keys())
        for (const { id, certainty } of proposeHeadingsFor(index, entry as never))
          count(certainty, `${entry} ${id}`);
    }
    const share = ([hits = 0, all = 0]: number[]): number => hits / all;
    expect(right.sure[1]).toBeGreaterThan(250);
    expect(share(right.sure)).toBeGreaterThanOrEqual(0.9);
    expect(share(right.likely)).toBeGreaterThan(LIKELY_FROM);
    expect(share(right.likely)).toBeLessThan(SURE_FROM);
    expect(share(right.guess)).toBeGreaterThan(GUESS_FROM);
    expect(share(right.guess)).toBeLessThan(LIKELY_FROM);
  }, 60_000);
});
