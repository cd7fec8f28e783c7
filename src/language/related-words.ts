import type file from '../../shared/thesaurus/related-words.json';

/** A word near another, 0 to 1. */
interface RelatedWord {
  word: string;
  weight: number;
}

/**
 * Words in order of the alphabet, and for each its links: three letters of `DIGITS` a link, which say the number of the other word and one
 * of `LEVELS` weights, in equal proportions from the least to the most. Written for size: the whole is to be loaded in a browser.
 */
export interface RelatedWordsFile {
  about: string;
  least: number;
  most: number;
  words: string;
  links: string;
}

/** Printable letters that JSON writes as they are, without the space. */
const DIGITS = Array.from({ length: 94 }, (_, at) => String.fromCharCode(33 + at))
  .filter((letter) => letter !== '"' && letter !== '\\')
  .join('');
const BASE = DIGITS.length;
const LEVELS = 26;
/** The weights that links of the thesaurus have. */
const USUAL = { least: 0.06, most: 1 };
type Range = typeof USUAL;

const weightAt = (level: number, { least, most }: Range): number =>
  least * (most / least) ** (level / (LEVELS - 1));
const levelOf = (weight: number, { least, most }: Range): number => {
  const level = ((LEVELS - 1) * Math.log(weight / least)) / Math.log(most / least);
  return Math.max(0, Math.min(LEVELS - 1, Math.round(level)));
};

const ABOUT =
  'Related words, built by `npm run thesaurus` from WordNet 3.1 and from nearness by Universal Sentence Encoder lite (Apache 2.0). WordNet 3.1 Copyright 2011 by Princeton University. All rights reserved. The licence stands in WORDNET-LICENSE.txt beside this file.';

/** Links by word, each list the nearest first. At most 29,900 words in all. */
export function writeRelatedWords(
  links: ReadonlyMap<string, readonly (readonly [word: string, weight: number])[]>,
  range: Range = USUAL,
): RelatedWordsFile {
  const words = [
    ...new Set([...links].flatMap(([word, list]) => [word, ...list.map(([other]) => other)])),
  ].sort();
  const numbers = new Map(words.map((word, at) => [word, at]));
  const written = words.map((word) =>
    (links.get(word) ?? [])
      .map(([other, weight]) => {
        const value = numbers.get(other)! * LEVELS + levelOf(weight, range);
        const digit = (at: number): string => DIGITS[Math.floor(value / BASE ** at) % BASE]!;
        return digit(2) + digit(1) + digit(0);
      })
      .join(''),
  );
  return { about: ABOUT, ...range, words: words.join(' '), links: written.join(' ') };
}

/** A thesaurus: which words are near a word, by their meanings as WordNet has them. */
export class RelatedWords {
  #range: Range;
  #words: string[];
  #links: string[];
  #numbers: Map<string, number>;
  #values = new Map([...DIGITS].map((digit, at) => [digit, at]));

  constructor(file: RelatedWordsFile) {
    this.#range = { least: file.least, most: file.most };
    this.#words = file.words.split(' ');
    this.#links = file.links.split(' ');
    this.#numbers = new Map(this.#words.map((word, at) => [word, at]));
  }

  /** Words near a folded word, nearest first; none for a word that is not known in this form. Other forms of it are not among them. */
  of(word: string): RelatedWord[] {
    const links = this.#links[this.#numbers.get(word) ?? -1] ?? '';
    return Array.from({ length: links.length / 3 }, (_, at): RelatedWord => {
      let value = 0;
      for (let step = 0; step < 3; step++)
        value = value * BASE + this.#values.get(links[3 * at + step]!)!;
      return {
        word: this.#words[Math.floor(value / LEVELS)]!,
        weight: weightAt(value % LEVELS, this.#range),
      };
    });
  }
}

let loading: Promise<RelatedWords> | undefined;

/** The thesaurus that is part of Bookweft, about one megabyte, fetched when first asked for and then kept. */
export function loadRelatedWords(): Promise<RelatedWords> {
  loading ??= import('../../shared/thesaurus/related-words.json').then(
    ({ default: held }: { default: typeof file }) => new RelatedWords(held),
  );
  return loading;
}
