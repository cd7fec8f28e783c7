import type file from '../../shared/thesaurus/related-words.json';

/** A word near another, 0 to 1. */
export interface RelatedWord {
  word: string;
  weight: number;
}

/**
 * Words in order of the alphabet, and for each its links: three letters of `DIGITS` a link, which say the number of the other word and one
 * of `LEVELS` weights. Written for size: the whole is to be loaded in a browser.
 */
export interface RelatedWordsFile {
  about: string;
  words: string;
  links: string;
}

/** Printable letters that JSON writes as they are, without the space. */
const DIGITS = Array.from({ length: 94 }, (_, at) => String.fromCharCode(33 + at))
  .filter((letter) => letter !== '"' && letter !== '\\')
  .join('');
const BASE = DIGITS.length;
/** Weights from the least upward, in equal proportions. */
const LEVELS = 16;
const LEAST = 0.06;
const MOST = 1;
const weightAt = (level: number): number => LEAST * (MOST / LEAST) ** (level / (LEVELS - 1));
const levelOf = (weight: number): number => {
  const level = ((LEVELS - 1) * Math.log(weight / LEAST)) / Math.log(MOST / LEAST);
  return Math.max(0, Math.min(LEVELS - 1, Math.round(level)));
};

const ABOUT =
  'Related words, built from WordNet 3.1 by `npm run thesaurus`. WordNet 3.1 Copyright 2011 by Princeton University. All rights reserved. The licence stands in WORDNET-LICENSE.txt beside this file.';

/** Links by word, each list the nearest first. At most 48,000 words in all. */
export function writeRelatedWords(
  links: ReadonlyMap<string, readonly (readonly [word: string, weight: number])[]>,
): RelatedWordsFile {
  const words = [
    ...new Set([...links].flatMap(([word, list]) => [word, ...list.map(([other]) => other)])),
  ].sort();
  const numbers = new Map(words.map((word, at) => [word, at]));
  const written = words.map((word) =>
    (links.get(word) ?? [])
      .map(([other, weight]) => {
        const value = numbers.get(other)! * LEVELS + levelOf(weight);
        const digit = (at: number): string => DIGITS[Math.floor(value / BASE ** at) % BASE]!;
        return digit(2) + digit(1) + digit(0);
      })
      .join(''),
  );
  return { about: ABOUT, words: words.join(' '), links: written.join(' ') };
}

/** A thesaurus: which words are near a word, by their meanings as WordNet has them. */
export class RelatedWords {
  #words: string[];
  #links: string[];
  #numbers: Map<string, number>;
  #values = new Map([...DIGITS].map((digit, at) => [digit, at]));

  constructor(file: RelatedWordsFile) {
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
        weight: weightAt(value % LEVELS),
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
