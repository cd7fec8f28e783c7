/**
 * Finding at 20,000 entries: `npx vitest bench --run tests/bench/find.bench.ts`. Each run of a measure is one query or one edit,
 * taken in turn from a seeded list, so that the 99th percentile is over different ones. Limits aimed at on a machine with two
 * slow cores: a query while typing under 50 ms, an edit under 5 ms; read the ratios rather than the milliseconds.
 */
import { bench, describe } from 'vitest';
import { FindIndex } from '../../src/find/find-index';
import type { FindQuery } from '../../src/find/query';
import { manyEntries, seeded } from './many-entries';

const ENTRIES = 20_000;
const QUERIES = 400;
const NOW = '2026-01-05T12:00:00.000Z';

const journal = manyEntries(ENTRIES);
const index = new FindIndex(journal);
const entries = [...journal.tables.entries.values()];
const random = seeded(11);
const any = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
const wordsOf = (text: string): string[] => text.replace('.', '').split(' ');

/** Some words of one entry, side by side, so that there is something to find. */
function run(count: number): string[] {
  const words = wordsOf(any(entries).text);
  const at = Math.floor(random() * (words.length - count));
  return words.slice(at, at + count);
}
const many = (make: () => FindQuery): FindQuery[] => Array.from({ length: QUERIES }, make);
const slipped = (word: string): string => `${word.slice(0, 2)}x${word.slice(3)}`;

const KINDS: Record<string, FindQuery[]> = {
  'one to three words, the last begun': many(() => {
    const words = run(1 + Math.floor(random() * 3));
    const last = words.at(-1)!;
    const begun = last.slice(0, 1 + Math.floor(random() * last.length));
    return { text: [...words.slice(0, -1), begun].join(' '), typing: true };
  }),
  'one letter': many(() => ({ text: run(1)[0]!.slice(0, 1), typing: true })),
  'one to three whole words': many(() => ({ text: run(1 + Math.floor(random() * 3)).join(' ') })),
  'a sentence of ten words': many(() => ({ text: run(10).join(' ') })),
  'a slip of the pen': many(() => ({ text: slipped(run(1)[0]!) })),
  'a phrase of three words': many(() => ({ text: `"${run(3).join(' ')}"` })),
  'a word and a minus': many(() => ({ text: `${run(1)[0]} -${run(1)[0]}` })),
  'six words nothing holds': many(() => ({
    text: Array.from({ length: 6 }, () => `${slipped(run(1)[0]!)}qqx`).join(' '),
  })),
  'everything, newest first': many(() => ({ text: '' })),
};

describe(`finding in ${ENTRIES} entries`, () => {
  for (const [name, queries] of Object.entries(KINDS)) {
    let at = 0;
    bench(
      name,
      () => {
        index.find(queries[at++ % queries.length]!, NOW);
      },
      { time: 3000, warmupIterations: 20 },
    );
  }
});

describe(`edits in ${ENTRIES} entries`, () => {
  let at = 0;
  bench(
    'an entry put again',
    () => {
      index.put(entries[at++ % entries.length]!);
    },
    { time: 500, warmupIterations: 20 },
  );
  bench(
    'an entry removed and put back',
    () => {
      const entry = entries[at++ % entries.length]!;
      index.remove(entry.id);
      index.put(entry);
    },
    { time: 500, warmupIterations: 20 },
  );
});
