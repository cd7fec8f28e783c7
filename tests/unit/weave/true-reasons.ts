/**
 * Whether a reason is true, found out from the records alone: rows are gone through one by one, none of the weave's tables or
 * indexes are used. Each check answers with what is wrong, or nothing.
 */
import type {
  Entry,
  EntryId,
  Heading,
  HeadingId,
  Journal,
  ThemeHeading,
} from '../../../src/journal/records';
import relatedWords from '../../../shared/thesaurus/related-words.json';
import { RelatedWords } from '../../../src/language/related-words';
import { withoutArticle } from '../../../src/language/filing';
import { plainText } from '../../../src/language/markdown';
import { stem } from '../../../src/language/stem';
import { fold, tokens } from '../../../src/language/tokens';
import type { Reason } from '../../../src/weave/reason';
import type { Seeds } from '../../../src/weave/seeds';

/** The thesaurus that the weave is to use where reasons are checked. */
export const thesaurus = new RelatedWords(relatedWords);

const shown = (entry: Entry): string => `${plainText(entry.title ?? '')}\n${plainText(entry.text)}`;
const wordsIn = (text: string): Set<string> => new Set(tokens(text).map(({ folded }) => folded));
const remembered = new Map<string, Set<string>>();
function stemsIn(text: string): Set<string> {
  const known = remembered.get(text);
  if (known) return known;
  const found = new Set(tokens(text).map(({ folded }) => stem(folded)));
  remembered.set(text, found);
  return found;
}
const has = (entry: Entry, id: HeadingId): boolean => entry.ties.some((tie) => tie.heading === id);
const all = (journal: Journal): Entry[] => [...journal.tables.entries.values()];
const numberIn = (text: string): number => Number(/(\d+) entr(?:y|ies)/.exec(text)?.[1]);
const themeOf = (journal: Journal, id: HeadingId): ThemeHeading | undefined => {
  const heading = journal.tables.headings.get(id);
  return heading?.kind === 'theme' ? heading : undefined;
};

/** Whether `under` leads up to `over` by broader themes, in at most as many steps as there are headings. */
function under(journal: Journal, id: HeadingId, over: HeadingId): boolean {
  let level = new Set([id]);
  for (let step = 0; step <= journal.tables.headings.size; step++) {
    level = new Set([...level].flatMap((each) => themeOf(journal, each)?.broader ?? []));
    if (level.has(over)) return true;
  }
  return false;
}

function relationTrue(journal: Journal, how: string, id: HeadingId, other: HeadingId): boolean {
  if (how.includes('narrower than')) return under(journal, id, other);
  if (how.includes('broader than')) return under(journal, other, id);
  if (!how.includes('related to')) return false;
  const [a, b] = [themeOf(journal, id), themeOf(journal, other)];
  return Boolean(a?.related.includes(other) || b?.related.includes(id));
}

function writtenBy(journal: Journal, book: HeadingId, author: HeadingId): boolean {
  const heading = journal.tables.headings.get(book);
  return heading?.kind === 'book' && heading.authors.includes(author);
}

interface Case {
  journal: Journal;
  seeds: Seeds;
  seedEntries: Entry[];
  /** Headings asked for and those the seed entries have. */
  seedHeadings: Set<HeadingId>;
  seedText: string;
  reason: Reason;
}

function caseOf(journal: Journal, seeds: Seeds, reason: Reason): Case {
  const seedEntries = (seeds.entries ?? []).flatMap((id) => journal.tables.entries.get(id) ?? []);
  const tied = seedEntries.flatMap((entry) => entry.ties.map((tie) => tie.heading));
  const seedHeadings = new Set([...(seeds.headings ?? []), ...tied]);
  const seedText = [...seedEntries.map(shown), seeds.text ?? ''].join('\n');
  return { journal, seeds, seedEntries, seedHeadings, seedText, reason };
}

function nameProblem({ journal, reason }: Case, ids: readonly HeadingId[]): string | undefined {
  const missing = ids.find((id) => {
    const heading = journal.tables.headings.get(id);
    return !heading || !reason.text.includes(heading.name);
  });
  return missing && `does not name ${missing}`;
}

export function entryReasonProblem(
  journal: Journal,
  seeds: Seeds,
  id: EntryId,
  reason: Reason,
): string | undefined {
  const one = caseOf(journal, seeds, reason);
  const entry = journal.tables.entries.get(id);
  if (!entry) return 'no such entry';
  const ids = reason.headings ?? [];
  const [first, second, third] = ids;
  const { seedEntries, seedHeadings } = one;
  switch (reason.code) {
    case 'shares-heading': {
      const shared = ids.every((each) => has(entry, each) && seedEntries.some((s) => has(s, each)));
      return shared && ids.length > 0 ? nameProblem(one, ids) : 'not shared';
    }
    case 'same-chapter': {
      const chapters = (each: Entry): string[] =>
        each.ties.flatMap(({ heading, place }) =>
          heading === first && place?.chapter ? [fold(place.chapter).trim()] : [],
        );
      const seeded = new Set(seedEntries.flatMap(chapters));
      const shared = chapters(entry).find((chapter) => seeded.has(chapter));
      if (shared === undefined) return 'another chapter';
      return fold(reason.text).includes(shared) ? nameProblem(one, ids) : 'chapter not told';
    }
    case 'by-same': {
      if (!first || !second || !third || first === third) return 'not three headings';
      const wrote = writtenBy(journal, first, second) && writtenBy(journal, third, second);
      if (!wrote || !has(entry, first) || !seedHeadings.has(third)) return 'not by the same';
      return nameProblem(one, ids);
    }
    case 'narrower': {
      if (!first || !second || !has(entry, first) || !seedHeadings.has(second)) return 'not tied';
      const true_ = relationTrue(journal, reason.text, first, second);
      return true_ ? nameProblem(one, ids) : 'no such relation';
    }
    case 'linked':
      return linkedProblem(one, entry);
    case 'asked-together':
      return togetherProblem(one, entry);
    case 'shares-words':
      return wordsProblem(one, shown(entry));
  }
}

/** Whether a text has a name of the heading, an initial article aside, word by word. */
function namedIn(journal: Journal, id: HeadingId, text: string): boolean {
  const heading = journal.tables.headings.get(id)!;
  const plain = (words: string): string =>
    ` ${tokens(words)
      .map(({ folded }) => folded.replace(/'s$/, ''))
      .join(' ')} `;
  const names = [heading.name, ...heading.alternates].map((name) => plain(withoutArticle(name)));
  return names.some((name) => name.trim() !== '' && plain(text).includes(name));
}

function linkedProblem(one: Case, entry: Entry): string | undefined {
  const { journal, reason, seeds, seedHeadings } = one;
  const [first, second] = reason.headings ?? [];
  if (!first || !has(entry, first)) return 'not tied';
  if (!second) {
    const asked = seeds.headings?.includes(first) || namedIn(journal, first, seeds.text ?? '');
    return asked ? nameProblem(one, [first]) : 'not asked for';
  }
  if (!seedHeadings.has(second)) return 'not a heading of the seeds';
  if (reason.text.includes('goes with')) {
    const both = all(journal).filter((each) => has(each, first) && has(each, second)).length;
    if (both !== numberIn(reason.text)) return `${both} entries have both`;
  } else if (!relationTrue(journal, reason.text, first, second)) return 'not related';
  return nameProblem(one, [first, second]);
}

function togetherProblem(one: Case, entry: Entry): string | undefined {
  const { journal, reason, seedEntries } = one;
  const found = [...journal.tables.meetings.values()].some((meeting) => {
    if (meeting.on !== reason.on) return false;
    const circle = journal.tables.circles.get(meeting.circle);
    if (circle && !reason.text.includes(circle.name)) return false;
    const used = new Set(meeting.items.filter((item) => item.used).map((item) => item.entry));
    if (!used.has(entry.id)) return false;
    return seedEntries.some((seed) => {
      if (seed.id === entry.id || !used.has(seed.id)) return false;
      const asked = seed.kind === 'question' && entry.kind === 'question';
      return asked || reason.text.startsWith('used together');
    });
  });
  return found ? undefined : 'no such meeting';
}

function wordsProblem({ reason, seedText }: Case, text: string): string | undefined {
  const words = reason.words ?? [];
  if (words.length === 0) return 'no words';
  const own = wordsIn(text);
  if (!words.every((word) => own.has(fold(word)) && reason.text.includes(`“${word}”`))) {
    return 'a word is not in the entry';
  }
  const other = /, beside “(.+)”$/.exec(reason.text)?.[1];
  const seeded = wordsIn(seedText);
  const told = other === undefined ? words : [other];
  return told.every((word) => seeded.has(fold(word))) ? undefined : 'a word is not in the seeds';
}

export function headingReasonProblem(
  journal: Journal,
  seeds: Seeds,
  id: HeadingId,
  reason: Reason,
): string | undefined {
  const one = caseOf(journal, seeds, reason);
  const heading = journal.tables.headings.get(id);
  if (!heading) return 'no such heading';
  const [first, second, third] = reason.headings ?? [];
  switch (reason.code) {
    case 'shares-heading': {
      if (first !== id || !second || !one.seedHeadings.has(second)) return 'not of the seeds';
      const both = all(journal).filter((each) => has(each, id) && has(each, second)).length;
      return both === numberIn(reason.text) ? nameProblem(one, [second]) : `${both} have both`;
    }
    case 'narrower':
    case 'linked': {
      if (first !== id || !second || !one.seedHeadings.has(second)) return 'not of the seeds';
      const other = journal.tables.headings.get(second);
      const joined =
        other &&
        (joinedTrue(heading, other, reason) || relationTrue(journal, reason.text, id, second));
      return joined ? nameProblem(one, [second]) : 'not joined';
    }
    case 'by-same': {
      if (first !== id || !second || !third || third === id) return 'not three headings';
      const wrote = writtenBy(journal, id, second) && writtenBy(journal, third, second);
      return wrote && one.seedHeadings.has(third)
        ? nameProblem(one, [second, third])
        : 'not by the same';
    }
    case 'shares-words': {
      const names = [heading.name, ...heading.alternates].map((name) => wordsIn(name));
      const seeded = wordsIn(one.seedText);
      const words = (reason.words ?? []).map(fold);
      const named = names.some((own) => words.every((word) => own.has(word)));
      return words.length > 0 && named && words.every((word) => seeded.has(word))
        ? undefined
        : 'not named';
    }
    default:
      return `no reason for a heading: ${reason.code}`;
  }
}

function joinedTrue(heading: Heading, other: Heading, { text }: Reason): boolean {
  const wrote = (book: Heading, person: Heading): boolean =>
    book.kind === 'book' && book.authors.includes(person.id);
  const isIn = (person: Heading, book: Heading): boolean =>
    person.kind === 'person' && Boolean(person.books?.includes(book.id));
  if (text.startsWith('wrote ')) return wrote(other, heading);
  if (text.startsWith('by ')) return wrote(heading, other);
  if (text.startsWith('is in ')) return isIn(heading, other);
  return text.endsWith(' in it') && isIn(other, heading);
}

/** A reason for tying a text with these ties to a heading. */
export function proposalReasonProblem(
  journal: Journal,
  text: string,
  ties: readonly HeadingId[],
  id: HeadingId,
  reason: Reason,
): string | undefined {
  const one = caseOf(journal, { text }, reason);
  const heading = journal.tables.headings.get(id)!;
  const [first, second] = reason.headings ?? [];
  if (reason.code === 'shares-heading') {
    if (!first || second !== id || !ties.includes(first)) return 'not tied';
    const tied = all(journal).filter((each) => has(each, first));
    const both = tied.filter((each) => has(each, id)).length;
    const told = reason.text.includes(`; ${both} of its ${tied.length} `);
    return told ? nameProblem(one, [first, id]) : `${both} of ${tied.length} have both`;
  }
  if (reason.code === 'linked') {
    const person = first && journal.tables.headings.get(first);
    const inBook = person && person.kind === 'person' && person.books?.includes(id);
    return inBook && second === id && ties.includes(first)
      ? nameProblem(one, [first, id])
      : 'not linked';
  }
  if (reason.code === 'common') {
    const kind = (each: HeadingId): string | undefined => journal.tables.headings.get(each)?.kind;
    const like = all(journal).filter(({ ties }) =>
      ties.some((tie) => kind(tie.heading) === heading.kind),
    );
    const own = all(journal).filter((each) => has(each, id)).length;
    const told = reason.text.includes(`on ${own} of the ${like.length} entr`);
    return told && reason.text.includes(heading.kind) ? undefined : `on ${own} of ${like.length}`;
  }
  if (reason.code !== 'shares-words') return `no reason for a proposal: ${reason.code}`;
  const words = reason.words ?? [];
  if (reason.text.startsWith('has ')) {
    const [word = ''] = words;
    if (!text.includes(word)) return 'words not in the text';
    if (reason.text.endsWith(' in meaning')) {
      const near = [heading.name, ...heading.alternates].flatMap((name) =>
        thesaurus.of(fold(name)),
      );
      const known = near.some((one) => stem(one.word) === stem(fold(word)));
      return known ? nameProblem(one, [id]) : 'not near in the thesaurus';
    }
    const close = reason.text.includes(', close to ');
    const names = [heading.name, ...heading.alternates].map((name) => ({
      words: tokens(name).map(({ folded }) => folded.replace(/'s$/, '')),
    }));
    const told = tokens(word).map(({ folded }) => folded.replace(/'s$/, ''));
    const same = (as: (word: string) => string): boolean =>
      names.some(({ words: name }) => name.map(as).join(' ').endsWith(told.map(as).join(' ')));
    return same(close ? stem : (each) => each) ? undefined : 'no name of the heading';
  }
  const own = wordsIn(text);
  if (words.length === 0 || !words.every((word) => own.has(fold(word)))) return 'words not in text';
  const stems = words.map((word) => stem(fold(word)));
  const having = all(journal).filter((entry) => {
    if (!has(entry, id)) return false;
    const theirs = stemsIn(shown(entry));
    return stems.some((each) => theirs.has(each));
  }).length;
  return having === numberIn(reason.text) ? nameProblem(one, [id]) : `${having} entries have them`;
}
