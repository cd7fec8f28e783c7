/**
 * Near twins among many texts without comparing all with all: word shingles, MinHash signatures and bands (Broder 1997; Leskovec,
 * Rajaraman & Ullman, Mining of Massive Datasets, chapter 3).
 */
import { fold, tokens } from '../language/tokens';

/** The words a text is compared by: folded, hyphens inside words and apostrophes dropped ("to-morrow" is "tomorrow"). */
export function comparedWords(plain: string): string[] {
  const joined = fold(plain)
    .replace(/(?<=\p{L})[-‐‑](?=\p{L})/gu, '')
    .replace(/&/gu, ' and ');
  return tokens(joined).map(({ folded }) => folded.replace(/['.:]/g, ''));
}

/** Every run of `size` items, joined; the whole where there are fewer. An empty list has none. */
export function shinglesOf(items: readonly string[], size: number, joint = ' '): Set<string> {
  const found = new Set<string>();
  if (items.length === 0) return found;
  if (items.length < size) return found.add(items.join(joint));
  for (let at = 0; at + size <= items.length; at += 1)
    found.add(items.slice(at, at + size).join(joint));
  return found;
}

/** Size of what two sets share over the size of both together; two empty sets are alike. */
export function jaccard<T>(a: ReadonlySet<T>, b: ReadonlySet<T>): number {
  const [small, large] = a.size <= b.size ? [a, b] : [b, a];
  if (large.size === 0) return 1;
  let shared = 0;
  for (const item of small) if (large.has(item)) shared += 1;
  return shared / (a.size + b.size - shared);
}

/** The signature of a set of numbers, into `into`: at each place the least that the hash function of the place makes of them; 2^32 - 1 everywhere for none. */
export function minHash(
  items: Iterable<number>,
  hash: (item: number, place: number) => number,
  into: Uint32Array,
): void {
  into.fill(0xffffffff);
  for (const item of items) {
    for (let at = 0; at < into.length; at += 1) {
      const value = hash(item, at);
      if (value < into[at]!) into[at] = value;
    }
  }
}

/** A 32-bit hash of a string (FNV-1a, Fowler, Noll & Vo), its bits mixed once more. */
export function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) {
    hash ^= text.charCodeAt(at);
    hash = Math.imul(hash, 0x01000193);
  }
  return mixed(hash);
}

function mixed(value: number): number {
  let hash = value;
  hash ^= hash >>> 16;
  hash = Math.imul(hash, 0x85ebca6b);
  hash ^= hash >>> 13;
  hash = Math.imul(hash, 0xc2b2ae35);
  return (hash ^ (hash >>> 16)) >>> 0;
}

/** Two of a band make it: pairs of likeness 0.5 meet with chance 0.999 (1 - (1 - s^2)^24), of 0.3 with 0.9, and are then verified. */
const BANDS = 24;
const ROWS = 2;
const MULTIPLIERS = Array.from({ length: BANDS * ROWS }, (_, at) => mixed(at * 2 + 1) | 1);
const ADDENDS = Array.from({ length: BANDS * ROWS }, (_, at) => mixed(at * 2 + 2));
const hashAt = (item: number, place: number): number =>
  mixed(Math.imul(item, MULTIPLIERS[place]!) + ADDENDS[place]!);

/** Signature of a set of shingles by 48 fixed hash functions, into `into`. */
export function signatureOf(shingles: Iterable<string>, into: Uint32Array): void {
  minHash(Array.from(shingles, hashOf), hashAt, into);
}

export const SIGNATURE_LENGTH = BANDS * ROWS;

/** Texts by the bands of their signatures: what falls into a common band may be alike. */
export class Bands<T> {
  readonly #buckets = new Map<number, T[]>();

  add(signature: Uint32Array, value: T): void {
    for (const key of keysOf(signature)) {
      const bucket = this.#buckets.get(key);
      // A band shared by very many is boilerplate; more of it finds nothing new.
      if (!bucket) this.#buckets.set(key, [value]);
      else if (bucket.length < 50) bucket.push(value);
    }
  }

  /** What shares a band, that which shares most first, at most `most`. */
  near(signature: Uint32Array, most: number): T[] {
    const shared = new Map<T, number>();
    for (const key of keysOf(signature)) {
      for (const value of this.#buckets.get(key) ?? [])
        shared.set(value, (shared.get(value) ?? 0) + 1);
    }
    const found = [...shared];
    if (found.length > most) found.sort((a, b) => b[1] - a[1]);
    return found.slice(0, most).map(([value]) => value);
  }
}

function* keysOf(signature: Uint32Array): Generator<number> {
  for (let band = 0; band < BANDS; band += 1) {
    let key = band + 1;
    for (let row = 0; row < ROWS; row += 1) {
      key = mixed(Math.imul(key, 31) ^ (signature[band * ROWS + row] as number));
    }
    yield key * BANDS + band;
  }
}

/** Runs of so many words are hashed, and of so many hashes in a row the least is kept. */
const RUN = 4;
const WINDOW = 5;
/** Two texts that share so many words in a row share a fingerprint. */
export const SHARED_RUN = RUN + WINDOW - 1;

/**
 * Fingerprints by winnowing (Schleimer, Wilkerson & Aiken, SIGMOD 2003): of every window of hashes the least, the rightmost of equal ones.
 * Texts that share a run of 8 words share one at least, wherever the run stands in each. None of fewer than 8 words.
 */
export function fingerprintsOf(words: readonly string[]): Set<number> {
  const found = new Set<number>();
  if (words.length < SHARED_RUN) return found;
  const each = words.map(hashOf);
  const runs: number[] = [];
  for (let at = 0; at + RUN <= each.length; at += 1) {
    let hash = 0;
    for (let word = at; word < at + RUN; word += 1)
      hash = mixed(Math.imul(hash, 31) + (each[word] as number));
    runs.push(hash);
  }
  for (let at = 0; at + WINDOW <= runs.length; at += 1) {
    let least = runs[at] as number;
    for (let next = at + 1; next < at + WINDOW; next += 1) {
      if ((runs[next] as number) <= least) least = runs[next] as number;
    }
    found.add(least);
  }
  return found;
}

/** Texts by their fingerprints: what shares one may stand inside the other. */
export class Fingerprints<T> {
  readonly #buckets = new Map<number, T[]>();

  add(prints: ReadonlySet<number>, value: T): void {
    for (const print of prints) {
      const bucket = this.#buckets.get(print);
      // Words that very many texts share are boilerplate.
      if (!bucket) this.#buckets.set(print, [value]);
      else if (bucket.length < 20) bucket.push(value);
    }
  }

  /** What shares a fingerprint, at most `most`. */
  sharing(prints: ReadonlySet<number>, most: number): T[] {
    const found = new Set<T>();
    for (const print of prints) {
      for (const value of this.#buckets.get(print) ?? []) {
        if (found.size < most) found.add(value);
      }
    }
    return [...found];
  }
}
