import type { HeadingId, Journal } from '../journal/records';
import { stem } from '../language/stem';
import type { Names } from './names';
import type { ReadQuery } from './query';

/** A heading that a typed word leads to: entries tied to it are looked for besides those that hold the word. */
export interface Related {
  heading: HeadingId;
  name: string;
  /** The typed word. */
  near: string;
  weight: number;
}

const CALLED = 0.5;
const NARROWER = 0.35;
const BESIDE = 0.2;

/**
 * What typed words lead to by the journal's own headings: a theme they name or that goes by them ("bravery" for
 * Courage), its narrower themes, and those held to be related.
 */
export function relatedTo(journal: Journal, names: Names, read: ReadQuery): Related[] {
  const out = new Map<HeadingId, Related>();
  const add = (heading: HeadingId, near: string, weight: number): void => {
    const row = journal.tables.headings.get(heading);
    const held = out.get(heading);
    if (!row || (held && held.weight >= weight)) return;
    out.set(heading, { heading, name: row.name, near, weight });
  };
  for (const word of read.words) {
    for (const id of [...names.called(word), ...names.called(stem(word))]) {
      const heading = journal.tables.headings.get(id);
      if (heading?.kind !== 'theme') continue;
      add(id, word, CALLED);
      for (const one of journal.tables.headings.values()) {
        if (one.kind === 'theme' && one.broader.includes(id)) add(one.id, word, NARROWER);
      }
      for (const beside of heading.related) add(beside, word, BESIDE);
    }
  }
  return [...out.values()].sort((a, b) => b.weight - a.weight || (a.name < b.name ? -1 : 1));
}
