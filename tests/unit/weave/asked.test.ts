import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { aroundView } from '../../../src/engine/around';
import { Engine } from '../../../src/engine/engine';
import { gapsView } from '../../../src/engine/gaps';
import { journalMap, mapEntries, mapHits } from '../../../src/engine/journal-map';
import { strandAsTheme, themeOf } from '../../../src/engine/making-themes';
import { strandsNow } from '../../../src/engine/strands-held';
import type { GapKind } from '../../../src/engine/weave-answers';
import { readJournalFile, writeJournalFile } from '../../../src/journal/file';
import type { EntryId, HeadingId, Journal } from '../../../src/journal/records';
import { entriesTiedTo, usesOf } from '../../../src/journal/uses';
import { forcePlaces } from '../../../src/weave/force';
import { book, entry, journalOf, theme, tieTo } from '../journal/few';

let next = 0;
const engineOver = (journal: Journal): Engine =>
  new Engine(journal, {
    now: () => new Date('2026-11-25T12:00:00Z'),
    newId: () => `made${next++}`,
  });

function harbourLane(): Journal {
  const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
  if (!read.ok) throw new Error(read.message);
  return read.journal;
}

describe('gaps', () => {
  const of = (journal: Journal, gap: GapKind): string[] =>
    gapsView(engineOver(journal))
      .lists.find((list) => list.gap === gap)!
      .rows.map(({ id }) => id);
  const tied = (id: string, kind: 'note' | 'quote' | 'question' | 'lesson', ...to: string[]) =>
    entry(id, { kind, ties: to.map((heading) => tieTo(heading)) });

  it('are themes without a lesson idea, books without a question, and headings tied once', () => {
    const journal = journalOf(
      ...[theme('t'), theme('u'), theme('once'), book('b'), book('c')],
      ...[tied('1', 'note', 't', 'b'), tied('2', 'note', 't', 'b'), tied('3', 'lesson', 'u', 'c')],
      ...[tied('4', 'question', 'u', 'c'), tied('5', 'note', 'once', 'c')],
    );
    expect(of(journal, 'theme-lesson')).toEqual(['t']);
    expect(of(journal, 'book-question')).toEqual(['b']);
    expect(of(journal, 'tied-once')).toEqual(['once']);
  });

  it('are questions that only ask to remember and understand, where their levels are known', () => {
    const ask = (id: string, to: string, level?: 'remember' | 'understand' | 'analyse') =>
      entry(id, { kind: 'question', ties: [tieTo(to)], ...(level ? { level } : {}) });
    const journal = journalOf(
      ...[theme('low'), theme('high'), theme('unknown')],
      ...[ask('1', 'low', 'remember'), ask('2', 'low', 'understand'), ask('3', 'low', 'remember')],
      ...[ask('4', 'high', 'remember'), ask('5', 'high', 'analyse'), ask('6', 'high', 'remember')],
      ...[ask('7', 'unknown'), ask('8', 'unknown', 'remember'), ask('9', 'unknown', 'remember')],
    );
    expect(of(journal, 'low-questions')).toEqual(['low']);
  });

  it('are each filled by the entry they begin: it is gone once that is kept', () => {
    const journal = harbourLane();
    const engine = engineOver(journal);
    for (const { gap, rows } of gapsView(engine).lists) {
      const [row] = rows;
      if (!row || gap === 'quote-unused') continue;
      const level = gap === 'low-questions' ? { level: 'evaluate' as const } : {};
      const filled = entry(`fills-${gap}`, { ...row.fill, ...level });
      const change = { table: 'entries', id: filled.id, after: filled } as const;
      expect(engine.apply({ does: 'Fill', changes: [change] }).ok).toBe(true);
      const after = gapsView(engine, 10_000).lists.find((list) => list.gap === gap)!;
      expect(after.rows.map(({ id }) => id)).not.toContain(row.id);
    }
  });

  it('count quotes never used exactly', () => {
    const journal = harbourLane();
    const never = [...journal.tables.entries.values()].filter(
      ({ kind, id }) => kind === 'quote' && usesOf(journal, id).times === 0,
    );
    const list = gapsView(engineOver(journal)).lists.find(({ gap }) => gap === 'quote-unused')!;
    expect(list.total).toBe(never.length);
  });
});

describe('what stands around a thing', () => {
  const journal = harbourLane();
  const engine = engineOver(journal);
  const large = [...journal.tables.headings.values()]
    .filter(({ kind }) => kind === 'theme')
    .sort((a, b) => entriesTiedTo(journal, b.id).size - entriesTiedTo(journal, a.id).size)[0]!.id;

  it('is joined to it by entries they really share', () => {
    const view = aroundView(engine, { roots: [large], kinds: ['book', 'theme', 'person'] });
    expect(view.nodes[0]).toMatchObject({ id: large, step: 0 });
    const mine = entriesTiedTo(journal, large);
    for (const node of view.nodes.slice(1)) {
      const link = view.links.find(({ from, to }) => from === large && to === node.id)!;
      const both = [...entriesTiedTo(journal, node.id as HeadingId)].filter((id) => mine.has(id));
      if (link.proposed) expect(both).toEqual([]);
      else expect(node.shared).toBe(both.length);
    }
  });

  it('grows when something is opened, and is the same again after stepping back', () => {
    const ask = { roots: [large], kinds: ['book', 'theme', 'person'] as const };
    const first = aroundView(engine, { ...ask, kinds: [...ask.kinds] });
    const opened = first.nodes[1]!.id;
    const more = aroundView(engine, { ...ask, kinds: [...ask.kinds], opened: [opened] });
    expect(more.nodes.length).toBeGreaterThan(first.nodes.length);
    expect(aroundView(engine, { ...ask, kinds: [...ask.kinds] })).toEqual(first);
  });

  it('leaves out what is taken off and kinds, roles and times not asked for', () => {
    const all = aroundView(engine, { roots: [large] });
    const off = all.nodes[1]!.id;
    const without = aroundView(engine, { roots: [large], pruned: [off] });
    expect(without.nodes.map(({ id }) => id)).not.toContain(off);
    const books = aroundView(engine, { roots: [large], kinds: ['book'] }).nodes.slice(1);
    expect(new Set(books.map(({ kind }) => kind))).toEqual(new Set(['book']));
    const never = aroundView(engine, {
      roots: [large],
      span: { from: '1700-01-01', to: '1700-12-31' },
    });
    // Relations between headings have no date.
    expect(never.links.filter(({ says }) => /in common|tied/.test(says))).toEqual([]);
    const about = [...entriesTiedTo(journal, large)].filter((id) => {
      const one = journal.tables.entries.get(id)!;
      const held = one.ties.some(({ heading, role }) => heading === large && role === 'about');
      return one.kind === 'note' && held;
    });
    const notes = aroundView(engine, {
      roots: [large],
      roles: ['about'],
      kinds: ['note'],
      each: 500,
    });
    const tied = notes.links.filter(({ proposed }) => !proposed).map(({ to }) => to);
    expect(tied.sort()).toEqual([...about].sort());
  });
});

describe('the whole journal as a map', () => {
  const journal = harbourLane();
  const engine = engineOver(journal);
  const map = journalMap(engine);

  it('has every entry and every heading with entries once', () => {
    expect(map.kinds).toHaveLength(journal.tables.entries.size);
    expect(map.regions.reduce((sum, { entries }) => sum + entries, 0)).toBe(
      journal.tables.entries.size,
    );
    const held = [...journal.tables.headings.keys()].filter(
      (id) => entriesTiedTo(journal, id as HeadingId).size > 0,
    );
    expect(map.headings.map(({ id }) => id as string).sort()).toEqual(held.sort());
  });

  it('tells entries by number, and where a search finds them', () => {
    const hits = mapHits(engine, 'storm');
    const rows = mapEntries(engine, map.made, hits.entries);
    const found = engine.find({ text: 'storm', limit: 5000 });
    expect(rows.map(({ id }) => id)).toEqual(found.hits.map(({ id }) => id));
    expect(mapEntries(engine, map.made - 1, [0])).toEqual([]);
  });
});

describe('a theme made of what was found', () => {
  it('is one edit with its ties, and one taking back', () => {
    const journal = harbourLane();
    const engine = engineOver(journal);
    const before = writeJournalFile(journal);
    const ids = [...journal.tables.entries.keys()].slice(0, 5) as EntryId[];
    const made = themeOf(engine, 'Salt and light', ids);
    if (!made.ok) throw new Error(made.said);
    expect(engine.apply(made.edit).ok).toBe(true);
    expect([...entriesTiedTo(journal, made.id)].sort()).toEqual([...ids].sort());
    expect(engine.undo().ok).toBe(true);
    expect(writeJournalFile(journal)).toBe(before);
  });

  it('ties to the theme of that name where there is one', () => {
    const journal = journalOf(theme('t', { name: 'Courage' }), entry('a'));
    const made = themeOf(engineOver(journal), 'courage', ['a' as EntryId]);
    expect(made).toMatchObject({ ok: true, id: 't' });
  });

  it('needs a name and an entry', () => {
    const engine = engineOver(journalOf(entry('a')));
    expect(themeOf(engine, ' ', ['a' as EntryId])).toMatchObject({ ok: false, code: 'no-name' });
    expect(themeOf(engine, 'Salt', [])).toMatchObject({ ok: false, code: 'no-entries' });
  });

  it('may be a whole strand', () => {
    const engine = engineOver(harbourLane());
    const [strand] = strandsNow(engine).strands;
    const made = strandAsTheme(engine, strand!.id, strand!.name);
    if (!made.ok) throw new Error(made.said);
    engine.apply(made.edit);
    expect(entriesTiedTo(engine.journal, made.id).size).toBe(strand!.entries);
  });
});

describe('places by forces', () => {
  it('are the same from the same beginning, and no two nodes in one', () => {
    const nodes = Array.from({ length: 80 }, (_, at) => ({
      id: `n${at}`,
      x: 100 * Math.cos(at),
      y: 100 * Math.sin(at),
    }));
    const links = nodes.slice(1).map(({ id }, at) => ({ from: `n${at >> 1}`, to: id, weight: 1 }));
    const [one, two] = [forcePlaces({ nodes, links }, 60), forcePlaces({ nodes, links }, 60)];
    expect([...one]).toEqual([...two]);
    const places = new Set([...one.values()].map(({ x, y }) => `${x.toFixed(1)} ${y.toFixed(1)}`));
    expect(places.size).toBe(nodes.length);
  });
});
