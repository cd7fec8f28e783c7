import { beforeAll, describe, expect, test } from 'vitest';
import { FindIndex } from '../../../src/find/find-index';
import { readQuery } from '../../../src/find/query';
import { loadRelatedWords, type RelatedWords } from '../../../src/language/related-words';
import { plainText } from '../../../src/language/markdown';
import { stem } from '../../../src/language/stem';
import { tokens } from '../../../src/language/tokens';
import { goldNotes, goldThemes } from '../../bench/judge/gold';
import { journalOf, noteOf } from '../../bench/judge/journals';

const NOW = '2026-01-05T12:00:00.000Z';
let thesaurus: RelatedWords;
beforeAll(async () => {
  thesaurus = await loadRelatedWords();
});
const wordsOf = (text: string): string[] => tokens(plainText(text)).map(({ folded }) => folded);
const notes = (): ReturnType<typeof journalOf> =>
  journalOf(goldNotes.map(({ id, text }) => noteOf(id, text)));

describe('words near a typed one in meaning', () => {
  test('courage also brings bravery, after all that has the word, and says so', () => {
    const found = new FindIndex(notes(), thesaurus).find({ text: 'courage', limit: 100 }, NOW);
    const brave = found.hits.find(({ why }) => why.some(({ word }) => word === 'bravery'));
    expect(brave?.why).toContainEqual({
      word: 'bravery',
      how: 'related',
      of: 'courage',
      field: 'text',
    });
    expect(brave?.related).toBe(true);
    expect(found.alsoLookedFor).toContainEqual({
      word: 'bravery',
      near: 'courage',
      how: 'related',
    });
    expect(found.byWords).toBe(found.hits.filter(({ related }) => !related).length);
    const order = found.hits.map(({ related }) => related);
    expect(order).toEqual([...order].sort((a, b) => Number(a) - Number(b)));
  });

  test('what else was looked for is told in one form of each word', () => {
    const index = new FindIndex(notes(), thesaurus);
    const forms = goldThemes.flatMap((theme) =>
      index
        .find({ text: theme }, NOW)
        .alsoLookedFor.filter(({ how }) => how === 'related')
        .map(({ word, near }) => `${near} ${stem(word)}`),
    );
    expect(forms.length).toBeGreaterThan(50);
    expect(new Set(forms).size).toBe(forms.length);
  });

  test('every reason is true of the entry, and every related word stands in the thesaurus', () => {
    const journal = notes();
    const index = new FindIndex(journal, thesaurus);
    let told = 0;
    for (const theme of goldThemes) {
      const { hits } = index.find({ text: theme, limit: 300 }, NOW);
      const asked = readQuery(theme).words;
      for (const { id, why, related } of hits) {
        const held = wordsOf(journal.tables.entries.get(id)!.text);
        const inFull = asked.every((word) => held.some((one) => stem(one) === stem(word)));
        const answered = asked.every((word) =>
          why.some((one) => one.how !== 'related' && (one.of ?? wordsOf(one.word)[0]) === word),
        );
        expect(related).toBe(!answered);
        if (related) expect(inFull).toBe(false);
        expect(why.length).toBeGreaterThan(0);
        for (const one of why) {
          const [word] = wordsOf(one.word);
          expect(held).toContain(word);
          if (one.how !== 'related') continue;
          told += 1;
          expect(asked).toContain(one.of);
          const near = thesaurus.of(one.of!).map((other) => stem(other.word));
          expect(near, `${one.word} near ${one.of}`).toContain(stem(word!));
        }
      }
    }
    expect(told).toBeGreaterThan(50);
  });

  test('only my words, a sentence and no thesaurus bring none', () => {
    const index = new FindIndex(notes(), thesaurus);
    const related = (found: ReturnType<typeof index.find>): number =>
      found.hits.filter((hit) => hit.related).length;
    expect(related(index.find({ text: 'courage', onlyMyWords: true }, NOW))).toBe(0);
    const asked = index.find({ text: 'Why does courage come and go?', limit: 300 }, NOW);
    expect(asked.hits.some(({ why }) => why.some(({ how }) => how === 'related'))).toBe(false);
    expect(related(new FindIndex(notes()).find({ text: 'courage' }, NOW))).toBe(0);
  });
});
