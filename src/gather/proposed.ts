/** New books and people, proposed from how they are written: a title by somebody, a signature under a quotation, a title in italics. */
import type { Place } from '../journal/records';
import type { Certainty } from '../language/certainty';
import { placesIn } from './book-places';

interface BookProposed {
  title: string;
  authors: string[];
  certainty: Certainty;
  place?: Place;
  from: number;
  to: number;
}

const INITIALS = '(?:\\p{Lu}\\.\\s?){1,4}';
const NAME_WORD = "\\p{Lu}[\\p{L}’'-]+\\.?";
const PARTICLE = '(?:de|la|le|von|van|der|du|di|of)';
const NAME = `(?:${NAME_WORD}|${INITIALS})(?:\\s(?:${INITIALS}|${PARTICLE}(?=\\s)|${NAME_WORD})){1,4}`;
const TITLE_WORD = "[\\p{Lu}\\d][\\p{L}\\d’'-]*";
const SMALL_WORD = '(?:a|an|and|as|at|by|for|from|in|into|of|on|or|the|to|with)';
const TITLE = `${TITLE_WORD}(?:,?\\s(?:${SMALL_WORD}\\s){0,3}${TITLE_WORD}){0,9}`;

const ONLY_NAME = new RegExp(`^${NAME}$`, 'u');
const ONLY_TITLE = new RegExp(`^${TITLE}$`, 'u');
const SET_OFF_BY = new RegExp(
  `(?:[*_]{1,2}|[“"‘])(?<title>${TITLE})[,.]?(?:[*_]{1,2}|[”"’]),? by (?<name>${NAME})`,
  'gu',
);
const READ_BY = new RegExp(
  `\\b(?:[Rr]e-?read|[Rr]ead|[Rr]eading|[Ff]inished|[Bb]egan|[Ss]tarted|[Bb]orrowed|[Bb]ought)\\s(?<title>${TITLE}),? by (?<name>${NAME})`,
  'gu',
);

const looksLikeName = (text: string): boolean =>
  ONLY_NAME.test(text.trim()) &&
  !/^(?:The|A|An)\s/u.test(text.trim()) &&
  !/^(?:Chapter|Part|Book|Act|Week|Term)\s/u.test(text.trim());

export const looksLikeTitle = (text: string): boolean =>
  ONLY_TITLE.test(text.trim()) &&
  !/^(?:Chapter|Week|Term|Lesson|Part|Page|Day)\s(?:\d|[IVXLC]+\b)/iu.test(text.trim());

/** Books named with who wrote them in running text. */
export function booksNamed(text: string): BookProposed[] {
  const found: BookProposed[] = [];
  for (const [form, certainty] of [
    [SET_OFF_BY, 'sure'],
    [READ_BY, 'likely'],
  ] as const) {
    for (const match of text.matchAll(form)) {
      const { title, name } = match.groups ?? {};
      if (!title || !name || found.some(({ from, to }) => match.index < to && from < match.index))
        continue;
      found.push({
        title,
        authors: [tidyName(name)],
        certainty,
        from: match.index,
        to: match.index + match[0].length,
      });
    }
  }
  return found;
}

/** Titles set in italics: two words or more, each but the small ones capital; likely where a page or chapter follows. */
export function titlesInItalics(
  text: string,
  italics: readonly (readonly [number, number])[],
): BookProposed[] {
  return italics.flatMap(([from, to]): BookProposed[] => {
    const title = text
      .slice(from, to)
      .replace(/^[*_]+|[*_]+$/gu, '')
      .replace(/[.,;:]$/u, '')
      .trim();
    if (!title.includes(' ') || !looksLikeTitle(title)) return [];
    const after = text.slice(to, to + 40);
    const placed = placesIn(after)[0];
    const near = placed && /^[*_\s,;:(]{0,5}$/u.test(after.slice(0, placed.from));
    const proposed: BookProposed = {
      title,
      authors: [],
      certainty: near ? 'likely' : 'guess',
      from,
      to,
    };
    if (near) proposed.place = placed.place;
    return [proposed];
  });
}

interface HeadingRead {
  title: string;
  authors: string[];
  certainty: Certainty;
}

/** A heading that names a book with its author: "Title by Name", "Title, Name", "Title (Name)", "Name: Title", "Title – Name". */
export function bookOfHeading(heading: string): HeadingRead | undefined {
  const text = heading
    .replace(/[*_]/gu, '')
    .replace(/^["“‘]|["”’]$/gu, '')
    .trim();
  const by = /^(?<title>.{1,100}?),? by (?<name>\p{Lu}.{2,60})$/u.exec(text);
  if (by?.groups && looksLikeName(by.groups['name'] ?? '')) {
    return {
      title: bare(by.groups['title'] ?? ''),
      authors: [tidyName(by.groups['name'] ?? '')],
      certainty: 'sure',
    };
  }
  const bracketed = /^(?<title>.{2,100}?)\s\((?<name>[^()]+)\)$/u.exec(text);
  if (bracketed?.groups)
    return pair(bracketed.groups['title'] ?? '', bracketed.groups['name'] ?? '');
  const parted = /^(?<one>.{2,80}?)(?:\s[–—-]\s|,\s|:\s)(?<two>.{2,80})$/u.exec(text);
  if (!parted?.groups) return undefined;
  const { one = '', two = '' } = parted.groups;
  return pair(one, two) ?? pair(two, one);
}

function pair(title: string, name: string): HeadingRead | undefined {
  if (!looksLikeName(name) || !looksLikeTitle(bare(title)) || looksLikeName(title)) {
    const article = /^(?:The|A|An)\s/u.test(title);
    if (!article || !looksLikeName(name)) return undefined;
  }
  return { title: bare(title), authors: [tidyName(name)], certainty: 'likely' };
}

const bare = (title: string): string => title.replace(/^["“‘*_]+|["”’*_,]+$/gu, '').trim();

function tidyName(name: string): string {
  return name
    .replace(/\s+/gu, ' ')
    .replace(/(?<=\p{Ll})\.$/u, '')
    .trim();
}

interface SignatureRead {
  name?: string;
  title?: string;
  place?: Place;
}

/** Takes a signature apart: "Kenneth Grahame, The Wind in the Willows, ch. 1". `known` says what a part is where it is known. */
export function readSignature(
  signature: string,
  known: (part: string) => 'book' | 'person' | undefined,
): SignatureRead {
  const plain = signature.replace(/[*_]/gu, '').replace(/["“”]/gu, '');
  const read: SignatureRead = {};
  let rest = plain;
  const [first] = placesIn(plain);
  if (first) {
    read.place = first.place;
    rest = `${plain.slice(0, first.from)}, ${plain.slice(first.to)}`;
  }
  for (const piece of rest.split(/[,;()]|\s[–—-]\s|\bin(?=\s\p{Lu})|\bfrom(?=\s\p{Lu})/u)) {
    const part = piece.replace(/^[\s.:]+|[\s:]+$/gu, '').replace(/(?<=\p{Ll}{2})\.$/u, '');
    if (!part || /^\d+$/u.test(part)) continue;
    const is =
      known(part) ?? (looksLikeName(part) ? 'person' : looksLikeTitle(part) ? 'book' : undefined);
    if (is === 'person' && !read.name) read.name = tidyName(part);
    else if (is === 'book' && !read.title) read.title = part;
    else if (is === 'person' && !read.title && looksLikeTitle(part)) read.title = part;
  }
  // One word alone after a dash is as likely who as what: "Tolstoy", "Candide".
  if (
    read.title &&
    !read.name &&
    !/\s/u.test(read.title) &&
    known(read.title) === undefined &&
    !read.place
  ) {
    read.name = read.title;
    delete read.title;
  }
  return read;
}
