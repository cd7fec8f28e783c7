import type { StrandChoice } from './desk';
import type { Core } from './core';
import { strandsNow } from './strands-held';

/** A strand is planned from by what makes it out: so many themes at most, or its books where it has few themes. */
const THEMES = 5;
const FEW = 2;
const BOOKS = 3;

/** Strands to plan from, the largest first, each with the headings that make it out. */
export function strandChoices(core: Core): StrandChoice[] {
  return strandsNow(core)
    .strands.map(({ id, name, entries, themes, books, people }): StrandChoice => {
      const out: StrandChoice['headings'] = themes
        .slice(0, THEMES)
        .map((theme) => ({ id: theme.id, name: theme.name, kind: 'theme' }));
      if (out.length < FEW) {
        out.push(...books.slice(0, BOOKS).map((book) => ({ ...book, kind: 'book' as const })));
        out.push(...people.slice(0, 1).map((person) => ({ ...person, kind: 'person' as const })));
      }
      return { id, name, entries, headings: out };
    })
    .filter(({ headings }) => headings.length > 0)
    .sort((a, b) => b.entries - a.entries);
}
