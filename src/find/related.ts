import type { HeadingId, Journal } from '../journal/records';
import type { Names } from './names';
import type { ReadQuery } from './query';

/** A heading that a typed word leads to: entries tied to it are looked for besides those that hold the word. */
export interface Related {
  heading: HeadingId;
  name: string;
  /** The typed word, or words where the name has several. */
  near: string;
  /** The typed words it may stand in for. */
  words: readonly string[];
  weight: number;
}

const CALLED = 0.5;
const NARROWER = 0.35;
const BESIDE = 0.2;
/** Names of more words than this are typed as phrases, if at all. */
const LONGEST_NAME = 4;

/**
 * What typed words lead to by the journal's own headings: a theme they name or that goes by them ("bravery" for
 * Courage), its narrower themes, and those held to be related.
 */
export function relatedTo(journal: Journal, names: Names, read: ReadQuery): Related[] {
  const out = new Map<HeadingId, Related>();
  const add = (heading: HeadingId, words: readonly string[], weight: number): void => {
    const row = journal.tables.headings.get(heading);
    const held = out.get(heading);
    if (!row || (held && held.weight >= weight)) return;
    out.set(heading, { heading, name: row.name, near: words.join(' '), words, weight });
  };
  for (const words of runsOf(read.words)) {
    for (const id of names.called(words)) {
      const heading = journal.tables.headings.get(id);
      if (heading?.kind !== 'theme') continue;
      add(id, words, CALLED);
      for (const one of journal.tables.headings.values()) {
        if (one.kind === 'theme' && one.broader.includes(id)) add(one.id, words, NARROWER);
      }
      for (const beside of heading.related) add(beside, words, BESIDE);
    }
  }
  return [...out.values()].sort((a, b) => b.weight - a.weight || (a.name < b.name ? -1 : 1));
}

/** Words side by side as typed, the longest runs first: "moral courage" is nearer to a theme of that name than "courage". */
function runsOf(words: readonly string[]): string[][] {
  const out: string[][] = [];
  for (let size = Math.min(LONGEST_NAME, words.length); size > 0; size--)
    for (let at = 0; at + size <= words.length; at++) out.push(words.slice(at, at + size));
  return out;
}
