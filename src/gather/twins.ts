/** Pieces that say the same as an entry of the journal or as an earlier piece: exactly but for marks, or nearly. */
import diff from 'fast-diff';
import type { Entry, EntryId } from '../journal/records';
import { signedQuotation } from '../language/quotation-marks';
import type { Differences, TwinFound } from './piece';
import {
  Bands,
  comparedWords,
  Fingerprints,
  fingerprintsOf,
  hashOf,
  jaccard,
  SHARED_RUN,
  shinglesOf,
  signatureOf,
  SIGNATURE_LENGTH,
} from './shingles';
import { plainOf } from './plain';

/** Shingles of two words: a quotation of ten words with one changed still shares two thirds of them. */
const SHINGLE_WORDS = 2;
/** Shorter texts are twins only when exactly the same. */
const FEWEST_WORDS = 5;
/** Shared shingles, and shared words in order, that make two texts near twins. Common practice; the reader decides. */
const LEAST_JACCARD = 0.45;
const LEAST_LIKENESS = 0.8;
/** Of the shorter text's words, the part that must stand in the longer one in the same order for it to be told as standing inside it. */
const LEAST_INSIDE = 0.9;
/** Longer texts are compared by their beginning. */
const LONGEST_WORDS = 1000;

/** Beyond this many words and marks differences are not worked out. */
const MOST_PARTS = 5000;
/** Texts compared with one, the likeliest first. */
const MOST_COMPARED = 40;

interface Held {
  entry?: EntryId;
  piece?: string;
  text: string;
  words: string[];
  shingles: ReadonlySet<string>;
  /** Its numbers in order: "chapters 5 to 7" is no twin of "chapters 8 to 9". */
  figures: string;
}

/** A key by which two texts are exactly the same but for capitals, accents, spaces, punctuation and marks of quotation. */
export function twinKey(text: string): string {
  return heldOf(text, {}).words.join(' ');
}

/** {@link twinKey} as a number, kept with the row: rows are replaced and never altered, so it is worked out once. */
export function twinNumber(entry: Entry): number {
  let number = numbers.get(entry);
  if (number === undefined) numbers.set(entry, (number = sameNumber(entry)));
  return number;
}

/** The same for two texts that say the same; of a picture by its bytes, whatever is written under it. 0 where there is neither. */
export function sameNumber({
  text,
  picture,
}: Pick<Entry, 'text'> & { picture?: { digest: string } }): number {
  return numberOf(picture ? `picture ${picture.digest}` : twinKey(text));
}

/** Remembers the number of a row just made. */
export const rememberTwin = (entry: Entry, number: number): void => void numbers.set(entry, number);

const numbers = new WeakMap<Entry, number>();

/** 53 bits of two hashes; 0 for a text without words. Of 200,000 texts two collide by chance once in hundreds of thousands of journals. */
export function numberOf(key: string): number {
  return key === '' ? 0 : hashOf(key) * 0x200000 + (hashOf(`${key} ${key.length}`) >>> 11);
}

/** A quotation without its signature: who said it where is told by ties, and may be told otherwise elsewhere. */
function wordsProper(plain: string): string {
  const trimmed = plain.trim();
  const { whole, share, signed, end } = signedQuotation(trimmed);
  return signed && (whole || share > 0.6) ? trimmed.slice(0, end) : trimmed;
}

/**
 * Finds twins of pieces. First every piece is added, then every entry of the journal is shown once by `seeEntry`: the
 * journal is streamed past and not held. `twinOf` then tells the best twin of a piece: an exact one before a near one, an entry
 * before a piece.
 */
export class TwinFinder {
  readonly #exact = new Map<string, Held[]>();
  readonly #bands = new Bands<Held>();
  readonly #prints = new Fingerprints<Held>();
  readonly #found = new Map<string, TwinFound>();
  readonly #signature = new Uint32Array(SIGNATURE_LENGTH);

  addPiece(id: string, text: string): void {
    const held = heldOf(text, { piece: id });
    const key = held.words.join(' ');
    if (key === '') return;
    const same = this.#exact.get(key);
    if (same?.[0]) this.#note(held, same[0]);
    else if (held.words.length >= FEWEST_WORDS) {
      for (const other of this.#near(held)) this.#try(held, other);
    }
    const prints = fingerprintsOf(held.words);
    if (!same)
      for (const other of this.#prints.sharing(prints, MOST_COMPARED)) this.#tryInside(held, other);
    if (same) same.push(held);
    else this.#exact.set(key, [held]);
    if (held.words.length >= FEWEST_WORDS) this.#bands.add(this.#sign(held), held);
    this.#prints.add(prints, held);
  }

  seeEntry(entry: Entry): void {
    const held = heldOf(entry.text, { entry: entry.id });
    const key = held.words.join(' ');
    numbers.set(entry, numberOf(key));
    if (key === '') return;
    for (const piece of this.#exact.get(key) ?? []) this.#note(piece, held);
    if (held.words.length < FEWEST_WORDS) return;
    for (const piece of this.#near(held)) this.#try(piece, held);
    const prints = fingerprintsOf(held.words);
    for (const piece of this.#prints.sharing(prints, MOST_COMPARED)) this.#tryInside(piece, held);
  }

  twinOf(piece: string): TwinFound | undefined {
    return this.#found.get(piece);
  }

  /** How alike two texts are, whatever that comes to: for texts known to be of one origin. */
  compare(here: string, there: string): Pick<TwinFound, 'differences' | 'likeness'> {
    const [a, b] = [heldOf(here, {}), heldOf(there, {})];
    const same = a.words.join(' ') === b.words.join(' ');
    const likeness = same ? 1 : Math.min(likenessOf(a.words, b.words), 0.999);
    return { differences: differencesOf(a.text, b.text), likeness };
  }

  /** Whether two texts are twins, the same or nearly, or one stands inside the other. */
  alike(here: string, there: string): boolean {
    const [a, b] = [heldOf(here, {}), heldOf(there, {})];
    if (a.words.join(' ') === b.words.join(' ') || insideOf(a, b) > 0) return true;
    return a.figures === b.figures && likenessOf(a.words, b.words) >= LEAST_LIKENESS;
  }

  #sign(held: Held): Uint32Array {
    signatureOf(held.shingles, this.#signature);
    return this.#signature;
  }

  #near(held: Held): Held[] {
    return this.#bands.near(this.#sign(held), MOST_COMPARED);
  }

  #try(piece: Held, other: Held): void {
    if (piece === other) return;
    if (piece.figures !== other.figures) return;
    const likeness = likenessOf(piece.words, other.words, piece.shingles, other.shingles);
    if (likeness >= LEAST_LIKENESS) this.#note(piece, other, Math.min(likeness, 0.999));
  }

  #tryInside(piece: Held, other: Held): void {
    if (piece === other) return;
    const likeness = insideOf(piece, other);
    if (likeness === 0) return;
    const part = piece.words.length < other.words.length ? 'inside' : 'holds';
    this.#note(piece, other, Math.min(likeness, 0.5), part);
  }

  #note(piece: Held, other: Held, likeness = 1, part?: TwinFound['part']): void {
    const id = piece.piece;
    if (id === undefined) return;
    const known = this.#found.get(id);
    const rank = likeness + (other.entry ? 0.01 : 0);
    if (known && known.likeness + (known.entry ? 0.01 : 0) >= rank) return;
    const differences = differencesOf(piece.text, other.text);
    const twin: TwinFound = { differences, likeness };
    if (other.entry) twin.entry = other.entry;
    if (other.piece) twin.piece = other.piece;
    if (part) twin.part = part;
    this.#found.set(id, twin);
  }
}

function heldOf(text: string, of: Pick<Held, 'entry' | 'piece'>): Held {
  const plain = plainOf(text);
  const words = comparedWords(wordsProper(plain)).slice(0, LONGEST_WORDS);
  const shingles = shinglesOf(words, SHINGLE_WORDS);
  return {
    ...of,
    text: plain,
    words,
    shingles,
    figures: words.filter((word) => /\d/.test(word)).join(' '),
  };
}

/**
 * 0 to 1: of the words of both, the part that stands in both in the same order; 0 where too few shingles are shared or one is much longer.
 */
function likenessOf(
  a: readonly string[],
  b: readonly string[],
  shinglesOfA: ReadonlySet<string> = shinglesOf(a, SHINGLE_WORDS),
  shinglesOfB: ReadonlySet<string> = shinglesOf(b, SHINGLE_WORDS),
): number {
  const [shorter, longer] = a.length <= b.length ? [a, b] : [b, a];
  if (shorter.length < longer.length * 0.6) return 0;
  if (jaccard(shinglesOfA, shinglesOfB) < LEAST_JACCARD) return 0;
  return (2 * sharedWords(a, b)) / (a.length + b.length);
}

/**
 * How alike two texts are of which one stands inside the other, 0 where none does: the shorter one has a run of words to itself, nearly all
 * its shingles are the other's too, and so are its words in their order.
 */
function insideOf(a: Held, b: Held): number {
  const [shorter, longer] = a.words.length <= b.words.length ? [a, b] : [b, a];
  if (shorter.words.length < SHARED_RUN || shorter.words.length === longer.words.length) return 0;
  let shared = 0;
  for (const shingle of shorter.shingles) if (longer.shingles.has(shingle)) shared += 1;
  if (shared < shorter.shingles.size * LEAST_INSIDE) return 0;
  const words = sharedWords(shorter.words, longer.words);
  if (words < shorter.words.length * LEAST_INSIDE) return 0;
  return (2 * words) / (shorter.words.length + longer.words.length);
}

const sharedWords = (a: readonly string[], b: readonly string[]): number =>
  wordDiff(a, b).reduce((sum, [how, words]) => sum + (how === 0 ? words : 0), 0);

/** What differs between two plain texts, word by word and mark by mark; capitals count, kinds of quotation marks and spaces do not. */
export function differencesOf(here: string, there: string): Differences {
  const [a, b] = [partsOf(here), partsOf(there)];
  const differences: Differences = { here: [], there: [] };
  if (Math.max(a.length, b.length) > MOST_PARTS) return differences;
  let [at, other] = [0, 0];
  for (const [how, count] of wordDiff(
    a.map(({ key }) => key),
    b.map(({ key }) => key),
  )) {
    if (how <= 0) {
      if (how < 0) addSpan(differences.here, a, at, count);
      at += count;
    }
    if (how >= 0) {
      if (how > 0) addSpan(differences.there, b, other, count);
      other += count;
    }
  }
  return differences;
}

interface Part {
  key: string;
  from: number;
  to: number;
}

/** Words, hyphened ones whole, and single marks. */
function partsOf(text: string): Part[] {
  return [
    ...text.matchAll(/[\p{L}\p{M}\p{N}]+(?:[-‐‑'’][\p{L}\p{M}\p{N}]+)*|[^\s\p{L}\p{M}\p{N}]/gu),
  ].map((match) => ({
    key: match[0].replace(/[“”„«»‘’'"]/gu, "'").normalize('NFC'),
    from: match.index,
    to: match.index + match[0].length,
  }));
}

function addSpan(
  spans: [number, number][],
  parts: readonly Part[],
  at: number,
  count: number,
): void {
  const [first, last] = [parts[at], parts[at + count - 1]];
  if (first && last) spans.push([first.from, last.to]);
}

/** Runs of parts taken out (-1), kept (0) and put in (1), with how many parts each; each distinct part stands for a letter. */
function wordDiff(a: readonly string[], b: readonly string[]): [-1 | 0 | 1, number][] {
  const letters = new Map<string, string>();
  const spelt = (words: readonly string[]): string => {
    let text = '';
    for (const word of words) {
      let letter = letters.get(word);
      if (!letter) {
        // Private use, then the unified ideographs: single code units, none of them a surrogate.
        const code = letters.size < 6400 ? 0xe000 + letters.size : 0x3400 + letters.size - 6400;
        letter = String.fromCharCode(code);
        letters.set(word, letter);
      }
      text += letter;
    }
    return text;
  };
  return diff(spelt(a), spelt(b)).map(([how, text]) => [how, text.length]);
}
