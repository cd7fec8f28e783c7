import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { HeldJournal } from '../../../src/engine/held-journal';
import { FindIndex } from '../../../src/find/find-index';
import { holdsPhrase, readQuery, withoutWord } from '../../../src/find/query';
import { readJournalFile } from '../../../src/journal/file';
import type {
  EntryId,
  GuideId,
  Heading,
  HeadingId,
  Journal,
  MeetingId,
} from '../../../src/journal/records';
import { plainText } from '../../../src/language/markdown';
import { stem } from '../../../src/language/stem';
import { fold, tokens } from '../../../src/language/tokens';

const NOW = '2026-01-05T12:00:00.000Z';
let journal: Journal;
let index: FindIndex;

function demo(): Journal {
  const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
  if (!read.ok) throw new Error(read.message);
  return read.journal;
}
const named = (name: string): Heading => {
  const found = [...journal.tables.headings.values()].find((one) => one.name === name);
  if (!found) throw new Error(name);
  return found;
};
const textOf = (id: EntryId): string => plainText(journal.tables.entries.get(id)!.text);
const words = (text: string): string[] => tokens(text).map((token) => token.folded);

beforeAll(() => {
  journal = demo();
  index = new FindIndex(journal);
});

describe('reading a query', () => {
  test('words, phrases and what is not wanted are told apart', () => {
    expect(readQuery('storm "wind and rain" -thrift')).toEqual({
      words: ['storm'],
      phrases: [['wind', 'and', 'rain']],
      excluded: ['thrift'],
      typed: ['storm'],
      sentence: false,
      unread: false,
    });
  });
  test('a word left out leaves the rest as it was typed', () => {
    expect(withoutWord('Courage, xyzzy?', 'xyzzy')).toBe('Courage,');
    expect(withoutWord('Café xyzzy', 'cafe')).toBe('xyzzy');
    expect(withoutWord('storm "the storm" -thrift', 'storm')).toBe('"the storm" -thrift');
    expect(withoutWord('well-worn book', 'well')).toBe('worn book');
    expect(withoutWord('mother-in-law', 'in')).toBe('mother- law');
  });
  test('a question or many words are a sentence, a few words are not', () => {
    expect(readQuery('Why did the fox come back?').sentence).toBe(true);
    expect(readQuery('storm thrift lamp harbour winter').sentence).toBe(true);
    expect(readQuery('storm and thrift').sentence).toBe(false);
    expect(readQuery('storm?').sentence).toBe(false);
  });
  test('small words are left out unless there is nothing else', () => {
    expect(readQuery('the storm of it').words).toEqual(['storm']);
    expect(readQuery('to be or not to be').words.length).toBeGreaterThan(0);
  });
  test('what is not wanted is not wanted whole, whatever stands in it', () => {
    for (const [text, word] of [
      ['lamp -3.5', '3.5'],
      ['lamp -e.g.', 'e.g'],
      ['lamp -brooch,', 'brooch'],
    ] as const) {
      expect(readQuery(text), text).toMatchObject({ words: ['lamp'], excluded: [word] });
    }
    expect(readQuery('lamp -e\u2011mail')).toMatchObject({
      words: ['lamp'],
      excludedPhrases: [['e', 'mail']],
    });
  });
  test('marks or pictures alone find nothing, and what only begins a phrase does not yet narrow', () => {
    for (const text of ['???', '😀', '. . .']) expect(index.find({ text }, NOW).total).toBe(0);
    for (const text of ['', '  ', '"', '-', '“ '])
      expect(index.find({ text }, NOW).total).toBe(journal.tables.entries.size);
    expect(index.find({ text: '-storm' }, NOW).total).toBeGreaterThan(0);
  });
  test('a hyphen inside a word is not a minus, and an unclosed mark is no phrase', () => {
    expect(readQuery('well-worn "tale').excluded).toEqual([]);
    expect(readQuery('well-worn "tale').phrases).toEqual([]);
  });
  test('the last word is a beginning only while it is typed', () => {
    expect(readQuery('storm cour', true).prefix).toBe('cour');
    expect(readQuery('storm cour ', true).prefix).toBeUndefined();
    expect(readQuery('storm cour').prefix).toBeUndefined();
  });
});

describe('finding in the demo journal', () => {
  test('every word of the answer’s first tier stands in the entry in some form', () => {
    const found = index.find({ text: 'garden', onlyMyWords: true, limit: 1000 }, NOW);
    expect(found.total).toBeGreaterThan(3);
    for (const hit of found.hits) {
      const entry = journal.tables.entries.get(hit.id)!;
      const names = entry.ties
        .map((tie) => journal.tables.headings.get(tie.heading)!)
        .flatMap((one) => [one.name, ...one.alternates]);
      const all = [
        textOf(hit.id),
        entry.title,
        entry.answer,
        ...(entry.probes ?? []),
        entry.source?.note,
        JSON.stringify(entry.lesson ?? {}),
        ...names,
      ].join('\n');
      expect(words(all)).toContain('garden');
    }
  });

  test('marks lie on words that answer what was typed', () => {
    const found = index.find({ text: 'garden secrets', limit: 1000 }, NOW);
    let seen = 0;
    for (const hit of found.hits) {
      const text = textOf(hit.id);
      for (const [start, end] of hit.marks) {
        seen += 1;
        expect(['garden', 'secret']).toContain(stem(text.slice(start, end)));
      }
    }
    expect(seen).toBeGreaterThan(0);
  });

  test('a phrase finds only texts that hold it, and a minus none that hold the word', () => {
    const some = [...journal.tables.entries.values()].slice(0, 40);
    for (const entry of some) {
      const run = tokens(plainText(entry.text)).slice(2, 5);
      if (run.length < 3) continue;
      const phrase = run.map((token) => token.folded);
      const found = index.find(
        { text: `"${run.map((token) => token.text).join(' ')}"`, limit: 1000 },
        NOW,
      );
      expect(found.hits.map((hit) => hit.id)).toContain(entry.id);
      for (const hit of found.hits) {
        const held = journal.tables.entries.get(hit.id)!;
        expect(holdsPhrase(words(`${held.title ?? ''}\n${textOf(hit.id)}`), phrase)).toBe(true);
      }
    }
    const without = index.find({ text: 'garden -mary', limit: 1000 }, NOW);
    expect(without.total).toBeGreaterThan(0);
    for (const hit of without.hits) expect(words(textOf(hit.id))).not.toContain('mary');
  });

  test('a slip of the pen finds the word, and says how it was read', () => {
    const found = index.find({ text: 'courrage', limit: 5 }, NOW);
    expect(found.total).toBeGreaterThan(0);
    expect(found.alsoLookedFor).toContainEqual({ word: 'courage', near: 'courrage', how: 'typo' });
    expect(index.find({ text: 'courrage', onlyMyWords: true }, NOW).total).toBe(0);
  });

  test('a word still being typed finds what it begins', () => {
    const whole = index
      .find({ text: 'garden', limit: 1000 }, NOW)
      .hits.filter((hit) => hit.marks.length > 0);
    const begun = new Set(
      index.find({ text: 'gard', typing: true, limit: 1000 }, NOW).hits.map((hit) => hit.id),
    );
    expect(whole.length).toBeGreaterThan(0);
    for (const hit of whole) expect(begun).toContain(hit.id);
  });

  test('another name of a theme brings what is tied to it, after what has the word', () => {
    const found = index.find({ text: 'bravery', limit: 1000 }, NOW);
    const courage = named('Courage').id;
    const tied = found.hits.filter((hit) =>
      journal.tables.entries.get(hit.id)!.ties.some((tie) => tie.heading === courage),
    );
    expect(tied.length).toBeGreaterThan(0);
    expect(found.alsoLookedFor.map((one) => one.word)).toContain('Courage');
  });

  test('each facet count is what choosing that value finds', () => {
    const base = index.find({ text: '' }, NOW);
    for (const [kind, count] of Object.entries(base.facets.kind)) {
      expect(index.find({ text: '', kinds: [kind as 'note'] }, NOW).total).toBe(count);
    }
    for (const [theme, count] of Object.entries(base.facets.theme)) {
      expect(index.find({ text: '', themes: [theme as HeadingId] }, NOW).total).toBe(count);
    }
    for (const [book, count] of Object.entries(base.facets.book)) {
      expect(index.find({ text: '', books: [book as HeadingId] }, NOW).total).toBe(count);
    }
    const { use } = base.facets;
    expect(use.never + use.used).toBe(base.total);
    expect(index.find({ text: '', use: { never: true } }, NOW).total).toBe(use.never);
    expect(index.find({ text: '', use: { restedMonths: 24 } }, NOW).total).toBe(use.rested2y);
    for (const [circle, count] of Object.entries(use.notWith)) {
      expect(index.find({ text: '', use: { unusedWith: circle as never } }, NOW).total).toBe(count);
    }
  });

  test.each([1, 2, 3, 7])(
    'of a long row only the %i most counted are told, and how many there are',
    (most) => {
      const whole = index.find({ text: '' }, NOW).facets;
      const few = index.find({ text: '', facetValues: most }, NOW).facets;
      for (const row of ['theme', 'book', 'person'] as const) {
        const [all, told]: Record<string, number>[] = [whole[row], few[row]];
        const counts = Object.values(all!).sort((a, b) => b - a);
        expect(counts.length).toBeGreaterThan(most);
        expect(Object.values(told!).sort((a, b) => b - a)).toEqual(counts.slice(0, most));
        for (const [id, count] of Object.entries(told!)) expect(all![id]).toBe(count);
        expect([whole.values[row], few.values[row]]).toEqual([counts.length, counts.length]);
      }
    },
  );

  test('a span of years finds what may have been written in it', () => {
    const found = index.find({ text: '', from: '2012', to: '2013', limit: 1000 }, NOW);
    expect(found.total).toBeGreaterThan(5);
    for (const hit of found.hits)
      expect(journal.tables.entries.get(hit.id)!.written).toMatch(/201[123X]/);
  });

  test('when nothing holds all words, it says how many each one less would find', () => {
    const found = index.find({ text: 'garden xyzzyplugh', onlyMyWords: true }, NOW);
    expect(found.total).toBe(0);
    const without = index.find({ text: 'garden' }, NOW).total;
    expect(found.loosen).toContainEqual({
      word: 'xyzzyplugh',
      without: index.find({ text: 'garden', onlyMyWords: true }, NOW).total,
      text: 'garden',
    });
    expect(without).toBeGreaterThan(0);
  });

  test('where leaving out one word does not help, each is told alone', () => {
    const found = index.find({ text: 'garden xyzzyplugh qwxyz -winter', onlyMyWords: true }, NOW);
    const garden = index.find({ text: 'garden -winter', onlyMyWords: true }, NOW).total;
    expect(garden).toBeGreaterThan(0);
    expect(found.loosen.filter(({ without }) => without > 0)).toEqual([
      { word: 'garden', alone: true, without: garden, text: 'garden -winter' },
    ]);
  });

  test('a phrase may be left out as a word may', () => {
    const found = index.find({ text: '"xyzzyplugh" -winter "garden"' }, NOW);
    expect(found.total).toBe(0);
    const garden = index.find({ text: '-winter "garden"' }, NOW).total;
    expect(garden).toBeGreaterThan(0);
    expect(found.loosen).toEqual([
      { word: 'xyzzyplugh', without: garden, text: '-winter "garden"' },
      { word: 'garden', without: 0, text: '"xyzzyplugh" -winter' },
    ]);
    const beside = index.find({ text: 'garden “xyzzyplugh of it”, river' }, NOW);
    expect(beside.loosen).toContainEqual({
      word: 'xyzzyplugh of it',
      without: index.find({ text: 'garden river' }, NOW).total,
      text: 'garden river',
    });
  });

  test('what can be left out is called as it was typed', () => {
    const found = index.find({ text: 'Gärden “Xyzzyplugh, of IT” QWXYZ' }, NOW);
    expect(new Set(found.loosen.map(({ word }) => word))).toEqual(
      new Set(['Gärden', 'Xyzzyplugh, of IT', 'QWXYZ']),
    );
  });

  test('a heading called just what was typed stands first, before those with more to their names', () => {
    const first = (text: string): string =>
      journal.tables.headings.get(index.find({ text }, NOW).headings[0]!.id)!.name;
    expect(first('Frankenstein')).toBe('Frankenstein');
    expect(first('victor')).toBe('Victor Frankenstein');
  });

  test('headings, guides and meetings answer to their names', () => {
    const found = index.find({ text: 'secret garden' }, NOW);
    expect(found.headings.map(({ id }) => journal.tables.headings.get(id)!.name)).toContain(
      'The Secret Garden',
    );
    const guide = [...journal.tables.guides.values()][0]!;
    expect(index.find({ text: guide.title }, NOW).guides).toContain(guide.id);
    expect(index.find({ text: 'harbour lane' }, NOW).meetings.length).toBeGreaterThan(0);
  });

  test('the newest guides are named first, and many headings', () => {
    const own = demo();
    const { guides, headings } = own.tables;
    const [one] = guides.values();
    for (const [at, made] of ['2024', '2026', '2025'].entries())
      guides.set(`g${at}` as GuideId, {
        ...one!,
        id: `g${at}` as GuideId,
        title: 'A zebra walks',
        made: `${made}-01-01T00:00:00.000Z`,
      });
    for (let at = 0; at < 60; at += 1)
      headings.set(`h${at}` as HeadingId, {
        ...named('The Secret Garden'),
        id: `h${at}` as HeadingId,
        name: `Zebra ${at}`,
      });
    const found = new FindIndex(own).find({ text: 'zebra' }, NOW);
    expect(found.guides).toEqual(['g1', 'g2', 'g0']);
    expect(found.headings).toHaveLength(50);
  });

  test('an order by place goes forward through each book', () => {
    const book = named('The Secret Garden').id;
    const found = index.find({ text: '', books: [book], order: 'place', limit: 1000 }, NOW);
    const places = found.hits
      .map((hit) =>
        journal.tables.entries
          .get(hit.id)!
          .ties.find((tie) => journal.tables.headings.get(tie.heading)?.kind === 'book')!,
      )
      .filter((tie) => tie.heading === book && tie.place?.chapter)
      .map((tie) => Number(tie.place!.chapter));
    expect(places.length).toBeGreaterThan(3);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });
});

describe('following edits', () => {
  test('any order of putting and removing gives the answers of an index built anew', () => {
    const queries = ['garden', 'courage storm', '"the river"', 'mary -garden', 'cour', 'reding'];
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            at: fc.nat(),
            gone: fc.boolean(),
            more: fc.constantFrom('', ' A garden in a storm.', ' Courage, said Mary.'),
          }),
          { maxLength: 40 },
        ),
        (steps) => {
          const own = demo();
          const ids = [...own.tables.entries.keys()].slice(0, 60);
          for (const id of [...own.tables.entries.keys()].slice(60)) own.tables.entries.delete(id);
          const live = new FindIndex(own);
          for (const { at, gone, more } of steps) {
            const id = ids[at % ids.length]! as EntryId;
            const held = own.tables.entries.get(id);
            if (gone) {
              own.tables.entries.delete(id);
              live.remove(id);
            } else if (held) {
              const next = { ...held, text: held.text + more };
              own.tables.entries.set(id, next);
              live.put(next);
            }
          }
          const fresh = new FindIndex(own);
          for (const text of queries) {
            const told = (found: ReturnType<FindIndex['find']>): unknown => ({
              total: found.total,
              facets: found.facets,
              hits: found.hits.map(({ id, score, why, marks }) => ({
                id,
                score: score.toFixed(4),
                why,
                marks,
              })),
            });
            const query = { text, typing: text === 'cour', limit: 50 };
            expect(told(live.find(query, NOW))).toEqual(told(fresh.find(query, NOW)));
          }
        },
      ),
      { numRuns: 15 },
    );
  });

  test('a heading renamed is found under its new name, and not under the old', () => {
    const own = demo();
    const live = new FindIndex(own);
    const theme = [...own.tables.headings.values()].find((one) => one.name === 'Hospitality')!;
    const renamed = { ...theme, name: 'Zymurgy', alternates: [] };
    own.tables.headings.set(theme.id, renamed);
    live.putHeading(renamed);
    expect(live.find({ text: 'zymurgy', onlyMyWords: true }, NOW).total).toBeGreaterThan(0);
    const old = live.find({ text: 'hospitality', onlyMyWords: true, limit: 1000 }, NOW).hits;
    for (const hit of old)
      expect(fold(JSON.stringify(own.tables.entries.get(hit.id)))).toContain('hospitality');
  });

  test('what was used follows meetings that are added and taken out', () => {
    const engine = new HeldJournal(demo(), { now: () => new Date(NOW), newId: () => 'x' });
    const never = (): number => engine.find({ text: '', use: { never: true } }).total;
    const before = never();
    const [hit] = engine.find({ text: '', use: { never: true }, limit: 1 }).hits;
    const [circle] = [...engine.journal.tables.circles.values()];
    const id = '0190a000-0000-7000-8000-00000000000a' as MeetingId;
    const items = [{ entry: hit!.id, used: true }];
    const after = { id, circle: circle!.id, on: '2025-03-01', items };
    const change = { table: 'meetings' as const, id, after };
    expect(engine.apply({ does: 'Met', changes: [change] }).ok).toBe(true);
    expect(never()).toBe(before - 1);
    expect(engine.find({ text: '' }).facets.use.never).toBe(before - 1);
    expect(engine.undo().ok).toBe(true);
    expect(never()).toBe(before);
  });
});
