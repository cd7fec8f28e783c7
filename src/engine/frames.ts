import frames from '../../shared/question-frames.json';
import type { Guide, GuideItem, Heading, HeadingKind, Level } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import type { Core } from './core';

/** Headings of a strand that frames name: its most central ones. */
const FEW = 3;
const ARTICLES: ReadonlySet<string> = new Set(['the', 'a', 'an']);

/** Openings of questions at a level, filled with the books, people and themes a guide is about. */
export function framesFor(engine: Core, guide: Guide, level: Level): string[] {
  const { headings, entries } = engine.journal.tables;
  const named: Record<HeadingKind, string[]> = { book: [], theme: [], person: [] };
  const called = (heading: Heading): string =>
    heading.kind === 'theme' ? withinSentence(engine, heading) : heading.name;
  const note = (id: string): void => {
    const heading = headings.get(id);
    if (heading && !named[heading.kind].includes(called(heading)))
      named[heading.kind].push(called(heading));
  };
  for (const { heading } of guide.focus.headings) note(heading);
  for (const { headings: ids } of guide.focus.strands ?? []) ids.slice(0, FEW).forEach(note);
  for (const item of guide.parts.flatMap((part) => part.items)) {
    for (const tie of (item.entry && entries.get(item.entry)?.ties) || []) note(tie.heading);
  }
  const [book = 'the book', other = 'another book we have read'] = named.book;
  const people = named.person.length > 0 ? named.person : ['the person in question'];
  const theme = named.theme[0] ?? 'this';
  return frames[level].map((frame, index) =>
    frame
      .replaceAll('{person}', people[index % people.length]!)
      .replaceAll('{book}', book)
      .replaceAll('{other}', other)
      .replaceAll('{theme}', theme),
  );
}

/**
 * A theme's name within a sentence: it begins small where it begins with an article, or with a word that the theme's entries write small and
 * nowhere large but at the beginning of a sentence. Names within it stay as they are.
 */
function withinSentence({ journal }: Core, { id, name }: Heading): string {
  const [first] = /^\p{Lu}\p{Ll}*(?![\p{L}’'-])/u.exec(name) ?? [];
  if (first === undefined) return name;
  const small = first.toLocaleLowerCase('en-GB');
  const begunSmall = small + name.slice(first.length);
  if (ARTICLES.has(small)) return begunSmall;
  const word = (text: string): RegExp => new RegExp(`(?<!\\p{L})${text}(?!\\p{L})`, 'u');
  const [plain, named] = [word(small), new RegExp(`[\\p{L},;] ${word(first).source}`, 'u')];
  const texts = [...entriesTiedTo(journal, id)].map(
    (entry) => journal.tables.entries.get(entry)?.text ?? '',
  );
  const ordinary =
    texts.some((text) => plain.test(text)) && !texts.some((text) => named.test(text));
  return ordinary ? begunSmall : name;
}

/** Whether own words in a guide are still a frame: the place to be filled stands open between spaces. */
export const isFrame = (item: GuideItem): boolean =>
  item.entry === undefined && /\s…(?=[\s.?!]|$)/.test(item.text ?? '');
