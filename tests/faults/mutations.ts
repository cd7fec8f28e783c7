/** Damage done to files for tests: the same seed does the same damage. */
import { unzipSync, zipSync, type Zippable } from 'fflate';

/** Uniform numbers from 0 to 1, exclusive (mulberry32, public domain). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** What formats are made of: put in where it does not belong it leads readers astray sooner than chance would. */
const TOKENS = [
  '<', '>', '</', '/>', '<table>', '<tr><td colspan="99999999">', '<![CDATA[', '<!--', '&#x110000;', '&', '"', '""',
  '\\', '\\u-99999?', '\\bin999999 ', '{', '}', '{\\*', '[', ']', '[[[[[[', '(', ')', '>>', '<<', 'endobj', 'stream', 'endstream',
  'obj', '/Length 999999999', 'xref', '%PDF-', 'PK\u0003\u0004', 'PK\u0001\u0002', '@book{', '@string{', '#', ',', ';', '\t', '\r', '\n',
  '\r\n\r\n', 'TY  - ', 'ER  - ', 'BEGIN:VEVENT', 'END:VEVENT', 'RRULE:FREQ=SECONDLY', 'INTERVAL=0', 'DTSTART:99999999T999999Z',
  '__proto__', 'constructor', 'null', 'NaN', '-1', '1e999', '999999999999', '\0', '\u00ff\u00d8\u00ff', '“', '\u202e', '# ', '> ', '* ', '| --- |',
]; // prettier-ignore

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

function joined(...parts: Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

type Mutation = (bytes: Uint8Array, random: () => number) => Uint8Array;

const below = (random: () => number, most: number): number => Math.floor(random() * most);

const MUTATIONS: readonly Mutation[] = [
  // Bits turned over.
  (bytes, random) => {
    const changed = bytes.slice();
    for (let left = 1 + below(random, 8); left > 0; left -= 1) {
      const at = below(random, changed.length);
      changed[at] = (changed[at] ?? 0) ^ (1 << below(random, 8));
    }
    return changed;
  },
  // Bytes overwritten by any others.
  (bytes, random) => {
    const changed = bytes.slice();
    for (let left = 1 + below(random, 16); left > 0; left -= 1)
      changed[below(random, changed.length)] = below(random, 256);
    return changed;
  },
  // A stretch gone.
  (bytes, random) => {
    const at = below(random, bytes.length);
    return joined(bytes.subarray(0, at), bytes.subarray(at + 1 + below(random, 64)));
  },
  // A stretch twice.
  (bytes, random) => {
    const at = below(random, bytes.length);
    const to = at + 1 + below(random, 400);
    return joined(bytes.subarray(0, to), bytes.subarray(at));
  },
  // A stretch of noughts.
  (bytes, random) => {
    const changed = bytes.slice();
    const at = below(random, bytes.length);
    return changed.fill(0, at, at + 1 + below(random, 32));
  },
  // Something put in.
  (bytes, random) => {
    const at = below(random, bytes.length + 1);
    const token = bytesOf(TOKENS[below(random, TOKENS.length)] ?? '');
    const times = random() < 0.1 ? 200 : 1 + below(random, 3);
    return joined(
      bytes.subarray(0, at),
      ...Array.from({ length: times }, () => token),
      bytes.subarray(at),
    );
  },
  // One place copied over another.
  (bytes, random) => {
    const changed = bytes.slice();
    const from = below(random, bytes.length);
    changed.set(bytes.subarray(from, from + below(random, 64)).slice(0, bytes.length), 0);
    return changed;
  },
];

/** One to three kinds of damage at places of chance. */
export function damaged(bytes: Uint8Array, random: () => number): Uint8Array {
  let changed = bytes;
  for (let left = random() < 0.7 ? 1 : 1 + below(random, 3); left > 0; left -= 1) {
    const mutation = MUTATIONS[below(random, MUTATIONS.length)];
    if (mutation && changed.length > 0) changed = mutation(changed, random);
  }
  return changed;
}

/** Damage done to a file inside a zip, the zip around it sound: sums are right, so that readers of what is inside get to see it. */
export function damagedInside(
  zip: Readonly<Record<string, Uint8Array>>,
  random: () => number,
): Uint8Array {
  const names = Object.keys(zip);
  const victim = names[below(random, names.length)] ?? '';
  const members: Zippable = {};
  for (const name of names) {
    const bytes = zip[name] ?? new Uint8Array();
    members[name] = [name === victim ? damaged(bytes, random) : bytes, { level: 0 }];
  }
  return zipSync(members);
}

export const unzipped = (bytes: Uint8Array): Record<string, Uint8Array> => unzipSync(bytes);
