/** What narrows a search, and how many entries each value would leave. */
import type { CircleId, HeadingId, Journal } from '../journal/records';
import { readDate } from '../language/dates';
import type { Facets } from './answer';
import { useOf, type Facts } from './documents';
import type { FindQuery } from './query';

const REST_SHOWN_MONTHS = 24;

/** Which of the narrowing rows an entry passes, one bit each. */
export const PASS = { kind: 1, theme: 2, book: 4, person: 8, when: 16, use: 32 } as const;
export const ALL = 63;

/** The ISO day so many months before another. */
export function monthsBefore(isoDay: string, months: number): string {
  const [year, month, day] = isoDay.slice(0, 10).split('-').map(Number) as [number, number, number];
  const at = year * 12 + (month - 1) - months;
  const last = new Date(Date.UTC(Math.floor(at / 12), (at % 12) + 1, 0)).getUTCDate();
  return `${String(Math.floor(at / 12)).padStart(4, '0')}-${String((at % 12) + 1).padStart(2, '0')}-${String(Math.min(day, last)).padStart(2, '0')}`;
}

/** Makes a test of which rows an entry passes. Dates that cannot be read leave that row open. */
export function passer(
  journal: Journal,
  query: FindQuery,
  today: string,
): (facts: Facts) => number {
  const kinds = query.kinds?.length ? new Set<string>(query.kinds) : undefined;
  const books = query.books?.length ? new Set(query.books) : undefined;
  const from = boundOf(query.from, 'earliest');
  const to = boundOf(query.to, 'latest');
  const rested =
    query.use?.restedMonths === undefined ? undefined : monthsBefore(today, query.use.restedMonths);
  return (facts) => {
    let mask = 0;
    if (!kinds || kinds.has(facts.kind)) mask |= PASS.kind;
    if (!query.themes?.length || query.themes.every((id) => facts.themes.includes(id)))
      mask |= PASS.theme;
    if (!books || facts.books.some((id) => books.has(id))) mask |= PASS.book;
    if (!query.people?.length || query.people.every((id) => facts.people.includes(id)))
      mask |= PASS.person;
    if (within(facts, from, to)) mask |= PASS.when;
    if (usePasses(journal, facts, query.use, rested)) mask |= PASS.use;
    return mask;
  };
}

function boundOf(edtf: string | undefined, which: 'earliest' | 'latest'): string | undefined {
  if (!edtf) return undefined;
  const read = readDate(edtf);
  return read.ok ? read.date[which] : undefined;
}

function within(facts: Facts, from: string | undefined, to: string | undefined): boolean {
  if (!from && !to) return true;
  if (!facts.earliest && !facts.latest) return false;
  if (from && (facts.latest ?? facts.earliest!) < from) return false;
  return !(to && (facts.earliest ?? facts.latest!) > to);
}

function usePasses(
  journal: Journal,
  facts: Facts,
  use: FindQuery['use'],
  rested: string | undefined,
): boolean {
  if (!use) return true;
  const { last, circles } = useOf(journal, facts.id);
  if (use.never && last) return false;
  if (use.used && !last) return false;
  if (use.unusedWith && circles.includes(use.unusedWith)) return false;
  return !(rested && last && last > rested);
}

export function noFacets(circles: Iterable<CircleId>): Facets {
  return {
    kind: {},
    theme: {},
    book: {},
    person: {},
    year: {},
    use: {
      never: 0,
      used: 0,
      rested2y: 0,
      notWith: Object.fromEntries([...circles].map((id) => [id, 0])),
    },
  };
}

/**
 * Counts an entry in each row whose own choice it may ignore: kinds and books are alternatives, so their row counts what the
 * others leave; themes and people narrow together, so theirs counts what all leave.
 */
export function count(
  journal: Journal,
  facets: Facets,
  facts: Facts,
  mask: number,
  today: string,
): void {
  const passes = (own: number): boolean => (mask | own) === ALL;
  if (passes(PASS.kind)) add(facets.kind, facts.kind);
  if (passes(PASS.book)) for (const id of facts.books) add(facets.book, id);
  if (mask === ALL) {
    for (const id of facts.themes) add(facets.theme, id);
    for (const id of facts.people) add(facets.person, id);
  }
  if (passes(PASS.when) && facts.year) add(facets.year, facts.year);
  if (passes(PASS.use)) {
    const { last, circles } = useOf(journal, facts.id);
    if (last) facets.use.used += 1;
    else facets.use.never += 1;
    if (!last || last <= monthsBefore(today, REST_SHOWN_MONTHS)) facets.use.rested2y += 1;
    for (const id of Object.keys(facets.use.notWith) as CircleId[]) {
      if (!circles.includes(id)) facets.use.notWith[id] = (facets.use.notWith[id] ?? 0) + 1;
    }
  }
}

function add(counts: Record<string | HeadingId, number>, key: string): void {
  counts[key] = (counts[key] ?? 0) + 1;
}
