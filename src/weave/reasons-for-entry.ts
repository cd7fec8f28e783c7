/** Why an entry is near to the seeds: each reason is read off the journal as it stands, never off a score. */
import type { Entry, EntryId, HeadingId, HeadingKind, Tie } from '../journal/records';
import { entriesTiedTo, usesOf } from '../journal/uses';
import { sayDate } from '../language/dates';
import { tokens } from '../language/tokens';
import { chapterKey } from './links';
import { quoted, sayChapter, sayEntries, sayList, type Reason } from './reason';
import { nameOf, strongest, themeRelation, type Weighed } from './relations';
import type { SeedView } from './seeds';
import { wordsOf } from './shown';
import { tiedToBoth } from './tied-to-both';
import type { WeaveIndex } from './weave-index';
import { rarity, ROLE_WEIGHT } from './weights';
import { tellingStem } from './words';

const NAMES_TOLD = 3;
const WORDS_TOLD = 3;
/** Words in more than this share of a journal's entries are no reason, once there are entries enough to tell. */
const COMMON = 0.2;
const ENOUGH = 25;
/** Strengths by which reasons are ordered, beside those of shared headings (their weight × rarity). Our own settings. */
const STRENGTH = {
  together: 2,
  chapter: 1.2,
  narrower: 0.35,
  related: 0.3,
  sameAuthor: 0.12,
  goesWith: 0.05,
};

export function reasonsForEntry(index: WeaveIndex, view: SeedView, id: EntryId): Reason[] {
  const entry = index.journal.tables.entries.get(id);
  if (!entry) return [];
  const chapter = sameChapter(index, view, entry);
  const found = [
    ...together(index, view, entry),
    ...chapter,
    ...tiedToAsked(index, view, entry),
    ...shared(index, view, entry, new Set(chapter.flatMap(({ reason }) => reason.headings ?? []))),
    ...relatedThemes(index, view, entry),
    ...sameAuthor(index, view, entry),
    ...sharedWords(index, view, entry),
  ];
  return strongest(found.length > 0 ? found : besideEntry(index, view, entry));
}

function together(index: WeaveIndex, view: SeedView, entry: Entry): Weighed[] {
  const { circles, meetings } = index.journal.tables;
  const seeds = new Map(view.entries.map((seed) => [seed.id, seed]));
  for (const { meeting, circle, on } of usesOf(index.journal, entry.id).meetings) {
    const other = meetings
      .get(meeting)
      ?.items.find(
        (item) => item.used && item.entry && item.entry !== entry.id && seeds.has(item.entry),
      );
    if (!other?.entry) continue;
    const asked = entry.kind === 'question' && seeds.get(other.entry)?.kind === 'question';
    const circleName = circles.get(circle)?.name;
    const whom = circleName ? ` with ${circleName}` : '';
    const text = `${asked ? 'asked' : 'used'} together${whom}, ${sayDate(on)}`;
    return [{ strength: STRENGTH.together, reason: { code: 'asked-together', text, on } }];
  }
  return [];
}

function sameChapter(index: WeaveIndex, view: SeedView, entry: Entry): Weighed[] {
  const tie = entry.ties.find((each) => {
    const key = chapterKey(each);
    return key !== undefined && view.chapters.has(key);
  });
  if (!tie?.place?.chapter) return [];
  const where = sayChapter(tie.place.chapter);
  const text = `also on ${where} of ${nameOf(index, tie.heading)}`;
  return [
    { strength: STRENGTH.chapter, reason: { code: 'same-chapter', text, headings: [tie.heading] } },
  ];
}

/** How much a tie says: by its role and the rarity of its heading. */
function weightOf(index: WeaveIndex, tie: Tie): number {
  return ROLE_WEIGHT[tie.role] * rarity(entriesTiedTo(index.journal, tie.heading).size);
}

function tiedToAsked(index: WeaveIndex, view: SeedView, entry: Entry): Weighed[] {
  const { headings } = index.journal.tables;
  const asked = new Set([...view.headings, ...view.named]);
  const done = new Set<HeadingId>();
  return entry.ties.flatMap((tie): Weighed[] => {
    const heading = headings.get(tie.heading);
    if (!heading || done.has(tie.heading)) return [];
    done.add(tie.heading);
    if (asked.has(tie.heading)) {
      const text = `tied to ${heading.kind} ${heading.name}`;
      const strength = 1 + weightOf(index, tie);
      return [{ strength, reason: { code: 'linked', text, headings: [tie.heading] } }];
    }
    return [];
  });
}

const MANY: Readonly<Record<HeadingKind, string>> = {
  book: 'books',
  theme: 'themes',
  person: 'people',
};

/** Headings that the entry and a seed entry are both tied to, a reason for each kind of heading, rarest names first. */
function shared(
  index: WeaveIndex,
  view: SeedView,
  entry: Entry,
  told: ReadonlySet<HeadingId>,
): Weighed[] {
  const kinds = new Map<HeadingKind, Map<HeadingId, number>>();
  for (const tie of entry.ties) {
    const seedTies = view.tied.get(tie.heading);
    const heading = index.journal.tables.headings.get(tie.heading);
    if (!seedTies || !heading || told.has(tie.heading)) continue;
    const strength = Math.min(
      weightOf(index, tie),
      Math.max(...seedTies.map((each) => weightOf(index, each))),
    );
    const held = kinds.get(heading.kind) ?? new Map<HeadingId, number>();
    held.set(tie.heading, Math.max(strength, held.get(tie.heading) ?? 0));
    kinds.set(heading.kind, held);
  }
  return [...kinds].map(([kind, found]): Weighed => {
    const sorted = [...found].sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1));
    const ids = sorted.slice(0, NAMES_TOLD).map(([id]) => id);
    const names = sayList(ids.map((id) => nameOf(index, id)));
    const text = `shares ${ids.length > 1 ? MANY[kind] : kind} ${names}`;
    const strength = sorted.reduce((sum, [, each]) => sum + each, 0);
    return { strength, reason: { code: 'shares-heading', text, headings: ids } };
  });
}

/** Themes of the entry that are under, over or related to a theme of the seeds. */
function relatedThemes(index: WeaveIndex, view: SeedView, entry: Entry): Weighed[] {
  const own = [...view.headings, ...view.tied.keys()].sort();
  const mine = new Set(entry.ties.map((tie) => tie.heading));
  for (const id of [...mine].sort()) {
    if (view.tied.has(id) || view.headings.includes(id)) continue;
    for (const seed of own) {
      if (mine.has(seed)) continue;
      const found = themeRelation(index, id, seed);
      if (!found) continue;
      const { code, how } = found;
      const text = `tied to ${nameOf(index, id)}, ${how} ${nameOf(index, seed)}`;
      const strength = code === 'narrower' ? STRENGTH.narrower : STRENGTH.related;
      return [{ strength, reason: { code, text, headings: [id, seed] } }];
    }
  }
  return [];
}

/** A book of the entry by an author of another book of the seeds. */
function sameAuthor(index: WeaveIndex, view: SeedView, entry: Entry): Weighed[] {
  for (const { heading: id } of entry.ties) {
    const book = index.journal.tables.headings.get(id);
    if (book?.kind !== 'book' || view.tied.has(id) || view.headings.includes(id)) continue;
    for (const author of book.authors) {
      const [other] = view.authors.get(author) ?? [];
      if (!other) continue;
      const text = `tied to ${book.name}, by ${nameOf(index, author)} like ${nameOf(index, other)}`;
      const headings = [id, author, other];
      return [{ strength: STRENGTH.sameAuthor, reason: { code: 'by-same', text, headings } }];
    }
  }
  return [];
}

/**
 * Words in common, rarest first. Only words that both have in the same form are told as shared; where there is none, one word
 * of the same stem is told beside the seeds' form of it.
 */
function sharedWords(index: WeaveIndex, view: SeedView, entry: Entry): Weighed[] {
  if (view.words.size === 0) return [];
  const { words } = index;
  const common = words.size >= ENOUGH ? COMMON * words.size : Infinity;
  const found = new Map<string, { word: string; folded: string; same: boolean; idf: number }>();
  for (const { folded, text } of tokens(wordsOf(entry))) {
    const stem = tellingStem(folded);
    const seeds = stem === undefined ? undefined : view.words.get(stem);
    if (stem === undefined || !seeds || words.count(stem) > common) continue;
    const same = seeds.has(folded);
    const held = found.get(stem);
    if (!held || (same && !held.same))
      found.set(stem, { word: text, folded, same, idf: words.idf(stem) });
  }
  const sorted = [...found].sort(([a, x], [b, y]) => y.idf - x.idf || (a < b ? -1 : 1));
  const alike = sorted.filter(([, { same }]) => same).slice(0, WORDS_TOLD);
  const strength = sorted.reduce((sum, [, { idf }]) => sum + idf, 0) / 20;
  if (alike.length > 0) {
    const told = alike.map(([, { word }]) => word);
    const text = `shares the ${told.length > 1 ? 'words' : 'word'} ${quoted(told)}`;
    return [{ strength, reason: { code: 'shares-words', text, words: told } }];
  }
  const [first] = sorted;
  if (!first) return [];
  const [stem, { word }] = first;
  const other = [...view.words.get(stem)!].sort()[0]!;
  const text = `has “${word}”, beside “${other}”`;
  return [{ strength: strength / 2, reason: { code: 'shares-words', text, words: [word] } }];
}

/** Where nothing is shared: a heading of the entry that goes with one of the seeds in other entries. */
function besideEntry(index: WeaveIndex, view: SeedView, entry: Entry): Weighed[] {
  const own = [...view.headings, ...view.tied.keys()];
  let [most, told]: [number, [HeadingId, HeadingId] | undefined] = [0, undefined];
  for (const id of new Set(entry.ties.map((tie) => tie.heading))) {
    if (!index.journal.tables.headings.has(id)) continue;
    for (const seed of own) {
      const both = tiedToBoth(index.journal, id, seed);
      if (both > most) [most, told] = [both, [id, seed]];
    }
  }
  if (!told) return [];
  const [id, seed] = told;
  const text = `tied to ${nameOf(index, id)}, which goes with ${nameOf(index, seed)} in ${sayEntries(most)}`;
  return [{ strength: STRENGTH.goesWith, reason: { code: 'linked', text, headings: [id, seed] } }];
}
