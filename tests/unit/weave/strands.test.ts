import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readJournalFile } from '../../../src/journal/file';
import type { Entry, HeadingId, Journal } from '../../../src/journal/records';
import { strands, type Strands } from '../../../src/weave/strands';
import { WeaveIndex } from '../../../src/weave/weave-index';
import { normalisedMutualInformation, tableOf } from '../../outside/clustering-measures';
import { entry, journalOf, theme, tieTo } from '../journal/few';

const of = (journal: Journal, previous?: Strands): Strands =>
  strands(new WeaveIndex(journal), { seed: 1706, previous });

function demo(): Journal {
  const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
  if (!read.ok) throw new Error(read.message);
  return read.journal;
}

const sea = ['The storm at sea', 'A storm, and the tide', 'The sea and the tide', 'Out to sea'];
const bread = ['Bread and ovens', 'The oven and the dough', 'Dough for bread', 'Ovens'];
const rows = (texts: string[], heading: string): Entry[] =>
  texts.map((text, at) => entry(`${heading}${at}`, { text, ties: [tieTo(heading)] }));
const two = (): Journal =>
  journalOf(
    ...[theme('s', { name: 'Weather' }), theme('b', { name: 'Baking' })],
    ...[...rows(sea, 's'), ...rows(bread, 'b'), entry('alone')],
  );

describe('strands', () => {
  it('are what hangs together, named by its headings, with its own words as they stand', () => {
    const found = of(two());
    expect(
      found.strands.map(({ name, entries, headings }) => [name, entries.length, headings]),
    ).toEqual([
      ['Baking', 4, ['b']],
      ['Weather', 4, ['s']],
    ]);
    expect(found.modularity).toBeCloseTo(0.5, 12);
    expect(found.strands.map(({ cohesion }) => cohesion)).toEqual([1, 1]);
    expect(found.strands[1]?.words.slice(0, 3).sort()).toEqual(['sea', 'storm', 'tide']);
  });

  it('are known again by the headings most central to them, before any last run', () => {
    const index = new WeaveIndex(two());
    const previous = strands(index, { seed: 1706 });
    const known = [
      { id: 'mine', headings: ['s', 'gone'] as HeadingId[] },
      { id: 'faint', headings: ['b', 'gone', 'lost'] as HeadingId[] },
    ];
    const found = strands(index, { seed: 1706, previous, known }).strands;
    const ids = Object.fromEntries(found.map(({ id, name }) => [name, id]));
    expect(ids).toEqual({ Weather: 'mine', Baking: 'strand-b' });
  });

  it('leave out what is tied to nothing, and are none in an empty journal', () => {
    expect(of(two()).strands.flatMap(({ entries }) => entries)).not.toContain('alone');
    expect(of(journalOf())).toEqual({ modularity: 0, strands: [] });
  });

  it('are the same whatever order the rows came in', () => {
    const journal = demo();
    const turned = demo();
    for (const table of ['entries', 'headings'] as const) {
      const reversed = [...turned.tables[table].entries()].reverse() as never;
      turned.tables[table] = new Map(reversed) as never;
    }
    expect(of(turned)).toEqual(of(journal));
  });

  it('have names of their own, hold each entry once and are named by headings they hold', () => {
    const { strands: found, modularity } = of(demo());
    expect(new Set(found.map(({ name }) => name)).size).toBe(found.length);
    expect(new Set(found.map(({ id }) => id)).size).toBe(found.length);
    const all = found.flatMap(({ entries }) => entries);
    expect(new Set(all).size).toBe(all.length);
    expect(modularity).toBeGreaterThan(0.3);
    for (const { cohesion, words } of found) {
      expect(cohesion).toBeGreaterThan(0.3);
      expect(words.length).toBeGreaterThan(2);
    }
  });

  it('stay, ids and all, when a few entries are added after the last run', () => {
    const journal = demo();
    const before = of(journal);
    const headings = [...journal.tables.headings.values()].filter(({ kind }) => kind === 'theme');
    for (let at = 0; at < 20; at++) {
      const ties = [
        tieTo(headings[at % headings.length]!.id),
        tieTo(headings[(at * 7 + 3) % headings.length]!.id),
      ];
      journal.tables.entries.set(`new${at}`, entry(`new${at}`, { ties }));
    }
    const after = of(journal, before);
    const idIn = (run: Strands): Map<string, string> =>
      new Map(run.strands.flatMap(({ id, entries }) => entries.map((each) => [each, id])));
    const [was, is] = [idIn(before), idIn(after)];
    const common = [...was.keys()].filter((id) => is.has(id));
    const stayed = common.filter((id) => was.get(id) === is.get(id)).length;
    expect(stayed / common.length).toBeGreaterThan(0.92);
    const agreement = tableOf(
      common.map((id) => was.get(id)),
      common.map((id) => is.get(id)),
    );
    expect(normalisedMutualInformation(agreement)).toBeGreaterThan(0.9);
  });

  it('change nothing when nothing changed', () => {
    const journal = demo();
    const before = of(journal);
    const after = of(journal, before);
    expect(after.strands.map(({ id, entries }) => [id, entries])).toEqual(
      before.strands.map(({ id, entries }) => [id, entries]),
    );
  });
});
