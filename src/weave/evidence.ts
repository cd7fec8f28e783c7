import { rowsNaming } from '../journal/indexes';
import type { Heading, HeadingId, PersonHeading } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import type { Certainty } from '../language/certainty';
import { tokens } from '../language/tokens';
import type { Called, Named } from './heading-names';
import { quoted, sayEntries, type Reason } from './reason';
import { tiedToBoth } from './tied-to-both';
import type { WeaveIndex } from './weave-index';
import { tellingStem } from './words';

/**
 * One ground for a proposed tie. `share` is how often, in this journal, entries of which the same holds are tied, 0 to 1: counted
 * where there is something to count, blended with a first value of our own where there is little.
 */
export interface Evidence {
  share: number;
  /** Put into words only for what is shown. */
  reason: () => Reason;
}

/** Of the ties that entries should have, the share that readers are taken to have passed over where they have tied at all. Our own setting. */
const PASSED_OVER = 0.25;
const MOST_CERTAIN = 0.95;

/**
 * The chance that a tie belongs, from the share of like entries that have it. An entry nobody has gone through (`settled` false) is one of
 * them; for one that has been gone through and has no such tie, most of that share is used up: the odds are those of the
 * share times those of having passed it over.
 */
export function chanceOf(share: number, settled: boolean): number {
  const odds = (share / (1 - Math.min(share, 0.999))) * (PASSED_OVER / (1 - PASSED_OVER));
  return Math.min(MOST_CERTAIN, settled ? odds : share);
}

/** From these chances on a proposal is called sure, likely, a guess; below the last it is not made. Our own settings. */
export const SURE_FROM = 0.85;
export const LIKELY_FROM = 0.5;
export const GUESS_FROM = 0.2;

export function certaintyOf(chance: number): Certainty | undefined {
  if (chance >= SURE_FROM) return 'sure';
  if (chance >= LIKELY_FROM) return 'likely';
  return chance >= GUESS_FROM ? 'guess' : undefined;
}

/** Grounds are not independent, so a second one closes only this much of the gap that independence would close. */
const SECOND_COUNTS = 0.5;

export function combined(chances: readonly number[]): number {
  const [first = 0, ...others] = [...chances].sort((a, b) => b - a);
  return 1 - others.reduce((left, chance) => left * (1 - SECOND_COUNTS * chance), 1 - first);
}

/** Decisions that the first value of a rule is worth. */
const FIRST_COUNTS = 4;
/** A tie turned down says more than one never thought of. */
const DECLINED_COUNTS = 3;

/** How often a name says that its heading belongs: a first value by how it stands, then this journal's own experience. */
export function nameShare(index: WeaveIndex, { called, how }: Named): number {
  const { tied, untied, declined } = experience(index, called);
  const all = tied + untied + DECLINED_COUNTS * declined;
  return (FIRST_COUNTS * firstNameShare(called, how) + tied) / (FIRST_COUNTS + all);
}

function firstNameShare({ kind, words }: Called, how: Named['how']): number {
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

export function nameEvidence(named: Named, heading: Heading, share: number): Evidence {
  return {
    share,
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
/** Of many headings the one that seems to go best is taken, and seems better than it is: as if so many entries more spoke against it. */
export const DOUBT = 2;

/**
 * How often what is tied to `held` is tied to `wanted` too; undefined where there is too little to go by. `both` is how many
 * entries are tied to both, where the caller has counted.
 */
export function goesWith(
  index: WeaveIndex,
  held: HeadingId,
  wanted: HeadingId,
  both = tiedToBoth(index.journal, held, wanted),
): Evidence | undefined {
  const { journal } = index;
  const own = entriesTiedTo(journal, held);
  if (own.size < LEAST_ENTRIES) return undefined;
  if (both < 2) return undefined;
  const name = (id: HeadingId): string => journal.tables.headings.get(id)?.name ?? '';
  return {
    share: (both - 0.5) / (own.size + DOUBT),
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

export function inBook(index: WeaveIndex, person: PersonHeading, book: Heading): Evidence {
  const first = person.books?.length === 1 ? IN_ONE_BOOK : IN_SEVERAL;
  const both = tiedToBoth(index.journal, person.id, book.id);
  const all = entriesTiedTo(index.journal, person.id).size;
  return {
    share: (FIRST_COUNTS * first + both) / (FIRST_COUNTS + all),
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

/** Words in more than this share of the entries tell little. */
const COMMON = 0.08;
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
  const known = stems.filter((stem) => index.words.entriesWith(stem).some((id) => tied.has(id)));
  // The rarer words tell more; the common ones are told only where there is nothing else.
  const rare = known.filter((stem) => index.words.count(stem) <= COMMON * index.words.size);
  const forms = formsIn(text, rare.length > 0 ? rare : known).slice(0, WORDS_TOLD);
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
