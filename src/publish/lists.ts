/** The short lists of a leader's copy: what to have ready, what to leave out if late, what to take care with. */
import { HAZARDS, type Entry, type Hazard, type Heading } from '../journal/records';
import { bookTieOf } from './cite';
import { sayNumber } from './clock';
import type { CautionTexts, DocItem, DocPart } from './model';

/** Local rules always have the last word. */
export const DEFERENCE = 'Follow your local rules and the judgement of a responsible adult.';

/** Materials of all entries, each once whatever its capitals, then handouts and books to mark. `focus` holds the headings the guide is from. */
export function haveReady(
  entries: readonly Entry[],
  items: readonly DocItem[],
  size: number | undefined,
  headings: ReadonlyMap<string, Heading>,
  focus: readonly string[] = [],
): string[] {
  const seen = new Map<string, string>();
  for (const material of entries.flatMap((entry) => entry.materials ?? [])) {
    const key = material.trim().replace(/\s+/g, ' ').toLocaleLowerCase('en-GB');
    if (key && !seen.has(key)) seen.set(key, material.trim());
  }
  const ready = [...seen.values()];
  if (items.some((item) => item.given))
    ready.push(size ? `${sayNumber(size)} ${size === 1 ? 'handout' : 'handouts'}` : 'handouts');
  const books = booksReady(entries, headings, focus);
  return books ? [...ready, books] : ready;
}

/** The books that are quoted from: by their names where the guide has others besides and they are few. */
function booksReady(
  entries: readonly Entry[],
  headings: ReadonlyMap<string, Heading>,
  focus: readonly string[],
): string | undefined {
  const bookOf = (entry: Entry): Heading[] => {
    const found = bookTieOf(entry, headings);
    return found ? [found.book] : [];
  };
  const quotes = entries.filter((entry) => entry.kind === 'quote');
  const quoted = [...new Set(quotes.flatMap(bookOf))];
  const all = new Set(entries.flatMap(bookOf));
  for (const id of focus) {
    const heading = headings.get(id);
    if (heading?.kind === 'book') all.add(heading);
  }
  if (quoted.length === 0) return undefined;
  if (all.size === 1) return 'the book, marked';
  if (all.size === 2 && quoted.length === 2) return 'both books, marked';
  if (quoted.length > 3) return `the ${sayNumber(quoted.length)} books quoted from, marked`;
  return `${new Intl.ListFormat('en-GB').format(quoted.map(({ name }) => `‘${name}’`))}, marked`;
}

/**
 * Sentences on what to leave out, first things first, three at the most. Without an order from the
 * composer: what need not stay, from the last back, and the closing only when nothing else is left,
 * because it is the ending that is lost when time runs out. Nobody is late at the first item, and in
 * the first part hardly: its items come after those of the others.
 */
export function ifLate(parts: readonly DocPart[], late: readonly string[] | undefined): string[] {
  const closing = parts.at(-1)?.items ?? [];
  const before = parts.slice(0, -1).flatMap((part) => part.items);
  const placed = [...before, ...closing];
  const order = late
    ? late.flatMap((id) => placed.find(({ entry }) => entry === id) ?? [])
    : [...before.toReversed(), ...closing.toReversed()];
  // What is asked if time allows goes before anything else, the last of it first.
  const marked = placed.filter(({ ifTime }) => ifTime).toReversed();
  const opening = parts.find(({ items }) => items.length > 0)?.items ?? [];
  const early = order.filter((one) => opening.includes(one));
  const others = order.filter((one) => !opening.includes(one));
  const out = [...new Set([...marked, ...others, ...early])]
    .filter((one) => !one.must && one !== opening[0])
    .slice(0, 3);
  if (out.length === 0) return [];
  const clocks = out.map(({ clock }) => clock).join(', then ');
  const words = out.map((item) => sayNumber(item.minutes));
  // Figures for all where any is a figure.
  const minutes = words.some((said) => /\d/.test(said))
    ? out.map((item) => String(item.minutes))
    : words;
  const noun = out.at(-1)!.minutes === 1 ? 'minute' : 'minutes';
  const each =
    out.length > 1 && new Set(minutes).size === 1
      ? `${minutes[0]} ${noun} each`
      : `${new Intl.ListFormat('en-GB').format(minutes)} ${noun}`;
  return [`leave out ${clocks}: ${each}`];
}

/** Without the last word, which is said once for all. The usual caution for each hazard named, once, in the order of `HAZARDS`; a hazard without words is still named. */
export function cautionsFor(
  hazards: readonly Hazard[],
  texts: CautionTexts,
): { hazard: Hazard; text: string }[] {
  return HAZARDS.filter((hazard) => hazards.includes(hazard)).map((hazard) => {
    const said = texts[hazard];
    return {
      hazard,
      text: said
        ? said.caution.replace(DEFERENCE, '').trim()
        : `Take care with ${hazard.replaceAll('-', ' ')}.`,
    };
  });
}
