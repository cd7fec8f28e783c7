/**
 * Related words from WordNet: from a word by its senses, each as likely as WordNet's tagged texts show, over one or two relations to other
 * synsets, to their words. A word that usually means something else counts less, so that senses do not drift. The settings were
 * chosen on topics of quotations (see `npm run judge`), not on the gold set.
 */
import { stem } from '../../../src/language/stem';
import { STOP_WORDS, tokens } from '../../../src/language/tokens';
import type { Synset, Wordnet } from './wordnet';

/** What a relation is worth: similar, kind of it, what it is a kind of, attribute. Others brought nothing when measured. */
const RELATION: Readonly<Record<string, number>> = { '&': 0.6, '~': 0.5, '@': 0.3, '=': 0.5 };
/** Derived words (brave, bravery): of the very word, and of another of the same synset. */
const DERIVED = { own: 0.9, other: 0.4 };
/** Over two relations, paths weaker than this are not gone. */
const LEAST_PATH = 0.1;
/** A synset with more kinds than this is too wide to be gone up to: "person", "act". */
const WIDE = 30;
/** Added to each count of a sense, so that one never met is not impossible. */
const SMOOTHED = 1;
/** A second path to a word adds half of what it would alone. */
const SECOND_PATH = 0.5;
/** Links weaker than this, and past so many, are left out. */
const LEAST_WEIGHT = 0.06;
const MOST_LINKS = 26;
/** Words with links of their own are known by at least this: times in WordNet's definitions and tagged texts. */
const KNOWN_TO_ASK = 3;
const KNOWN_TO_ANSWER = 1;

/** One word, of plain letters; "go down" and "x-ray" are not looked for. Names are no related words. */
const ONE_WORD = /^[a-z]{3,}$/;

export type Links = Map<string, [word: string, weight: number][]>;

export function linksFrom(net: Wordnet): Links {
  const known = knownTimes(net);
  const shares = sensesOf(net);
  const links: Links = new Map();
  for (const word of [...shares.keys()].sort()) {
    if (known(word) < KNOWN_TO_ASK) continue;
    const found = linksOf(net, shares, word)
      .filter(([other]) => known(other) >= KNOWN_TO_ANSWER)
      .sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1));
    const kept = onePerStem(found, known).slice(0, MOST_LINKS);
    if (kept.length > 0) links.set(word, kept);
  }
  return links;
}

/** Links of WordNet with those of another source: what both say is added up. */
export function joined(first: Links, second: Links): Links {
  const both: Links = new Map();
  for (const [word, list] of first) {
    const weights = new Map(list);
    for (const [other, weight] of second.get(word) ?? [])
      weights.set(other, Math.min(1, (weights.get(other) ?? 0) + weight));
    const sorted = [...weights].sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1));
    const seen = new Set<string>();
    const kept = sorted.filter(([other]) => !seen.has(stem(other)) && seen.add(stem(other)));
    both.set(word, kept.slice(0, MOST_LINKS));
  }
  return both;
}

/** How likely each sense of a word is, by word, then synset. */
type Shares = Map<string, Map<string, number>>;

function sensesOf({ counts }: Wordnet): Shares {
  const shares: Shares = new Map();
  for (const [word, senses] of counts) {
    if (!ONE_WORD.test(word)) continue;
    let all = 0;
    for (const count of senses.values()) all += count + SMOOTHED;
    const own = new Map([...senses].map(([id, count]) => [id, (count + SMOOTHED) / all]));
    shares.set(word, own);
  }
  return shares;
}

/** How well known a word is. British spellings, which WordNet's texts hardly have, are as well known as the American. */
function knownTimes({ synsets, counts }: Wordnet): (word: string) => number {
  const times = new Map<string, number>();
  for (const { gloss } of synsets.values()) {
    for (const { folded } of tokens(gloss)) {
      if (!STOP_WORDS.has(folded)) times.set(folded, (times.get(folded) ?? 0) + 1);
    }
  }
  for (const [word, senses] of counts) {
    for (const count of senses.values()) times.set(word, (times.get(word) ?? 0) + count);
  }
  const american = (word: string): string =>
    word.replace('our', 'or').replace(/is(e|ing|ed|ation)/, 'iz$1');
  return (word) => Math.max(times.get(word) ?? 0, times.get(american(word)) ?? 0);
}

function linksOf(net: Wordnet, shares: Shares, word: string): [string, number][] {
  const reached = new Map<string, number>();
  for (const [id, share] of shares.get(word) ?? []) {
    for (const [other, weight] of around(net, id, word))
      reached.set(other, (reached.get(other) ?? 0) + share * weight);
  }
  const own = stem(word);
  const found = new Map<string, number>();
  for (const [id, weight] of reached) {
    for (const other of net.synsets.get(id)?.words ?? []) {
      const share = shares.get(other)?.get(id);
      if (share === undefined || stem(other) === own) continue;
      const path = weight * Math.sqrt(share);
      const held = found.get(other);
      found.set(other, held === undefined ? path : held + SECOND_PATH * path);
    }
  }
  return [...found].filter(([, weight]) => weight >= LEAST_WEIGHT);
}

/** Synsets over no, one or two relations, each by its best path. */
function around(net: Wordnet, id: string, word: string): Map<string, number> {
  const best = new Map([[id, 1]]);
  const reach = (other: string, weight: number): void => {
    if ((best.get(other) ?? 0) < weight) best.set(other, weight);
  };
  const first = relationsOf(net, id, word);
  for (const [other, weight] of first) reach(other, weight);
  for (const [between, toBetween] of [...best]) {
    if (between === id) continue;
    for (const [other, weight] of relationsOf(net, between)) {
      if (toBetween * weight > LEAST_PATH) reach(other, toBetween * weight);
    }
  }
  return best;
}

function relationsOf(net: Wordnet, id: string, word?: string): [string, number][] {
  const synset = net.synsets.get(id);
  return (synset?.pointers ?? []).flatMap(({ symbol, synset: other, from }): [string, number][] => {
    if (symbol === '+') {
      const own = word !== undefined && synset?.words[from] === word;
      return [[other, own ? DERIVED.own : DERIVED.other]];
    }
    const weight = RELATION[symbol];
    if (weight === undefined || (symbol === '@' && isWide(net.synsets.get(other)))) return [];
    return [[other, weight]];
  });
}

const isWide = (synset: Synset | undefined): boolean =>
  (synset?.pointers.filter(({ symbol }) => symbol.startsWith('~')).length ?? 0) > WIDE;

/** Forms of one word are found together anyway: the best known stands for all, with the best weight. */
function onePerStem(
  found: readonly [string, number][],
  known: (word: string) => number,
): [string, number][] {
  const kept = new Map<string, [string, number]>();
  for (const [word, weight] of found) {
    const held = kept.get(stem(word));
    if (!held) kept.set(stem(word), [word, weight]);
    else if (known(word) > known(held[0])) held[0] = word;
  }
  return [...kept.values()];
}
