/** What is measured: each measure is an act repeated over different entries, words or headings, chosen by seed. */
import { entriesTiedTo } from '../../../src/journal/uses';
import type { Engine } from '../../../src/engine/engine';
import { shownResult } from '../../../src/engine/finding';
import type { FindQuery } from '../../../src/find/query';
import type { Entry, HeadingId } from '../../../src/journal/records';
import { proposeFor, proposeHeadingsFor } from '../../../src/weave/tied';
import { seeded } from '../many-entries';
import { loadings } from './loading';
import type { PlainSearch } from './plain-search';

export interface Measure {
  name: string;
  /** Milliseconds at the 95th percentile that are aimed at with 20,000 entries. */
  aim?: number;
  turns: number;
  /** Done before each turn, outside of its time. */
  before?: () => void;
  /** Answers how long it took, where not all of it is measured. */
  act: (turn: number) => number | void;
}

/** Rows that Find's screen asks for at a keystroke. */
const ROWS_ASKED = 30;

/** Middle and 95th percentile, in milliseconds. */
export interface Times {
  middle: number;
  high: number;
}

export function timesOf({ turns, before, act }: Measure): Times {
  for (let turn = 0; turn < Math.ceil(turns / 5); turn++) {
    before?.();
    act(turn);
  }
  const times = Array.from({ length: turns }, (_, turn) => {
    before?.();
    const began = performance.now();
    return act(turn) ?? performance.now() - began;
  }).sort((a, b) => a - b);
  const at = (share: number): number => times[Math.min(turns - 1, Math.floor(share * turns))]!;
  return { middle: at(0.5), high: at(0.95) };
}

/** One to three words that stand side by side in an entry, the last of them only begun. */
export function keystrokes(entries: readonly Entry[], count: number): FindQuery[] {
  const random = seeded(11);
  return Array.from({ length: count }, () => {
    const entry = entries[Math.floor(random() * entries.length)]!;
    const words = entry.text.replace('.', '').split(' ');
    const size = 1 + Math.floor(random() * 3);
    const at = Math.floor(random() * (words.length - size));
    const run = words.slice(at, at + size);
    const last = run.pop()!;
    run.push(last.slice(0, 1 + Math.floor(random() * last.length)));
    return { text: run.join(' '), typing: true };
  });
}

export function measuresOf(engine: Engine, plain: PlainSearch): Measure[] {
  const { weaveIndex, journal } = engine;
  const entries = [...journal.tables.entries.values()];
  const themes = [...journal.tables.headings.values()].flatMap(({ id, kind }) =>
    kind === 'theme' && entriesTiedTo(journal, id).size > 0 ? [id] : [],
  );
  const typed = keystrokes(entries, 300);
  const pick = (turn: number): Entry => entries[(turn * 7919) % entries.length]!;
  let edits = 0;
  const alter = (turn: number, how: (before: Entry) => Entry): void => {
    const before = journal.tables.entries.get(pick(turn).id)!;
    const after = how(before);
    const change = { table: 'entries' as const, id: before.id, before, after };
    if (!engine.apply({ does: 'Edit', changes: [change] }).ok) throw new Error('not applied');
  };
  const edit = (turn: number): void =>
    alter(turn, (before) => ({ ...before, text: `${before.text} and so on ${(edits += 1)}` }));
  const tie = (turn: number): void =>
    alter(turn, (before) => {
      const free = themes.filter((id) => !before.ties.some(({ heading }) => heading === id));
      const heading = free[turn % free.length]!;
      return { ...before, ties: [...before.ties, { heading, role: 'about', by: 'reader' }] };
    });
  return [
    {
      name: 'a keystroke, plain MiniSearch',
      // At a lifetime's size each takes seconds.
      turns: entries.length > 50_000 ? 20 : 300,
      act: (turn) => void plain.find(typed[turn % typed.length]!.text),
    },
    {
      name: 'a keystroke, all that the screen is told',
      aim: 10,
      turns: 300,
      act: (turn) => {
        const query = { ...typed[turn % typed.length]!, limit: ROWS_ASKED };
        shownResult(engine, query);
      },
    },
    {
      name: 'near an entry',
      aim: 30,
      turns: 100,
      act: (turn) => void engine.near({ entries: [pick(turn).id], limit: 12 }),
    },
    {
      name: 'proposals for a heading',
      aim: 100,
      turns: 60,
      act: (turn) => void proposeFor(weaveIndex, themes[turn % themes.length]! as HeadingId),
    },
    {
      name: 'proposals for an entry',
      turns: 60,
      act: (turn) => void proposeHeadingsFor(weaveIndex, pick(turn).id),
    },
    ...loadings(engine),
    {
      name: 'an edit of words, followed by graph, index and tables',
      aim: 5,
      turns: 100,
      act: edit,
    },
    {
      name: 'a tie more, followed by graph, index and tables',
      aim: 5,
      turns: 100,
      act: tie,
    },
  ];
}
