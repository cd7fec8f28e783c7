import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { chainsView } from '../../../src/engine/chains';
import { Engine } from '../../../src/engine/engine';
import { readJournalFile } from '../../../src/journal/file';
import type { Journal } from '../../../src/journal/records';
import { chains, reachedFrom } from '../../../src/weave/chain';
import { WeaveIndex } from '../../../src/weave/weave-index';
import { book, entry, journalOf, person, theme, tieTo } from '../journal/few';

const about = (id: string, ...headings: string[]): ReturnType<typeof entry> =>
  entry(id, { ties: headings.map((heading) => tieTo(heading)) });
const engineOver = (journal: Journal): Engine =>
  new Engine(journal, { now: () => new Date('2026-11-25T12:00:00Z'), newId: () => 'new' });
const waysOf = (journal: Journal, from: string, to: string): string[][] =>
  chains(new WeaveIndex(journal), from, to).map(({ steps }) => steps.map(({ id }) => id));

describe('several chains', () => {
  it('go different ways, the shortest first', () => {
    const journal = journalOf(
      ...[book('b'), book('c'), theme('t'), theme('u'), theme('v')],
      ...[about('e1', 'b', 't'), about('e2', 't', 'c')],
      ...[about('e3', 'b', 'u'), about('e4', 'u', 'v'), about('e5', 'v', 'c')],
    );
    expect(waysOf(journal, 'b', 'c')).toEqual([
      ['b', 'e1', 't', 'e2', 'c'],
      ['b', 'e3', 'u', 'e4', 'v', 'e5', 'c'],
    ]);
  });

  it('do not count another entry between the same headings as another way', () => {
    const journal = journalOf(
      ...[book('b'), book('c'), theme('t')],
      ...[about('e1', 'b', 't'), about('e2', 'b', 't'), about('e3', 't', 'c')],
    );
    expect(waysOf(journal, 'b', 'c')).toHaveLength(1);
  });

  it('are told apart by their entries where no heading lies between', () => {
    const journal = journalOf(book('b'), theme('t'), about('e1', 'b', 't'), about('e2', 'b', 't'));
    expect(waysOf(journal, 'b', 't').sort()).toEqual([
      ['b', 'e1', 't'],
      ['b', 'e2', 't'],
    ]);
  });

  it('are six at most, and each really leads from tie to tie', () => {
    const themes = Array.from({ length: 9 }, (_, at) => `t${at}`);
    const journal = journalOf(
      ...[book('b'), book('c'), ...themes.map((id) => theme(id))],
      ...themes.flatMap((id) => [about(`x${id}`, 'b', id), about(`y${id}`, id, 'c')]),
    );
    const ways = waysOf(journal, 'b', 'c');
    expect(ways).toHaveLength(6);
    expect(new Set(ways.map((way) => way[2])).size).toBe(6);
    for (const way of ways) {
      way.slice(1).forEach((id, at) => {
        const pair = [way[at]!, id];
        const one = pair.map((each) => journal.tables.entries.get(each as never)).find(Boolean)!;
        expect(one.ties.map(({ heading }) => heading as string)).toContain(
          pair.find((each) => each !== one.id),
        );
      });
    }
  });
});

describe('what nothing joins', () => {
  it('is said with what comes nearest, and why', () => {
    const journal = journalOf(
      ...[theme('t', { name: 'Storms' }), theme('u', { name: 'Bread' })],
      entry('a', { text: 'The storm tore the sails off the schooner', ties: [tieTo('t')] }),
      entry('b', {
        text: 'Sails hung in shreds after the storm, said the schooner’s boy',
        ties: [],
      }),
      entry('c', { text: 'A loaf needs patience', ties: [tieTo('u')] }),
    );
    const view = chainsView(engineOver(journal), 'b', 't');
    expect(view.chains).toEqual([]);
    expect(view.miss?.here.id).toBe('b');
    expect(view.miss?.there.id).toBe('a');
    expect(view.miss?.reasons.join(' ')).toMatch(/storm|sails|schooner/i);
  });

  it('is said plainly where nothing is even near', () => {
    const journal = journalOf(theme('t'), person('p'), about('a', 't'));
    const view = chainsView(engineOver(journal), 'p', 't');
    expect(view).toMatchObject({ from: { id: 'p' }, to: { id: 't' }, chains: [] });
    expect(view.miss).toBeUndefined();
  });

  it('reaches along ties and relations, and no farther', () => {
    const journal = journalOf(
      ...[theme('t', { broader: ['u' as never] }), theme('u'), theme('w')],
      about('a', 't'),
      about('z', 'w'),
    );
    expect([...reachedFrom(new WeaveIndex(journal), 'a')].sort()).toEqual(['a', 't', 'u']);
  });
});

describe('chains through Harbour Lane', () => {
  it('are told in words between two books', () => {
    const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
    if (!read.ok) throw new Error(read.message);
    const called = (name: RegExp): string =>
      [...read.journal.tables.headings.values()].find((one) => name.test(one.name))!.id;
    const view = chainsView(
      engineOver(read.journal),
      called(/^The Secret Garden/),
      called(/^Frankenstein/),
    );
    expect(view.chains.length).toBeGreaterThan(1);
    for (const { steps } of view.chains) {
      expect(steps[0]?.via).toBeUndefined();
      for (const step of steps.slice(1)) expect(step.via).toBeTruthy();
      expect(steps.every(({ text }) => text.length > 0)).toBe(true);
    }
  });
});
