import MiniSearch from 'minisearch';
import type { Guide, GuideId, Heading, HeadingId, Journal, MeetingId } from '../journal/records';
import { sayDate } from '../language/dates';
import { stem } from '../language/stem';
import { STOP_WORDS } from '../language/tokens';
import { foldedWords } from './query';

/** Finds headings by their names, and guides and meetings by theirs. Small things, so MiniSearch serves at any size. */
export class Names {
  #names = new MiniSearch<{ id: HeadingId; name: string; alternates: string }>({
    fields: ['name', 'alternates'],
    tokenize: foldedWords,
    processTerm: (term) => term,
    searchOptions: { boost: { name: 2 }, prefix: (term) => term.length > 1, combineWith: 'AND' },
  });
  #held = new Set<HeadingId>();
  /** Headings by each of their names, as `calledBy` has them. */
  #called = new Map<string, Set<HeadingId>>();
  #namesOf = new Map<HeadingId, string[]>();

  constructor(readonly journal: Journal) {
    for (const heading of journal.tables.headings.values()) this.put(heading);
  }

  put(heading: Heading): void {
    this.remove(heading.id);
    const { id, name, alternates } = heading;
    this.#names.add({ id, name, alternates: alternates.join(' \n ') });
    this.#held.add(id);
    const names = [name, ...alternates].map((one) => calledBy(foldedWords(one)));
    this.#namesOf.set(id, names);
    for (const one of names) {
      const held = this.#called.get(one);
      if (held) held.add(id);
      else this.#called.set(one, new Set([id]));
    }
  }

  remove(id: HeadingId): void {
    if (!this.#held.delete(id)) return;
    this.#names.discard(id);
    for (const name of this.#namesOf.get(id) ?? []) this.#called.get(name)?.delete(id);
    this.#namesOf.delete(id);
  }

  /** Headings whose name or other name is just these folded words, in any form, small words apart. */
  called(words: readonly string[]): HeadingId[] {
    return [...(this.#called.get(calledBy(words)) ?? [])].sort();
  }

  headings(words: readonly string[], limit: number): { id: HeadingId; score: number }[] {
    if (words.length === 0) return [];
    // What bears just this name is what was meant, whoever else has it among their names.
    const asked = calledBy(words);
    const named = ({ id }: { id: HeadingId }): number =>
      this.#namesOf.get(id)?.[0] === asked ? 1 : 0;
    // Scores differ in their last digits by the order headings came in; of those alike the same stand first.
    return this.#names
      .search(words.join(' '))
      .map(({ id, score }) => ({ id: id as HeadingId, score: Number(score.toPrecision(9)) }))
      .sort((a, b) => named(b) - named(a) || b.score - a.score || (a.id < b.id ? -1 : 1))
      .slice(0, limit);
  }

  /** The newest first, as meetings are. */
  guides(words: readonly string[]): GuideId[] {
    if (words.length === 0) return [];
    return [...this.journal.tables.guides.values()]
      .filter((guide: Guide) => holdsAll(guide.title, words))
      .sort((a, b) => (a.made === b.made ? (a.id < b.id ? -1 : 1) : a.made < b.made ? 1 : -1))
      .map(({ id }) => id);
  }

  meetings(words: readonly string[]): MeetingId[] {
    if (words.length === 0) return [];
    const { circles, guides, meetings } = this.journal.tables;
    return [...meetings.values()]
      .filter((meeting) => {
        const title = meeting.guide ? (guides.get(meeting.guide)?.title ?? '') : '';
        const text = `${circles.get(meeting.circle)?.name ?? ''} ${title} ${sayDate(meeting.on, 'long')} ${meeting.on}`;
        return holdsAll(text, words);
      })
      .sort((a, b) => (a.on === b.on ? (a.id < b.id ? -1 : 1) : a.on < b.on ? 1 : -1))
      .map(({ id }) => id);
  }
}

/** What names are told the same by: their stems in order, without small words where others are left. */
function calledBy(words: readonly string[]): string {
  const telling = words.filter((word) => !STOP_WORDS.has(word));
  return (telling.length > 0 ? telling : words).map(stem).join(' ');
}

function holdsAll(text: string, words: readonly string[]): boolean {
  const held = foldedWords(text);
  return words.every((word) => held.some((one) => one.startsWith(word)));
}
