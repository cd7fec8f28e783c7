import type { Heading, HeadingId } from '../journal/records';
import type { RelatedWords } from '../language/related-words';
import { fold } from '../language/tokens';
import { tellingStem } from './words';

/** A word less near than this says nothing. */
const LEAST = 0.15;
/** Words taken for one name. */
const MOST = 24;

/** Stems of words that the thesaurus has near the names of themes, both ways. Books and people are not called by their meaning. */
export class RelatedNames {
  #byStem = new Map<string, Map<HeadingId, number>>();
  #stems = new Map<HeadingId, Map<string, number>>();

  constructor(
    readonly thesaurus: RelatedWords | undefined,
    headings: Iterable<Heading>,
  ) {
    for (const heading of headings) this.put(heading);
  }

  put(heading: Heading): void {
    this.remove(heading.id);
    if (heading.kind !== 'theme' || !this.thesaurus) return;
    const names = [heading.name, ...heading.alternates].map((name) => fold(name).trim());
    const own = new Set(names.map(tellingStem));
    const stems = new Map<string, number>();
    for (const name of names) {
      for (const { word, weight } of this.thesaurus.of(name).slice(0, MOST)) {
        const stem = tellingStem(word);
        if (stem === undefined || weight < LEAST || own.has(stem)) continue;
        stems.set(stem, Math.max(weight, stems.get(stem) ?? 0));
      }
    }
    this.#stems.set(heading.id, stems);
    for (const [stem, weight] of stems) {
      const held = this.#byStem.get(stem);
      if (held) held.set(heading.id, weight);
      else this.#byStem.set(stem, new Map([[heading.id, weight]]));
    }
  }

  remove(id: HeadingId): void {
    for (const stem of this.#stems.get(id)?.keys() ?? []) this.#byStem.get(stem)?.delete(id);
    this.#stems.delete(id);
  }

  /** Stems near what a heading is called, with how near, 0 to 1. */
  of(id: HeadingId): ReadonlyMap<string, number> {
    return this.#stems.get(id) ?? NONE;
  }

  /** Headings whose name a stem is near to. */
  near(stem: string): ReadonlyMap<HeadingId, number> {
    return this.#byStem.get(stem) ?? (NONE as ReadonlyMap<never, number>);
  }
}

const NONE: ReadonlyMap<string, number> = new Map();
