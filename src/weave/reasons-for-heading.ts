/** Why a heading is near to the seeds. */
import type { Heading, HeadingId } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { tokens } from '../language/tokens';
import { quoted, sayEntries, type Reason } from './reason';
import { nameOf, strongest, themeRelation, type Weighed } from './relations';
import type { SeedView } from './seeds';
import { tiedToBoth } from './tied-to-both';
import type { WeaveIndex } from './weave-index';
import { tellingStem } from './words';

/** Two headings on fewer entries together may be there by chance. */
const LEAST_BOTH = 2;

export function reasonsForHeading(index: WeaveIndex, view: SeedView, id: HeadingId): Reason[] {
  const heading = index.journal.tables.headings.get(id);
  if (!heading) return [];
  const found: Weighed[] = [];
  let goes: Weighed | undefined;
  for (const seed of [...view.headings, ...view.tied.keys()].sort()) {
    const other = index.journal.tables.headings.get(seed);
    if (!other || seed === id) continue;
    const relation = themeRelation(index, id, seed);
    if (relation) {
      const text = `${relation.how} ${other.name}`;
      found.push({ strength: 1, reason: { code: relation.code, text, headings: [id, seed] } });
    }
    const joined = bookRelation(heading, other) ?? invertedBookRelation(heading, other);
    if (joined)
      found.push({ strength: 1, reason: { code: 'linked', text: joined, headings: [id, seed] } });
    const both = tiedToBoth(index.journal, id, seed);
    if (both < LEAST_BOTH) continue;
    const text = `goes with ${other.name} in ${sayEntries(both)}`;
    const few = Math.min(
      entriesTiedTo(index.journal, id).size,
      entriesTiedTo(index.journal, seed).size,
    );
    const reason: Reason = { code: 'shares-heading', text, headings: [id, seed] };
    const strength = both / (few + 1);
    if (!goes || goes.strength < strength) goes = { strength, reason };
  }
  if (goes) found.push(goes);
  found.push(...authorOfSeeds(index, view, heading), ...namedInWords(view, heading));
  return strongest(found);
}

function bookRelation(heading: Heading, other: Heading): string | undefined {
  if (heading.kind !== 'person' || other.kind !== 'book') return undefined;
  if (other.authors.includes(heading.id)) return `wrote ${other.name}`;
  return heading.books?.includes(other.id) ? `is in ${other.name}` : undefined;
}

function invertedBookRelation(heading: Heading, other: Heading): string | undefined {
  if (heading.kind !== 'book' || other.kind !== 'person') return undefined;
  if (heading.authors.includes(other.id)) return `by ${other.name}`;
  return other.books?.includes(heading.id) ? `has ${other.name} in it` : undefined;
}

function authorOfSeeds(index: WeaveIndex, view: SeedView, heading: Heading): Weighed[] {
  if (heading.kind !== 'book') return [];
  for (const author of heading.authors) {
    const other = [...(view.authors.get(author) ?? [])].find((book) => book !== heading.id);
    if (!other) continue;
    const text = `by ${nameOf(index, author)}, like ${nameOf(index, other)}`;
    const headings = [heading.id, author, other];
    return [{ strength: 0.5, reason: { code: 'by-same', text, headings } }];
  }
  return [];
}

/** A heading whose name has all its telling words among the seeds' own. */
function namedInWords(view: SeedView, heading: Heading): Weighed[] {
  for (const name of [heading.name, ...heading.alternates]) {
    const telling = tokens(name).filter(({ folded }) => tellingStem(folded) !== undefined);
    const words = telling.map(({ text }) => text);
    const all = telling.every(({ folded }) => view.words.get(tellingStem(folded)!)?.has(folded));
    if (words.length === 0 || !all) continue;
    const text = `the ${words.length > 1 ? 'words' : 'word'} ${quoted(words)} in its name`;
    return [{ strength: 0.6, reason: { code: 'shares-words', text, words } }];
  }
  return [];
}
