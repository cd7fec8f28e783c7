/** The headings that accepted pieces need and the journal lacks: each name once, of books each name and who wrote it. */
import { headingsCalled } from '../journal/indexes';
import type {
  BookHeading,
  Heading,
  HeadingId,
  Journal,
  PersonHeading,
  ThemeHeading,
  Tie,
} from '../journal/records';
import { nameKey } from '../language/filing';
import type { BookFound } from './block';
import type { PieceTie } from './piece';
import { bookBy, mayBeBy } from './same-book';

export class NewHeadings {
  /** Made here, by kind and name; books of one name by different people stand together. */
  readonly #byKey = new Map<string, HeadingId[]>();
  readonly #changed = new Map<HeadingId, Heading>();

  constructor(
    readonly journal: Journal,
    readonly newId: () => string,
  ) {}

  /** The tie to be kept; undefined for a heading that is both new and a guess: headings are not made on a guess. */
  tie(tie: PieceTie): Tie | undefined {
    if (tie.isNew && tie.certainty === 'guess') return undefined;
    const id = this.#idOf(tie);
    if (!id) return undefined;
    const made: Tie = {
      heading: id,
      role: tie.role,
      by: tie.certainty === 'guess' ? 'proposed' : 'gathering',
    };
    if (tie.place && Object.keys(tie.place).length > 0) made.place = tie.place;
    return made;
  }

  /** The book heading of a tie, made where there is none: one of its name that somebody else wrote is another book. */
  book(
    tie: PieceTie,
    { title, authors }: Pick<BookFound, 'title' | 'authors'>,
  ): BookHeading | undefined {
    const tied = tie.heading && this.get(tie.heading);
    if (tied?.kind === 'book' && mayBeBy(tied, authors, this.get)) return tied;
    const name = tied ? title : tie.name;
    if (nameKey(name, 'book') === '') return undefined;
    const there = bookBy(this.#called('book', name), authors, this.get);
    if (there) return there;
    const made = this.get(this.#make({ ...tie, name, authors: [...authors] }));
    return made?.kind === 'book' ? made : undefined;
  }

  readonly get = (id: HeadingId): Heading | undefined =>
    this.#changed.get(id) ?? this.journal.tables.headings.get(id);

  put(heading: Heading): void {
    this.#changed.set(heading.id, heading);
  }

  made(): Heading[] {
    return [...this.#changed.values()];
  }

  #idOf(tie: PieceTie): HeadingId | undefined {
    const there = this.there(tie);
    return there ?? (nameKey(tie.name, tie.kind) === '' ? undefined : this.#make(tie));
  }

  /** The heading of a tie, where the journal has it or it is made here already. */
  there(tie: PieceTie): HeadingId | undefined {
    const { headings } = this.journal.tables;
    if (tie.heading && headings.has(tie.heading)) return tie.heading;
    if (nameKey(tie.name, tie.kind) === '') return undefined;
    const called = this.#called(tie.kind, tie.name);
    const written = tie.authors ? bookBy(called, tie.authors, this.get)?.id : undefined;
    return written ?? (tie.told ? undefined : called[0]);
  }

  /** By name in the journal, then among those made here; an ambiguous name is the one that was first. */
  #called(kind: Heading['kind'], name: string): HeadingId[] {
    const made = this.#byKey.get(`${kind} ${nameKey(name, kind)}`) ?? [];
    return [...[...headingsCalled(this.journal, kind, name)].sort(), ...made];
  }

  #make(tie: PieceTie): HeadingId {
    const id = this.newId() as HeadingId;
    const base = { id, name: tie.name.trim(), alternates: [] };
    let heading: Heading;
    if (tie.kind === 'book') {
      const authors = (tie.authors ?? []).flatMap((name) => this.#author(name) ?? []);
      heading = { ...base, kind: 'book', authors: [...new Set(authors)] } satisfies BookHeading;
    } else if (tie.kind === 'person') {
      heading = {
        ...base,
        kind: 'person',
        roles: tie.author ? ['author'] : [],
      } satisfies PersonHeading;
    } else heading = { ...base, kind: 'theme', broader: [], related: [] } satisfies ThemeHeading;
    const key = `${tie.kind} ${nameKey(tie.name, tie.kind)}`;
    this.#byKey.set(key, [...(this.#byKey.get(key) ?? []), id]);
    this.#changed.set(id, heading);
    return id;
  }

  #author(name: string): HeadingId | undefined {
    if (nameKey(name, 'person') === '') return undefined;
    const [known] = this.#called('person', name);
    if (!known) {
      return this.#make({
        name,
        kind: 'person',
        role: 'about',
        certainty: 'likely',
        isNew: true,
        author: true,
      });
    }
    const held = this.#changed.get(known);
    if (held?.kind === 'person' && !held.roles.includes('author')) {
      this.#changed.set(known, { ...held, roles: [...held.roles, 'author'] });
    }
    return known;
  }
}
