/** Small words for numbers and times, the same on every screen. */
import type { EntryKind, Level } from '../journal/records';
import { pageSaid } from '../language/page-said';

const numbers = new Intl.NumberFormat('en-GB');

export const number = (value: number): string => numbers.format(value);

/** "1 entry", "3,206 entries". */
export function counted(value: number, one: string, many = `${one}s`): string {
  return `${number(value)} ${value === 1 ? one : many}`;
}

/** Local clock time of an ISO time, "10.42". */
export function clock(iso: string): string {
  const at = new Date(iso);
  return `${at.getHours()}.${String(at.getMinutes()).padStart(2, '0')}`;
}

export const KIND_SAYS: Record<EntryKind, string> = {
  note: 'Note',
  quote: 'Quote',
  question: 'Question',
  lesson: 'Lesson idea',
  assignment: 'Assignment',
};

export const KINDS_SAY: Record<EntryKind, string> = {
  note: 'notes',
  quote: 'quotes',
  question: 'questions',
  lesson: 'lesson ideas',
  assignment: 'assignments',
};

export const LEVEL_SAYS: Record<Level, string> = {
  remember: 'Remember',
  understand: 'Understand',
  apply: 'Apply',
  analyse: 'Analyse',
  evaluate: 'Evaluate',
  create: 'Create',
};

/** "ch. 13", "ch. xiii"; a chapter with a name is told by its name. */
export const chapterSaid = (chapter: string): string =>
  /^\s*(\d+|[ivxlc]+)\b/i.test(chapter) && chapter.length < 12 ? `ch. ${chapter}` : `“${chapter}”`;

/** "ch. 13", "p. 61", "ch. 13, pp. 61–63". */
export function placeSaid(
  place: { page?: string; chapter?: string; note?: string } | undefined,
): string {
  if (!place) return '';
  const parts = [
    place.chapter ? chapterSaid(place.chapter) : '',
    place.page ? pageSaid(place.page) : '',
    place.note ?? '',
  ];
  return parts.filter(Boolean).join(', ');
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** Local day of an ISO time, "14 Mar 2024". */
export function sayDay(iso: string): string {
  const at = new Date(iso);
  return `${at.getDate()} ${MONTHS[at.getMonth()]} ${at.getFullYear()}`;
}

/** A plain EDTF day as "14 Mar 2024"; anything vaguer is shown as it was given. */
export function sayPlainDate(edtf: string): string {
  const day = /^(\d{4})-(\d{2})-(\d{2})$/.exec(edtf);
  if (day) return `${Number(day[3])} ${MONTHS[Number(day[2]) - 1]} ${day[1]}`;
  const month = /^(\d{4})-(0[1-9]|1[0-2])$/.exec(edtf);
  if (month) return `${MONTHS[Number(month[2]) - 1]} ${month[1]}`;
  return edtf;
}

/** "Used twice" and "last 14 Mar 2024". */
export function usesSaid(uses: { times: number; last?: string }): { first: string; then?: string } {
  if (uses.times === 0 || !uses.last) return { first: 'Never used' };
  const last = sayPlainDate(uses.last);
  if (uses.times === 1) return { first: 'Used once', then: last };
  const often = uses.times === 2 ? 'twice' : `${uses.times} times`;
  return { first: `Used ${often}`, then: `last ${last}` };
}
