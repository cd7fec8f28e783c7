import { rowsNaming } from '../journal/indexes';
import type { EntryId, Heading, HeadingId, PersonHeading } from '../journal/records';
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
  /** How much of what it says is taken, 0 to 1: grounds that hang together share what they have to say. */
  counts: number;
  /** Put into words only for what is shown. What only weighs, or speaks against, has none. */
  reason?: () => Reason;
}

/** Of the ties that entries should have, the share that readers are taken to have passed over where they have tied at all. Our own setting. */
const PASSED_OVER = 0.25;
const MOST_CERTAIN = 0.99;
const LEAST_CHANCE = 0.0005;

const logOdds = (share: number): number => {
  const held = Math.min(0.999, Math.max(LEAST_CHANCE, share));
  return Math.log(held / (1 - held));
};

/** Grounds that hang together flatter: what they say past even odds counts this much, and all are lowered a little. Set on hidden ties. */
const PAST_EVEN = 0.65;
const LOWERED = 0.45;

/** How often an entry that has been gone through for headings of its kind is tied to this one: what is believed before there is any ground. */
export function baseShare(index: WeaveIndex, heading: Heading): number {
  const tied = entriesTiedTo(index.journal, heading.id).size;
  return (tied + 0.3) / (index.kinds.count(heading.kind) + 5);
}

/** "on 551 of the 1,195 entries that have a theme": the base as a ground, told where there is no other. */
export function baseEvidence(index: WeaveIndex, heading: Heading): Evidence {
  const { kind, id } = heading;
  return {
    share: baseShare(index, heading),
    counts: 0,
    reason: () => ({
      code: 'common',
      text: `on ${entriesTiedTo(index.journal, id).size} of the ${sayEntries(index.kinds.count(kind))} that have a ${kind}`,
      headings: [id],
    }),
  };
}

/**
 * The chance that a tie belongs: each ground moves the log-odds from the base towards its own share, by as much as it counts (log-linear
 * pooling, Genest & Zidek 1986; with counts of 1 it is naive Bayes), and what comes out is brought to what has been found right. One for an entry that the reader has gone through (`settled`) and not
 * tied is lowered by the odds of having passed it over.
 */
export function chanceOf(base: number, evidence: readonly Evidence[], settled: boolean): number {
  const from = logOdds(base);
  let sum = from + (settled ? logOdds(PASSED_OVER) : 0);
  for (const { share, counts } of evidence) sum += counts * (logOdds(share) - from);
  const told = (sum > 0 ? PAST_EVEN * sum : sum) - LOWERED;
  return Math.min(MOST_CERTAIN, 1 / (1 + Math.exp(-told)));
}

/** From these chances on a proposal is called sure, likely, a guess; below the last it is not made. Of those called sure nine in ten are right. */
export const SURE_FROM = 0.9;
export const LIKELY_FROM = 0.5;
export const GUESS_FROM = 0.2;

export function certaintyOf(chance: number): Certainty | undefined {
  if (chance >= SURE_FROM) return 'sure';
  if (chance >= LIKELY_FROM) return 'likely';
  return chance >= GUESS_FROM ? 'guess' : undefined;
}

/** A share of few counts less: as if so many more had gone by the base. */
export const smoothed = (tied: number, all: number, base: number, more: number): number =>
  (tied + more * base) / (all + more);

/** Decisions that the first value of a rule is worth. */
const FIRST_COUNTS = 4;
/** A tie turned down says more than one never thought of. */
const DECLINED_COUNTS = 3;

/** How often a name says that its heading belongs: a first value by how it stands, then this journal's own experience. */
export function nameShare(index: WeaveIndex, { called, how }: Named): number {
  const stems = called.words.flatMap((word) => tellingStem(word) ?? []);
  return learnt(firstNameShare(called, how), experience(index, called.heading, stems));
}

/** What a word near in meaning to a theme's name says at first, for each part of nearness. Our own setting. */
const RELATED_FIRST = 0.35;

/** The same for a word that the thesaurus has beside a heading's name, `weight` 0 to 1. */
export const relatedShare = (
  index: WeaveIndex,
  heading: HeadingId,
  stem: string,
  weight: number,
): number => learnt(RELATED_FIRST * weight, experience(index, heading, [stem]));

function learnt(first: number, { tied, untied, declined }: Experience): number {
  const all = tied + untied + DECLINED_COUNTS * declined;
  return (FIRST_COUNTS * first + tied) / (FIRST_COUNTS + all);
}

function firstNameShare({ kind, words }: Called, how: Named['how']): number {
  if (how === 'form') return 0.45;
  if (kind === 'theme') return words.length > 1 ? 0.75 : 0.6;
  // A title or a first name of one word is often just a word or somebody else.
  return words.length > 1 ? 0.9 : 0.5;
}

interface Experience {
  tied: number;
  untied: number;
  declined: number;
}

/** Of a word in more entries than this it is not gone through who holds it. */
const COUNTED = 500;

/** Entries that hold all of some stems, by what the reader did with them; those not gone through for such headings say nothing. */
function experience(index: WeaveIndex, heading: HeadingId, words: readonly string[]): Experience {
  const stems = [...new Set(words)];
  stems.sort((a, b) => index.words.count(a) - index.words.count(b));
  const [rarest, ...others] = stems;
  const counts = { tied: 0, untied: 0, declined: 0 };
  const kind = index.journal.tables.headings.get(heading)?.kind;
  if (rarest === undefined || !kind) return counts;
  const own = entriesTiedTo(index.journal, heading);
  const turnedDown = new Set(
    [...rowsNaming(index.journal, 'headings', heading, 'declined')].flatMap(
      (id) => index.journal.tables.declined.get(id)?.entry ?? [],
    ),
  );
  const held = (id: EntryId): boolean => stems.every((stem) => index.words.has(id, stem));
  const holders = index.words.count(rarest);
  if (others.length === 0 && holders > COUNTED && own.size < holders) {
    // Those who hold it are taken to have been gone through as often as entries are.
    for (const id of own) if (held(id)) counts.tied += 1;
    for (const id of turnedDown) if (!own.has(id) && held(id)) counts.declined += 1;
    const through = (holders * index.kinds.count(kind)) / Math.max(1, index.words.size);
    counts.untied = Math.max(0, through - counts.tied - counts.declined);
    return counts;
  }
  for (const id of index.words.entriesWith(rarest)) {
    if (others.some((stem) => !index.words.has(id, stem))) continue;
    if (own.has(id)) counts.tied += 1;
    else if (turnedDown.has(id)) counts.declined += 1;
    else if (index.kinds.has(id, kind)) counts.untied += 1;
  }
  return counts;
}

/** `find` tells how the name stands in the text, and is asked for what is shown only. */
export function nameEvidence(heading: Heading, share: number, find: () => Named): Evidence {
  const reason = (): Reason => {
    const { how, words } = find();
    const close = how === 'name' ? '' : `, close to ${heading.name}`;
    const text = `has ${quoted([words])}${close}`;
    return { code: 'shares-words', text, headings: [heading.id], words: [words] };
  };
  return { share, counts: 1, reason };
}

/** "has “bravery”, near Courage in meaning". */
export function relatedEvidence(form: string, heading: Heading, share: number): Evidence {
  return {
    share,
    counts: 1,
    reason: () => ({
      code: 'shares-words',
      text: `has “${form}”, near ${heading.name} in meaning`,
      headings: [heading.id],
      words: [form],
    }),
  };
}

/** What is tied to several headings is counted by each of them, so none counts whole. Our own setting. */
const HELD_COUNTS = 0.75;
/** What a held heading says is smoothed by so many entries. */
const HELD_MORE = 3;

/** How often what is tied to `held`, and gone through for such headings, is tied to `wanted`: `both` of `all`. Two or more are told. */
export function goesWith(
  index: WeaveIndex,
  held: HeadingId,
  wanted: HeadingId,
  { both, all, base }: { both: number; all: number; base: number },
): Evidence {
  const { journal } = index;
  const name = (id: HeadingId): string => journal.tables.headings.get(id)?.name ?? '';
  const share = smoothed(both, all, base, HELD_MORE);
  const reason = (): Reason => {
    const own = entriesTiedTo(journal, held).size;
    const both = tiedToBoth(journal, held, wanted);
    const are = both === 1 ? 'is' : 'are';
    return {
      code: 'shares-heading',
      text: `tied to ${name(held)}; ${both} of its ${sayEntries(own)} ${are} tied to ${name(wanted)} too`,
      headings: [held, wanted],
    };
  };
  return { share, counts: HELD_COUNTS, ...(both > 0 ? { reason } : {}) };
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
    counts: 1,
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

/** "shares “storm” or “tide”, in some form, with 5 entries tied to Courage"; each of the stems stands in some entry that is tied. */
export function wordReason(
  index: WeaveIndex,
  text: string,
  stems: readonly string[],
  heading: Heading,
): Reason {
  const tied = entriesTiedTo(index.journal, heading.id);
  // The rarer words tell more; the common ones are told only where there is nothing else.
  const rare = stems.filter((stem) => index.words.count(stem) <= COMMON * index.words.size);
  const forms = formsIn(text, rare.length > 0 ? rare : stems).slice(0, WORDS_TOLD);
  const having = new Set(
    forms.flatMap(({ stem }) =>
      index.words.count(stem) > tied.size
        ? [...tied].filter((id) => index.words.has(id, stem))
        : index.words.entriesWith(stem).filter((id) => tied.has(id)),
    ),
  );
  const words = forms.map(({ form }) => form);
  return {
    code: 'shares-words',
    text: `shares ${quoted(words, 'or')}, in some form, with ${sayEntries(having.size)} tied to ${heading.name}`,
    headings: [heading.id],
    words,
  };
}
