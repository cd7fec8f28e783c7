/** What records are called in sentences. */
import type { Entry, Heading, Records, TableName } from './records';

const ONE: Readonly<Record<TableName, string>> = {
  headings: 'heading',
  entries: 'entry',
  circles: 'circle',
  guides: 'guide',
  meetings: 'meeting',
  readings: 'reading',
  lists: 'list',
  challenges: 'challenge',
  gatherings: 'gathering',
  seals: 'seal',
  declined: 'declined tie',
  strands: 'strand',
};

const KIND: Readonly<Record<Entry['kind'], string>> = {
  note: 'note',
  quote: 'quote',
  question: 'question',
  lesson: 'lesson idea',
  assignment: 'assignment',
};

/** Stands for an entry that a guide or a meeting names: removed since, still coming from the store, or in a part that cannot be read. */
export const NOT_HERE = 'An entry that is not in the journal now';

export const nounOfKind = (kind: Entry['kind']): string => KIND[kind];

/** "entry", "lesson idea", "book": what one row is, without its name. */
export function nounOf<T extends TableName>(table: T, row?: Records[T]): string {
  if (table === 'entries' && row) return KIND[(row as Entry).kind] ?? ONE.entries;
  if (table === 'headings' && row) return (row as Heading).kind;
  return ONE[table];
}

/** "an entry", "a book". */
export const oneOf = (noun: string): string => `${/^[aeio]/.test(noun) ? 'an' : 'a'} ${noun}`;

/** "1 entry", "3 entries", "2 days". */
export function counted(count: number, noun: string): string {
  if (count === 1) return `1 ${noun}`;
  const many = /[^aeiou]y$/.test(noun) ? `${noun.slice(0, -1)}ies` : `${noun}s`;
  return `${count.toLocaleString('en-GB')} ${noun === 'declined tie' ? 'declined ties' : noun === 'person' ? 'people' : many}`;
}

/** The book "Holes", the note "We talked about…": a row as a sentence names it. */
export function labelOf<T extends TableName>(table: T, row: Records[T]): string {
  const { name, title, text, id } = row as {
    name?: string;
    title?: string;
    text?: string;
    id: string;
  };
  return `the ${nounOf(table, row)} “${shortened(name || title || text || id)}”`;
}

export function shortened(words: string, longest = 40): string {
  const plain = words.replace(/\s+/g, ' ').trim();
  return plain.length > longest ? `${plain.slice(0, longest - 1).trimEnd()}…` : plain;
}

export const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
