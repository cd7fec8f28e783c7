/** Every name a journal knows, ready to be looked for in a text and looked up when it stands alone. */
import type { Heading, HeadingId, HeadingKind, Journal } from '../journal/records';
import { headingsCalled } from '../journal/indexes';
import { nameKey, withoutArticle } from '../language/filing';
import { STOP_WORDS, tokens } from '../language/tokens';
import { WordAutomaton } from './automaton';
import { GIVEN_NAMES } from './given-names';
import { slipOf } from './likeness';
import type { PieceTie } from './piece';
import { bookBy, mayBeBy } from './same-book';

/** A word as names are compared, with its place in the text. */
export interface NameWord {
  word: string;
  from: number;
  to: number;
  capital: boolean;
}

/** Words of a text for finding names: folded, `'s` dropped, initials apart, `&` as "and". */
export function nameWords(text: string): NameWord[] {
  const words: NameWord[] = [];
  const ands = [...text.matchAll(/&(?:amp;)?/gu)];
  for (const { folded, text: written, start, end } of tokens(text)) {
    const capital = /^\P{L}*[\p{Lu}\p{Lt}\d]/u.test(written);
    const own = folded.replace(/'s$|'$/u, '');
    for (const word of own.split(/[.:_]+/u)) {
      if (word) words.push({ word: word.replace(/'/gu, ''), from: start, to: end, capital });
    }
  }
  for (const { index } of ands)
    words.push({ word: 'and', from: index, to: index + 1, capital: false });
  return ands.length > 0 ? words.sort((a, b) => a.from - b.from) : words;
}

const wordsOf = (name: string): string[] => nameWords(name).map(({ word }) => word);

export interface NameUse {
  heading: Heading;
  /** `short` is a title without its subtitle or article, `surname` the last word of an author's name. */
  how: 'name' | 'alternate' | 'short' | 'surname';
  words: readonly string[];
}

interface Called {
  heading: Heading;
  /** It is not called just so, and most likely meant. */
  slip: boolean;
}

/** A longer name is a sentence. */
const LONGEST_LEARNT = 200;
/** Books and people learnt of one gathering. */
const MOST_LEARNT = 5000;
const NO_SURNAME = /^(?:jr|sr|ii|iii|esq|the|of)$/u;

export class KnownNames {
  readonly automaton = new WordAutomaton<NameUse>();
  readonly #byKey = new Map<string, Heading>();
  readonly #keys: Record<HeadingKind, string[]> = { book: [], theme: [], person: [] };
  readonly #asked = new Map<string, Heading | undefined>();
  /** Books and authors that files of this gathering name and the journal does not have, each with who wrote it. */
  readonly #learnt = new Map<HeadingId, { heading: Heading; authors: string[] }>();
  /** Books learnt, by the key of their name. */
  readonly #learntCalled = new Map<string, HeadingId[]>();
  /** Words the gathered texts have in lower case somewhere: common words, whatever else they may be. */
  readonly #lower = new Set<string>();

  constructor(readonly journal: Journal) {
    const surnames = new Map<string, NameUse[]>();
    for (const heading of journal.tables.headings.values()) {
      for (const [at, name] of [heading.name, ...heading.alternates].entries()) {
        this.#enter(heading, name, at === 0 ? 'name' : 'alternate');
      }
      if (heading.kind !== 'person' || !heading.roles.includes('author')) continue;
      const words = wordsOf(nameKey(heading.name, 'person'));
      const last = words.at(-1);
      if (words.length < 2 || !last || last.length < 3 || NO_SURNAME.test(last)) continue;
      const uses = surnames.get(last) ?? [];
      uses.push({ heading, how: 'surname', words: [last] });
      surnames.set(last, uses);
    }
    // Two authors of one surname are told apart by nothing in the surname.
    for (const uses of surnames.values()) {
      const [use] = uses;
      if (uses.length === 1 && use) this.automaton.add(use.words, use);
    }
  }

  #enter(heading: Heading, name: string, how: NameUse['how']): void {
    const key = `${heading.kind} ${nameKey(name, heading.kind)}`;
    if (!this.#byKey.has(key)) {
      this.#byKey.set(key, heading);
      this.#keys[heading.kind].push(key);
    }
    const written = new Set<string>();
    const add = (form: string, as: NameUse['how']): void => {
      const words = wordsOf(form);
      const spelt = words.join(' ');
      if (words.length === 0 || written.has(spelt)) return;
      written.add(spelt);
      this.automaton.add(words, { heading, how: as, words });
    };
    add(name, how);
    if (heading.kind === 'person') {
      add(nameKey(name, 'person'), how);
      return;
    }
    const bare = withoutArticle(name);
    // "The Outsiders" may be called "Outsiders"; one word left over is too little of a title with an article.
    if (heading.kind === 'book' && wordsOf(bare).length > 1) add(bare, 'short');
    const [main] = name.split(/[:;]|\s[–—]\s|\s\(/u);
    if (
      heading.kind === 'book' &&
      main &&
      main !== name &&
      wordsOf(withoutArticle(main)).length > 1
    ) {
      add(main, 'short');
    }
  }

  /** The heading of a kind that a name standing alone means, a slip of the pen allowed. */
  called(kind: HeadingKind, name: string): Called | undefined {
    const own = nameKey(name, kind);
    const exact = this.#byKey.get(`${kind} ${own}`);
    if (exact) return { heading: exact, slip: false };
    const key = `${kind} ${own}`;
    if (!this.#asked.has(key)) {
      const near = this.#keys[kind].filter((known) => slipOf(known.slice(kind.length + 1), own));
      const found = new Set(near.map((known) => this.#byKey.get(known)));
      this.#asked.set(key, found.size === 1 ? [...found][0] : undefined);
    }
    const heading = this.#asked.get(key);
    return heading && { heading, slip: true };
  }

  /**
   * Takes in a book that a file of this gathering lists, so that the other files' notes on it are known for what they are. Its heading
   * is not in the journal: ties to it are made new ones by {@link settled}.
   */
  learnBook(title: string, authors: readonly string[], listed = false): void {
    const name = title.trim();
    const key = nameKey(name, 'book');
    if (name === '' || name.length > LONGEST_LEARNT || key === '') return;
    if (this.#learnt.size >= MOST_LEARNT || this.book(name, authors, listed)) return;
    const people = authors
      .map((author) => this.#learnAuthor(author))
      .filter((id) => id !== undefined);
    const id = this.#newId();
    this.#learnt.set(id, {
      heading: { id, kind: 'book', name, alternates: [], authors: people },
      authors: [...authors],
    });
    this.#learntCalled.set(key, [...(this.#learntCalled.get(key) ?? []), id]);
    this.#enterLearnt(id);
  }

  #enterLearnt(id: HeadingId): void {
    const heading = this.headingOf(id);
    if (heading) this.#enter(heading, heading.name, 'name');
    this.#asked.clear();
  }

  /** A heading of the journal, or one that is only learnt. */
  readonly headingOf = (id: HeadingId): Heading | undefined =>
    this.journal.tables.headings.get(id) ?? this.#learnt.get(id)?.heading;

  /**
   * Of the books called so the one that these people wrote, or else one of which nobody says who did; where none is called so, one with a
   * slip in its name. A file that lists books means every letter: `listed` allows no slip, and takes every name for an author's.
   */
  book(title: string, authors: readonly string[], listed = false): Called | undefined {
    const by = listed ? authors : authors.filter((name) => this.mayWrite(name));
    const called = [
      ...[...headingsCalled(this.journal, 'book', title)].sort(),
      ...(this.#learntCalled.get(nameKey(title, 'book')) ?? []),
    ];
    if (called.length > 0) {
      const heading = bookBy(called, by, this.headingOf);
      return heading && { heading, slip: false };
    }
    const near = listed ? undefined : this.called('book', title);
    return near?.heading.kind === 'book' && mayBeBy(near.heading, by, this.headingOf)
      ? near
      : undefined;
  }

  /** A single word, or somebody out of a book, is as likely who says it in the book. */
  mayWrite(name: string): boolean {
    const known = this.#byKey.get(`person ${nameKey(name, 'person')}`);
    const roles = known?.kind === 'person' ? known.roles : [];
    return /\s/u.test(name.trim()) && (roles.includes('author') || !roles.includes('character'));
  }

  #learnAuthor(name: string): HeadingId | undefined {
    if (nameKey(name, 'person') === '' || name.length > LONGEST_LEARNT) return undefined;
    const known = this.called('person', name);
    if (known) return known.heading.id;
    const id = this.#newId();
    this.#learnt.set(id, {
      heading: { id, kind: 'person', name, alternates: [], roles: ['author'] },
      authors: [],
    });
    this.#enterLearnt(id);
    return id;
  }

  #newId(): HeadingId {
    return `learnt ${this.#learnt.size + 1}` as HeadingId;
  }

  /** A tie to a heading that is only learnt as a tie to one still to be made; any other as it is. */
  settled(tie: PieceTie): PieceTie {
    const learnt = tie.heading === undefined ? undefined : this.#learnt.get(tie.heading);
    if (!learnt) return tie;
    const { heading: _, ...rest } = tie;
    const made: PieceTie = { ...rest, isNew: true };
    if (tie.kind === 'person') made.author = true;
    else if (learnt.authors.length > 0)
      Object.assign(made, { authors: learnt.authors, told: true });
    return made;
  }

  /** Takes note of the words of a gathered text that stand in lower case. */
  learnWords(text: string): void {
    for (const { word, capital } of nameWords(text)) if (!capital) this.#lower.add(word);
  }

  /** Whether a single word may as well be a common word, or somebody's first name, as a name of ours. */
  isCommon(word: string): boolean {
    return (
      word.length < 3 || STOP_WORDS.has(word) || GIVEN_NAMES.has(word) || this.#lower.has(word)
    );
  }
}
