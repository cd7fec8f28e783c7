import frames from '../../shared/question-frames.json';
import type { Guide, GuideItem, HeadingKind, Level } from '../journal/records';
import type { Core } from './core';

/** Headings of a strand that frames name: its most central ones. */
const FEW = 3;

/** Openings of questions at a level, filled with the books, people and themes a guide is about. */
export function framesFor(engine: Core, guide: Guide, level: Level): string[] {
  const { headings, entries } = engine.journal.tables;
  const named: Record<HeadingKind, string[]> = { book: [], theme: [], person: [] };
  const note = (id: string): void => {
    const heading = headings.get(id);
    if (heading && !named[heading.kind].includes(heading.name))
      named[heading.kind].push(heading.name);
  };
  for (const { heading } of guide.focus.headings) note(heading);
  for (const { headings: ids } of guide.focus.strands ?? []) ids.slice(0, FEW).forEach(note);
  for (const item of guide.parts.flatMap((part) => part.items)) {
    for (const tie of (item.entry && entries.get(item.entry)?.ties) || []) note(tie.heading);
  }
  const [book = 'the book', other = 'another book we have read'] = named.book;
  const people = named.person.length > 0 ? named.person : ['the person in question'];
  const theme = named.theme[0]?.toLocaleLowerCase('en-GB') ?? 'this';
  return frames[level].map((frame, index) =>
    frame
      .replaceAll('{person}', people[index % people.length]!)
      .replaceAll('{book}', book)
      .replaceAll('{other}', other)
      .replaceAll('{theme}', theme),
  );
}

/** Whether own words in a guide are still a frame: the place to be filled stands open between spaces. */
export const isFrame = (item: GuideItem): boolean =>
  item.entry === undefined && /\s…(?=[\s.?!]|$)/.test(item.text ?? '');
