import { rowsNaming } from '../journal/indexes';
import type { EntryId, Heading, HeadingId } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { tokens } from '../language/tokens';
import {
  baseShare,
  formsIn,
  goesWith,
  inBook,
  nameShare,
  nameEvidence,
  relatedEvidence,
  relatedShare,
  wordReason,
  type Evidence,
} from './evidence';
import { callings, findName, type Named } from './heading-names';
import { best, rounded, spread } from './ranking';
import type { Reason } from './reason';
import { wordsOf } from './shown';
import type { WeaveIndex } from './weave-index';
import { tellingStem } from './words';

type Grounds = Map<EntryId, Evidence[]>;

/**
 * Everything that speaks for tying entries to a heading, tied ones included. Where chances below `least` are not wanted, headings that go with this
 * one far less often bring up no entries.
 */
export function evidenceForHeading(index: WeaveIndex, id: HeadingId, least = 0): Grounds {
  const heading = index.journal.tables.headings.get(id);
  const grounds: Grounds = new Map();
  if (!heading) return grounds;
  const enough = BRINGS * least;
  const everyday = byName(index, heading, grounds, enough);
  byRelated(index, heading, grounds);
  byWords(index, heading, grounds);
  byHeld(index, heading, grounds, enough);
  for (const { stem, evidence } of everyday)
    for (const id of grounds.keys()) if (index.words.has(id, stem)) add(grounds, id, evidence(id));
  return grounds;
}

function add(grounds: Grounds, id: EntryId, evidence: Evidence): void {
  const held = grounds.get(id);
  if (held) held.push(evidence);
  else grounds.set(id, [evidence]);
}

/** A theme's name in more entries than this is a word like others: whether it stands in this form or another is looked up for what is shown. */
const COMMON_NAME = 200;

/** A name that is an everyday word in this journal: it speaks for what something else brings up, and brings up nothing itself. */
interface Everyday {
  stem: string;
  evidence: (id: EntryId) => Evidence;
}

function byName(index: WeaveIndex, heading: Heading, grounds: Grounds, enough: number): Everyday[] {
  const everyday: Everyday[] = [];
  const base = baseShare(index, heading);
  const found = new Map<EntryId, { named: () => Named; share: number; how: Named['how'] }>();
  const tied = entriesTiedTo(index.journal, heading.id);
  const { entries } = index.journal.tables;
  for (const called of callings(heading)) {
    const stems = called.words.flatMap((word) => tellingStem(word) ?? []);
    const [rarest] = stems.sort((a, b) => index.words.count(a) - index.words.count(b));
    if (rarest === undefined) continue;
    const common =
      heading.kind === 'theme' &&
      called.words.length === 1 &&
      index.words.count(rarest) > COMMON_NAME;
    // One name is as telling in every entry, so its experience is gone through once.
    const shares = new Map<string, number>();
    const shareOf = (named: Named): number => {
      const share = shares.get(named.how) ?? nameShare(index, named);
      shares.set(named.how, share);
      return share;
    };
    const inText = (id: EntryId): Named | undefined => {
      const text = wordsOf(entries.get(id)!);
      return findName(called, text, tokens(text));
    };
    const unread: Named = { called, words: called.words.join(' '), how: 'form' };
    if (common && enough > 0 && !brings(shareOf(unread), base, enough)) {
      const evidence = (id: EntryId): Evidence =>
        nameEvidence(heading, shareOf(unread), () => inText(id) ?? unread);
      everyday.push({ stem: rarest, evidence });
      continue;
    }
    for (const id of index.words.entriesWith(rarest)) {
      if (tied.has(id) || found.get(id)?.how === 'name') continue;
      const named = common ? unread : inText(id);
      if (named)
        found.set(id, {
          named: () => (common ? inText(id) : named) ?? named,
          share: shareOf(named),
          how: named.how,
        });
    }
  }
  for (const [id, { named, share }] of found) add(grounds, id, nameEvidence(heading, share, named));
  return everyday;
}

/** Entries with a word that is near in meaning to what the heading is called; the nearest word of each. */
function byRelated(index: WeaveIndex, heading: Heading, grounds: Grounds): void {
  const tied = entriesTiedTo(index.journal, heading.id);
  const done = new Set<EntryId>();
  const nearest = [...index.related.of(heading.id)].sort(
    ([a, left], [b, right]) => right - left || (a < b ? -1 : 1),
  );
  for (const [stem, weight] of nearest) {
    const found = index.words.entriesWith(stem).filter((id) => !tied.has(id) && !done.has(id));
    const share = found.length === 0 ? 0 : relatedShare(index, heading.id, stem, weight);
    for (const id of found) {
      done.add(id);
      const text = (): string => wordsOf(index.journal.tables.entries.get(id)!);
      const form = (): string => formsIn(text(), [stem])[0]?.form ?? stem;
      add(grounds, id, {
        ...relatedEvidence(stem, heading, share),
        reason: () => relatedEvidence(form(), heading, share).reason!(),
      });
    }
  }
}

/** Terms kept of what is tied. */
const TERMS = 25;
/** Fewer tied entries have no words of their own yet. */
const LEAST_TIED = 3;
/** What is foremost seems better than it is: as if so many entries more spoke against it. */
const DOUBT = 2;
/** Of a great many tied entries this many, evenly spread, are measured. */
const MEASURED = 300;
/** No more than this are looked at for being alike: what is further down is not the surest, whatever else speaks for it. */
const MOST_ALIKE = 10_000;

const measuredOf = (index: WeaveIndex, id: HeadingId): readonly EntryId[] =>
  spread([...entriesTiedTo(index.journal, id)].sort(), MEASURED);

/** The weightiest stems of what is tied to a heading: the mean of its entries' weights × idf (Rocchio 1971, without negatives). */
export function tiedTerms(
  index: WeaveIndex,
  id: HeadingId,
  tied = measuredOf(index, id),
): Map<string, number> {
  const sums = new Map<string, { weight: number; entries: number }>();
  for (const entry of tied) {
    for (const [word, weight] of index.words.vectorOf(entry)) {
      const held = sums.get(word);
      if (held) {
        held.weight += weight;
        held.entries += 1;
      } else sums.set(word, { weight, entries: 1 });
    }
  }
  const terms = [...sums].flatMap(([word, { weight, entries }]): [string, number][] => {
    const mean = (weight / tied.length) * index.words.idf(word);
    return entries > 1 && mean > 0 ? [[word, mean]] : [];
  });
  terms.sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1));
  return new Map(terms.slice(0, TERMS));
}

/**
 * An entry is as likely to belong as entries at least as like what is tied have turned out to: of those, the share that are tied. A tied
 * entry's own words are taken out before it is measured, or each would be most like itself.
 */
function byWords(index: WeaveIndex, heading: Heading, grounds: Grounds): void {
  const tied = entriesTiedTo(index.journal, heading.id);
  if (tied.size < LEAST_TIED) return;
  const measured = measuredOf(index, heading.id);
  const terms = tiedTerms(index, heading.id, measured);
  const known: number[] = [];
  for (const id of measured) {
    let [score, own] = [0, 0];
    for (const [word, weight] of index.words.vectorOf(id)) {
      const asked = terms.get(word);
      if (asked === undefined) continue;
      score += asked * weight;
      own += index.words.idf(word) * weight * weight;
    }
    known.push(rounded((measured.length * score - own) / (measured.length - 1)));
  }
  const scale = tied.size / known.length;
  known.sort((a, b) => b - a);
  // Further down the share is below the least, whatever is there.
  const below = Math.ceil((WORDS_COUNT / LEAST_SHARE) * tied.size);
  const most = tied.size + Math.min(MOST_ALIKE, below);
  const others = best(
    index.words.mostLike(terms, most).filter(([id]) => !tied.has(id)),
    Math.min(MOST_ALIKE, most),
  );
  let above = 0;
  for (const [rank, [id, score]] of others.entries()) {
    while (above < known.length && known[above]! >= score) above += 1;
    const held = above * scale;
    const share = (WORDS_COUNT * held) / (held + rank + DOUBT);
    if (share < LEAST_SHARE) continue;
    // One word in common is no likeness.
    if (index.words.shared(id, terms).length < 2) continue;
    const reason = (): Reason => {
      const shared = [...terms.keys()].filter((word) => index.words.has(id, word));
      return wordReason(index, wordsOf(index.journal.tables.entries.get(id)!), shared, heading);
    };
    add(grounds, id, { share, counts: LIKE_COUNTS, reason });
  }
}

/** The terms were chosen to suit what is tied, so likeness to them flatters. Our own settings. */
const WORDS_COUNT = 0.6;
const LIKE_COUNTS = 0.6;

/** Likeness weaker than this is not kept. */
const LEAST_SHARE = 0.08;

/** What is said by one heading may come to so much more by others. */
const BRINGS = 0.4;
/** And its odds must be so much more than is common. */
const BRINGS_OVER = 1.5;

const brings = (share: number, base: number, least: number): boolean =>
  share > least && share * (1 - base) > BRINGS_OVER * base * (1 - share);

/**
 * What else the entries are tied to: each such heading says how often what is tied to it is tied to this one. Entries tied to what never
 * goes with it are brought up by something else, or not at all. A character leads to the character's books.
 */
function byHeld(index: WeaveIndex, heading: Heading, grounds: Grounds, least: number): void {
  const { headings } = index.journal.tables;
  const { kinds } = index;
  const tied = entriesTiedTo(index.journal, heading.id);
  const base = baseShare(index, heading);
  const says = new Map<HeadingId, Evidence>();
  const beside = new Map<HeadingId, number>();
  for (const id of tied) {
    for (const other of kinds.headingsOf(id)) beside.set(other, (beside.get(other) ?? 0) + 1);
  }
  const saidBy = (other: HeadingId): Evidence => {
    const known = says.get(other);
    if (known) return known;
    const all = kinds.beside(other, heading.kind);
    const both = beside.get(other) ?? 0;
    const person = headings.get(other);
    const ofBook = person?.kind === 'person' && person.books?.includes(heading.id);
    const evidence = ofBook
      ? inBook(index, person, heading)
      : goesWith(index, other, heading.id, { both, all, base });
    says.set(other, evidence);
    return evidence;
  };
  const brought = new Set<EntryId>(grounds.keys());
  const leads = [...beside.keys(), ...charactersOf(index, heading)];
  for (const other of leads)
    if (other !== heading.id && brings(saidBy(other).share, base, least))
      entriesTiedTo(index.journal, other).forEach((id) => brought.add(id));
  for (const id of brought) {
    if (tied.has(id)) continue;
    for (const other of kinds.headingsOf(id))
      if (headings.has(other)) add(grounds, id, saidBy(other));
  }
}

function charactersOf(index: WeaveIndex, book: Heading): HeadingId[] {
  if (book.kind !== 'book') return [];
  return [...rowsNaming(index.journal, 'headings', book.id, 'headings')].filter((id) => {
    const person = index.journal.tables.headings.get(id);
    return person?.kind === 'person' && person.books?.includes(book.id);
  }) as HeadingId[];
}
