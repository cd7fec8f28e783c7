/**
 * One entry is wanted and some of its words are remembered: three telling words as they stand, or with the last one only begun, or with one
 * slip of the pen. Entries are those of the demo journal; where the open data is there, they stand among all its stories and quotations.
 */
import { readFileSync } from 'node:fs';
import { readJournalFile } from '../../../src/journal/file';
import type { Entry, Journal } from '../../../src/journal/records';
import { plainText } from '../../../src/language/markdown';
import { STOP_WORDS, tokens } from '../../../src/language/tokens';
import { seeded } from '../many-entries';
import { noteOf, numbered } from './journals';
import { hasData, rowsOf, type Quotation, type Section } from './open-data';
import { PlainBm25 } from './plain-bm25';
import {
  ENGINE,
  foundBy,
  judge,
  PLAIN,
  type MakeEngine,
  type Measured,
  type Query,
} from './result';
import { DEPTH } from './scores';

export type Remembered = 'as they stand' | 'the last begun' | 'one misspelt';
const GOAL: Record<Remembered, number> = {
  'as they stand': 0.94,
  'the last begun': 0.82,
  'one misspelt': 0.9,
};
const SEED = 29;
const ASKED = 300;

export function demoJournal(): Journal {
  const read = readJournalFile(readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8'));
  if (!read.ok) throw new Error(read.message);
  return read.journal;
}

/** What stands around the demo's entries: everything else there is to hand. */
function crowd(): Entry[] {
  if (!hasData('quotes-tagged', 'fairytale-train-sections', 'fairytale-val-sections')) return [];
  const texts = [
    ...rowsOf<Quotation>('quotes-tagged').map(({ text }) => text),
    ...rowsOf<Section>('fairytale-train-sections').map(({ text }) => text),
    ...rowsOf<Section>('fairytale-val-sections').map(({ text }) => text),
  ];
  return texts.map((text, at) => noteOf(numbered('0150a000-0000-7000-8000-000000', at), text));
}

const LETTERS = 'abcdefghijklmnopqrstuvwxyz';

/** A word with one letter left out, doubled, changed or two changed about; never its first. */
function misspelt(word: string, random: () => number): string {
  const at = 1 + Math.floor(random() * (word.length - 2));
  const letter = LETTERS[Math.floor(random() * LETTERS.length)]!;
  const ways = [
    word.slice(0, at) + word.slice(at + 1),
    word.slice(0, at) + letter + word.slice(at),
    word.slice(0, at) + letter + word.slice(at + 1),
    word.slice(0, at) + word[at + 1]! + word[at]! + word.slice(at + 2),
  ];
  return ways[Math.floor(random() * ways.length)]!;
}

function remembered(entry: Entry, how: Remembered, random: () => number): Query | undefined {
  const words = tokens(plainText(entry.text))
    .map(({ folded }) => folded)
    .filter((word) => word.length >= 4 && !STOP_WORDS.has(word) && /^[a-z]+$/.test(word));
  const telling = [...new Set(words)];
  if (telling.length < 6) return undefined;
  const chosen: string[] = [];
  while (chosen.length < 3) {
    const [word] = telling.splice(Math.floor(random() * telling.length), 1);
    chosen.push(word!);
  }
  if (how === 'the last begun') {
    const last = chosen.pop()!;
    chosen.push(last.slice(0, Math.max(3, Math.ceil(last.length * 0.6))));
  } else if (how === 'one misspelt') {
    // The longest is misspelt the most often.
    chosen.sort((a, b) => a.length - b.length || (a < b ? -1 : 1));
    chosen.push(misspelt(chosen.pop()!, random));
  }
  return { text: chosen.join(' '), relevant: new Set([entry.id]) };
}

export function knownItems(how: Remembered, make: MakeEngine): Measured {
  const journal = demoJournal();
  const random = seeded(SEED);
  const own = [...journal.tables.entries.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
  const queries = own.flatMap((entry) => remembered(entry, how, random) ?? []).slice(0, ASKED);
  const around = crowd();
  for (const entry of around) journal.tables.entries.set(entry.id, entry);
  const plain = new PlainBm25(
    [...own, ...around].map(({ id, title, text }) => [id, `${title ?? ''} ${plainText(text)}`]),
  );
  const engine = make(journal);
  return {
    set: `Known items of the demo among ${journal.tables.entries.size} entries: three words, ${how}`,
    shown: ['mrr', 'hit5', 'hit10'],
    goal: { measure: 'hit10', atLeast: GOAL[how] },
    results: [
      judge(PLAIN, queries, ({ text }) => plain.rank(text, DEPTH)),
      judge(ENGINE, queries, foundBy(engine, how === 'the last begun')),
    ],
  };
}
