import type { StrandChoice } from './desk';
import type { Core } from './core';
import { strandsNow } from './strands-held';
import type { KeptStrands } from './weave-answers';

/** A guide keeps so many headings of a strand at most: past the most central ones nothing makes it out. */
const MOST_HEADINGS = 40;
/** Half of them may be other than themes, which say more of a strand than its books do. */
const MOST_OTHERS = MOST_HEADINGS / 2;

/**
 * Strands to plan from, the largest first, each with the headings that make it out.
 *
 * @param kept names and places the reader has given them.
 */
export function strandChoices(core: Core, kept?: KeptStrands): StrandChoice[] {
  return strandsNow(core, kept)
    .strands.map(({ id, name, entries, themes, books, people }): StrandChoice => {
      const others = [...people, ...books].slice(0, MOST_OTHERS);
      const most = themes.slice(0, MOST_HEADINGS - others.length);
      return { id, name, entries, headings: [...most, ...others].map((one) => one.id) };
    })
    .filter(({ headings }) => headings.length > 0)
    .sort((a, b) => b.entries - a.entries);
}
