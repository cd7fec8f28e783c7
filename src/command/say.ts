/** How the command line tells entries to people: plain lines, wrapped for a terminal. */
import type { EntryRow } from '../engine/answers';
import type { EntryKind, Place } from '../journal/records';
import { pageSaid } from '../language/page-said';

export const KIND_NAMES: Record<EntryKind, string> = {
  note: 'Note',
  quote: 'Quote',
  question: 'Question',
  lesson: 'Lesson idea',
  assignment: 'Assignment',
};

const WIDTH = 100;

/** Breaks text into lines no wider than the terminal page, each after `indent`. */
export function wrapped(text: string, indent: string): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).filter(Boolean)) {
    if (line && indent.length + line.length + 1 + word.length > WIDTH) {
      lines.push(indent + line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  if (line) lines.push(indent + line);
  return lines;
}

export function placeSaid(place: Place | undefined): string {
  if (!place) return '';
  const parts = [
    place.chapter &&
      (/^\d+$|^[ivxlc]+$/i.test(place.chapter) ? `ch. ${place.chapter}` : `“${place.chapter}”`),
    place.page && pageSaid(place.page),
    place.note,
  ].filter(Boolean);
  return parts.length > 0 ? `, ${parts.join(', ')}` : '';
}

/** An entry in three lines or so: kind and ties, the words, why it is here. */
export function entryLines(
  row: Pick<EntryRow, 'id' | 'kind' | 'text' | 'ties'>,
  why: string[],
): string[] {
  const ties = row.ties.map((tie) => `${tie.name}${placeSaid(tie.place)}`).join('; ');
  return [
    '',
    `${KIND_NAMES[row.kind]}${ties ? ` · ${ties}` : ''}`,
    ...wrapped(row.text, '  '),
    ...wrapped(`${why.join('; ')}${why.length > 0 ? '  ' : ''}(${row.id})`, '    '),
  ];
}
