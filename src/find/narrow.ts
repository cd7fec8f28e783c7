/** What narrows a search, and how many entries each value would leave. */
import type { CircleId, EntryId } from '../journal/records';
import { readDate } from '../language/dates';
import type { Facets } from './answer';
import type { Facts, Used } from './documents';
import type { FindQuery } from './query';

type UsedEntries = ReadonlyMap<EntryId, Used>;

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
  query: FindQuery,
  today: string,
  used: UsedEntries,
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
    if (!query.use || usePasses(used.get(facts.id), query.use, rested)) mask |= PASS.use;
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
  // An end that is open or not known may lie anywhere.
  if (from && facts.latest && facts.latest < from) return false;
  return !(to && facts.earliest && facts.earliest > to);
}

function usePasses(
  used: Used | undefined,
  use: NonNullable<FindQuery['use']>,
  rested: string | undefined,
): boolean {
  if (!used) return !use.used;
  if (use.never) return false;
  if (use.unusedWith && used.circles.has(use.unusedWith)) return false;
  return !(rested && used.last > rested);
}

/**
 * Counts entries in each row whose own choice it may ignore: kinds and books are alternatives, so their row counts
 * what the others leave; themes and people narrow together, so theirs count what all leave.
 */
export class FacetCount {
  #kind = new Map<string, number>();
  #theme = new Map<string, number>();
  #book = new Map<string, number>();
  #person = new Map<string, number>();
  #year = new Map<string, number>();
  #open = 0;
  #used = 0;
  #tired = 0;
  #with = new Map<CircleId, number>();
  readonly #restedBy: string;

  constructor(
    readonly circles: readonly CircleId[],
    today: string,
    readonly entries: UsedEntries,
  ) {
    this.#restedBy = monthsBefore(today, REST_SHOWN_MONTHS);
  }

  add(facts: Facts, mask: number): void {
    if ((mask | PASS.kind) === ALL) plus(this.#kind, facts.kind);
    if ((mask | PASS.book) === ALL) for (const id of facts.books) plus(this.#book, id);
    if (mask === ALL) {
      for (const id of facts.themes) plus(this.#theme, id);
      for (const id of facts.people) plus(this.#person, id);
    }
    if ((mask | PASS.when) === ALL && facts.year) plus(this.#year, facts.year);
    if ((mask | PASS.use) !== ALL) return;
    this.#open += 1;
    const used = this.entries.get(facts.id);
    if (!used) return;
    this.#used += 1;
    if (used.last > this.#restedBy) this.#tired += 1;
    for (const circle of used.circles) plus(this.#with, circle);
  }

  told(): Facets {
    return {
      kind: Object.fromEntries(this.#kind),
      theme: Object.fromEntries(this.#theme) as Facets['theme'],
      book: Object.fromEntries(this.#book) as Facets['book'],
      person: Object.fromEntries(this.#person) as Facets['person'],
      year: Object.fromEntries(this.#year),
      use: {
        never: this.#open - this.#used,
        used: this.#used,
        rested2y: this.#open - this.#tired,
        notWith: Object.fromEntries(
          this.circles.map((id) => [id, this.#open - (this.#with.get(id) ?? 0)]),
        ),
      },
    };
  }
}

function plus<K>(counts: Map<K, number>, key: K): void {
  counts.set(key, (counts.get(key) ?? 0) + 1);
}
