/** The headings that accepted pieces need and the journal lacks: each name once, books with those who wrote them. */
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
import type { PieceTie } from './piece';

export class NewHeadings {
  readonly #byKey = new Map<string, Heading>();
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

  /** The book heading of a tie, made where there is none. */
  book(tie: PieceTie, { authors }: { authors: readonly string[] }): BookHeading | undefined {
    const id = this.#idOf({ ...tie, authors: [...authors] });
    const heading = id && (this.#changed.get(id) ?? this.journal.tables.headings.get(id));
    return heading && heading.kind === 'book' ? heading : undefined;
  }

  put(heading: Heading): void {
    this.#changed.set(heading.id, heading);
  }

  made(): Heading[] {
    return [...this.#changed.values()];
  }

  #idOf(tie: PieceTie): HeadingId | undefined {
    const { headings } = this.journal.tables;
    if (tie.heading && headings.has(tie.heading)) return tie.heading;
    if (nameKey(tie.name, tie.kind) === '') return undefined;
    return this.#called(tie.kind, tie.name) ?? this.#make(tie);
  }

  /** By name in the journal, or among those made here; an ambiguous name is the one that was first. */
  #called(kind: Heading['kind'], name: string): HeadingId | undefined {
    const [known] = [...headingsCalled(this.journal, kind, name)].sort();
    return known ?? this.#byKey.get(`${kind} ${nameKey(name, kind)}`)?.id;
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
    this.#byKey.set(`${tie.kind} ${nameKey(tie.name, tie.kind)}`, heading);
    this.#changed.set(id, heading);
    return id;
  }

  #author(name: string): HeadingId | undefined {
    if (nameKey(name, 'person') === '') return undefined;
    const known = this.#called('person', name);
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
