import { rowsNaming } from '../journal/indexes';
import type { Heading, HeadingId, PersonHeading } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import type { Certainty } from '../language/certainty';
import { tokens } from '../language/tokens';
import type { Called, Named } from './heading-names';
import { quoted, sayEntries, type Reason } from './reason';
import type { WeaveIndex } from './weave-index';
import { tellingStem } from './words';

/**
 * One ground for a proposed tie. `chance` is how often such a ground has held in this journal, 0 to 1: a rule's first value is our own
 * setting and yields to what the reader has tied and turned down.
 */
export interface Evidence {
  chance: number;
  /** Put into words only for what is shown. */
  reason: () => Reason;
}

/** From these chances on a proposal is called sure, likely, a guess; below the last it is not made. Our own settings. */
export const SURE_FROM = 0.85;
export const LIKELY_FROM = 0.55;
export const GUESS_FROM = 0.25;

export function certaintyOf(chance: number): Certainty | undefined {
  if (chance >= SURE_FROM) return 'sure';
  if (chance >= LIKELY_FROM) return 'likely';
  return chance >= GUESS_FROM ? 'guess' : undefined;
}

/** Grounds are not independent, so a second one closes only this much of the gap that independence would close. */
const SECOND_COUNTS = 0.5;

export function combined(evidence: readonly Evidence[]): number {
  const [first = 0, ...others] = evidence.map(({ chance }) => chance).sort((a, b) => b - a);
  return 1 - others.reduce((left, chance) => left * (1 - SECOND_COUNTS * chance), 1 - first);
}

/** Decisions that the first value of a rule is worth. */
const FIRST_COUNTS = 4;
/** What an entry that holds a name and is not tied says against the name: the reader may just not have come to it. */
const UNTIED_COUNTS = 0.15;

/** How often a name says that its heading belongs: a first value by how it stands, then this journal's own experience. */
export function nameChance(index: WeaveIndex, { called, how }: Named): number {
  const { tied, untied, declined } = experience(index, called);
  const against = declined + UNTIED_COUNTS * untied;
  return (FIRST_COUNTS * firstNameChance(called, how) + tied) / (FIRST_COUNTS + tied + against);
}

function firstNameChance({ kind, words }: Called, how: Named['how']): number {
  if (how === 'form') return 0.45;
  if (kind === 'theme') return words.length > 1 ? 0.75 : 0.6;
  // A title or a first name of one word is often just a word or somebody else.
  return words.length > 1 ? 0.9 : 0.5;
}

/** Entries that hold the stems of a name, by what the reader did with them. */
function experience(
  index: WeaveIndex,
  called: Called,
): { tied: number; untied: number; declined: number } {
  const stems = [...new Set(called.words.flatMap((word) => tellingStem(word) ?? []))];
  stems.sort((a, b) => index.words.count(a) - index.words.count(b));
  const [rarest, ...others] = stems;
  const counts = { tied: 0, untied: 0, declined: 0 };
  if (rarest === undefined) return counts;
  const own = entriesTiedTo(index.journal, called.heading);
  const turnedDown = new Set(
    [...rowsNaming(index.journal, 'headings', called.heading, 'declined')].map(
      (id) => index.journal.tables.declined.get(id)?.entry,
    ),
  );
  for (const id of index.words.entriesWith(rarest)) {
    if (others.some((stem) => !index.words.has(id, stem))) continue;
    if (own.has(id)) counts.tied += 1;
    else if (turnedDown.has(id)) counts.declined += 1;
    else counts.untied += 1;
  }
  return counts;
}

export function nameEvidence(named: Named, heading: Heading, chance: number): Evidence {
  return {
    chance,
    reason: () => ({
      code: 'shares-words',
      text:
        named.how === 'name'
          ? `has ${quoted([named.words])}`
          : `has ${quoted([named.words])}, close to ${heading.name}`,
      headings: [heading.id],
      words: [named.words],
    }),
  };
}

/** A heading that is tied in this many entries or fewer says nothing of what goes with it. */
const LEAST_ENTRIES = 3;

/** How often what is tied to `held` is tied to `wanted` too; undefined where there is too little to go by. */
export function goesWith(
  index: WeaveIndex,
  held: HeadingId,
  wanted: HeadingId,
): Evidence | undefined {
  const { journal } = index;
  const own = entriesTiedTo(journal, held);
  if (own.size < LEAST_ENTRIES) return undefined;
  const other = entriesTiedTo(journal, wanted);
  const [few, many] = own.size < other.size ? [own, other] : [other, own];
  let both = 0;
  for (const id of few) if (many.has(id)) both += 1;
  if (both < 2) return undefined;
  const name = (id: HeadingId): string => journal.tables.headings.get(id)?.name ?? '';
  return {
    chance: both / (own.size + 1),
    reason: () => ({
      code: 'shares-heading',
      text: `tied to ${name(held)}; ${both} of the ${sayEntries(own.size)} tied to ${name(held)} are tied to ${name(wanted)} too`,
      headings: [held, wanted],
    }),
  };
}

/** What is about a character is often about the one book the character belongs to; our own settings. */
const IN_ONE_BOOK = 0.7;
const IN_SEVERAL = 0.3;

export function inBook(person: PersonHeading, book: Heading): Evidence {
  return {
    chance: person.books?.length === 1 ? IN_ONE_BOOK : IN_SEVERAL,
    reason: () => ({
      code: 'linked',
      text: `tied to ${person.name}, who is in ${book.name}`,
      headings: [person.id, book.id],
    }),
  };
}

/** The words of a text that have one of these stems, in the order of the stems, each stem once, as it first stands. */
export function formsIn(text: string, stems: readonly string[]): { stem: string; form: string }[] {
  const forms = new Map<string, string>();
  for (const { folded, text: word } of tokens(text)) {
    const found = tellingStem(folded);
    if (found !== undefined && !forms.has(found)) forms.set(found, word);
  }
  return stems.flatMap((stem) => {
    const form = forms.get(stem);
    return form === undefined ? [] : [{ stem, form }];
  });
}

/** Words told in one reason. */
const WORDS_TOLD = 3;

/** "shares “storm” or “tide”, in some form, with 5 entries tied to Courage". */
export function wordReason(
  index: WeaveIndex,
  text: string,
  stems: readonly string[],
  heading: Heading,
): Reason {
  const tied = entriesTiedTo(index.journal, heading.id);
  const common = stems.filter((stem) => index.words.entriesWith(stem).some((id) => tied.has(id)));
  const forms = formsIn(text, common).slice(0, WORDS_TOLD);
  const having = new Set(
    forms.flatMap(({ stem }) => index.words.entriesWith(stem).filter((id) => tied.has(id))),
  );
  const words = forms.map(({ form }) => form);
  return {
    code: 'shares-words',
    text: `shares ${quoted(words, 'or')}, in some form, with ${sayEntries(having.size)} tied to ${heading.name}`,
    headings: [heading.id],
    words,
  };
}
